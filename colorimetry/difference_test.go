package colorimetry

import (
	"math"
	"testing"
)

// The 34 pairs of Sharma, Wu and Dalal 2005, table 1: they hold every branch
// of the mean hue and of the hue step across 0/360 degrees. Swapped, they
// must give the same.
func TestCIEDE2000GivesThePublishedPairsBothWaysRound(t *testing.T) {
	for _, r := range table(t, "ciede2000_sharma2005", 34) {
		a, b := r.lab("L1", "a1", "b1"), r.lab("L2", "a2", "b2")
		near(t, r.num("dE00"), DeltaE2000(a, b), 5e-5, "%s", r.name)
		near(t, r.num("dE00_10dp"), DeltaE2000(a, b), 1e-9, "%s", r.name)
		near(t, r.num("dE00_10dp"), DeltaE2000(b, a), 1e-9, "%s, swapped", r.name)
	}
}

func TestCIEDE2000GivesThePublishedIntermediates(t *testing.T) {
	pairs := table(t, "ciede2000_sharma2005", 34)
	for i, r := range table(t, "ciede2000_sharma2005_intermediates", 34) {
		p := pairs[i]
		s := ciede2000(p.lab("L1", "a1", "b1"), p.lab("L2", "a2", "b2"))
		for column, got := range map[string]float64{
			"a1p": s.a1, "C1p": s.c1, "h1p_deg": s.h1, "a2p": s.a2, "C2p": s.c2, "h2p_deg": s.h2, "hbar_deg": s.hMean,
			"G": s.g, "T": s.t, "SL": s.sL, "SC": s.sC, "SH": s.sH, "RT": s.rT,
		} {
			near(t, r.num(column), got, 1e-5, "%s of %s", column, r.name)
		}
	}
}

func TestCIEDE2000GivesLargeAndOppositeHuePairs(t *testing.T) {
	for _, r := range table(t, "ciede2000_extra", 23) {
		tol := 1e-8
		if r.fields["src"] == "icc" {
			tol = 5e-5
		}
		near(t, r.num("dE00"), DeltaE2000(r.lab("L1", "a1", "b1"), r.lab("L2", "a2", "b2")), tol, "%s", r.name)
	}
}

func TestCIE76AndCIE94GiveThePublishedPairs(t *testing.T) {
	for _, r := range table(t, "cie76_cie94_pairs", 16) {
		a, b := r.lab("L1", "a1", "b1"), r.lab("L2", "a2", "b2")
		near(t, r.num("dE76"), DeltaE76(a, b), 1e-8, "%s", r.name)
		near(t, r.num("dE94_graphic"), DeltaE94(a, b, GraphicArts), 1e-8, "%s", r.name)
		near(t, r.num("dE94_textile"), DeltaE94(a, b, Textiles), 1e-8, "%s", r.name)
	}
}

func TestAllDifferencesAgreeWithTwoOtherLibraries(t *testing.T) {
	for _, r := range table(t, "delta_e_crosscheck_colorjs_culori", 60) {
		a, b := r.lab("L1", "a1", "b1"), r.lab("L2", "a2", "b2")
		near(t, r.num("dE76"), DeltaE76(a, b), 1e-8, "%s", r.name)
		near(t, r.num("dE94_graphic"), DeltaE94(a, b, GraphicArts), 1e-8, "%s", r.name)
		near(t, r.num("dE94_textile"), DeltaE94(a, b, Textiles), 1e-8, "%s", r.name)
		near(t, r.num("dE00"), DeltaE2000(a, b), 1e-8, "%s", r.name)
		near(t, r.num("dE00"), DeltaE2000(b, a), 1e-8, "%s, swapped", r.name)
	}
}

// sRGB red against blue: 52.9 with the hue step taken the short way round,
// 58.3 without. From memory of a common mistake; the two colours are those of
// the table srgb_p3_lab_crosscheck.
func TestRedAgainstBlueTakesTheShortWayRound(t *testing.T) {
	red, blue := Lab{53.2371155954, 80.0901135231, 67.2032635117}, Lab{32.3008729040, 79.1952703074, -107.8554655397}
	near(t, 52.9, DeltaE2000(red, blue), 0.05, "red, blue")
	near(t, DeltaE2000(red, blue), DeltaE2000(blue, red), 1e-12, "swapped")
}

// L from 0 to 100 is the one scale: constants meant for it give 87.9 in place
// of about 7.4 when one side is taken on another scale. The pair and figure
// come from a fault seen elsewhere; from memory.
func TestSRGBCodesOfTwoDarkColoursAreASmallDifferenceApart(t *testing.T) {
	lab := func(r, g, b float64) Lab {
		return SRGB.XYZ(RGB{r / 255, g / 255, b / 255}).Lab(D50)
	}
	near(t, 7.4, DeltaE2000(lab(7, 6, 4), lab(35, 35, 35)), 0.05, "two dark colours")
}

func TestADifferenceWithNaNIsNaN(t *testing.T) {
	bad, good := Lab{50, math.NaN(), 0}, Lab{50, 1, 2}
	for name, d := range map[string]float64{
		"76": DeltaE76(bad, good), "94": DeltaE94(good, bad, GraphicArts), "2000": DeltaE2000(bad, good),
	} {
		if !math.IsNaN(d) {
			t.Errorf("difference %s of NaN is %v", name, d)
		}
	}
}
