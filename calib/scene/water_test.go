package scene

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
)

// inWater draws scenes in good and fair light with the water that is drawn for each, until
// there are so many pads, and says of the water what the person says.
func inWater(t *testing.T, seed uint64, pads int, say charts.Water, draw func(d dice, c *Config) *Water) (cases []*case1) {
	t.Helper()
	for n := 0; n < pads; seed++ {
		c, err := Draw(seed, []Class{Good, Fair}[seed%2])
		if err != nil {
			continue
		}
		c.Water = draw(newDice(seed, 77), &c)
		one, err := sampled(c)
		if err != nil {
			continue
		}
		one.Photo.Water = say
		cases, n = append(cases, &one), n+len(one.Truth)
	}
	return cases
}

// drawWater is clear water in pads and in a soaked paper of some make, on the strip.
func drawWater(d dice, c *Config) *Water {
	sheet := func(least, most float64) Paper {
		return Paper{d.inLog(least, most), d.inLog(4000, 10000), d.in(0.5, 0.8)}
	}
	return &Water{Film: d.in(0, 0.0002), Pads: sheet(3e-4, 6e-4), Soaked: sheet(1.5e-4, 5e-4), Under: c.Surfaces.Plastic}
}

func drawTea(d dice, c *Config) *Water {
	w := drawWater(d, c)
	w.Absorbs = Tannin(d.in(25, 300))
	return w
}

func drawDye(d dice, c *Config) *Water {
	w := drawWater(d, c)
	peak := d.in(430, 640)
	dye := lobes(d.around(peak, 40, 35, 1), d.around(peak-45, 35, 40, 0.4), d.around(420, 40, 40, d.in(0, 0.2)))
	brown := flat(d.in(-0.4, 0.4)) // half of all dyes take some of every colour
	if brown[0] > 0 {
		dye = dye.plus(1, &brown)
	}
	w.Absorbs = dye.scaled(d.inLog(500, 6000))
	return w
}

func drawDarkTable(d dice, c *Config) *Water {
	w := drawWater(d, c)
	brightest := slices.Max(c.Surfaces.Table[:])
	w.Under = c.Surfaces.Table.scaled(d.in(0.03, 0.3) / brightest)
	return w
}

func wetWhites(cases []*case1, marked bool) []*case1 {
	for _, c := range cases {
		if !marked {
			c.Photo.WetWhites = nil
		}
	}
	return cases
}

func calledColoured(own []outcome) (n int) {
	for _, o := range own {
		for _, code := range o.Codes {
			if code == string(calib.CodeColouredWater) {
				n++
				break
			}
		}
	}
	return n
}

// waterStudy reads scenes and logs their figures.
func waterStudy(t *testing.T, name string, cases []*case1) (row, []outcome) {
	t.Helper()
	own, _ := readAll(t, cases)
	r := summarise(name, own)
	t.Logf("\n%s\n%s\ncalled coloured %d", heading, r, calledColoured(own))
	return r, own
}

// TestWeakTea is the study of tannin of 25 to 300 Hazen, said to look like weak tea.
func TestWeakTea(t *testing.T) {
	n := max(60, *studyPads/5)
	r, own := waterStudy(t, "weak tea", wetWhites(inWater(t, 11_000_000, n, charts.WaterTint, drawTea), false))
	// Three standard errors of a coverage of 0.95 on so many pads.
	assert.GreaterOrEqual(t, r.cover, 0.95-3*math.Sqrt(0.95*0.05/float64(r.n)))
	assert.LessOrEqual(t, r.unreliable, 0.10)
	assert.Zero(t, calledColoured(own))
}

// TestClearWaterOnADarkTable is never called coloured: paper that clear water soaked
// lets the table show through.
func TestClearWaterOnADarkTable(t *testing.T) {
	n := max(60, *studyPads/5)
	_, own := waterStudy(t, "dark table", inWater(t, 12_000_000, n, charts.WaterClear, drawDarkTable))
	assert.Zero(t, calledColoured(own))
}

// TestDyedWater is the study of dyes of all hues and amounts, with and without the soaked
// white.
func TestDyedWater(t *testing.T) {
	n := max(60, *studyPads/5)
	cases := inWater(t, 13_000_000, n, charts.WaterDark, drawDye)
	r, _ := waterStudy(t, "soaked white", cases)
	// Three standard errors of a coverage of 0.93 on so many pads.
	assert.GreaterOrEqual(t, r.trusted, 0.93-3*math.Sqrt(0.93*0.07/float64(r.n)))
	for _, c := range cases {
		c.Photo.Water = charts.WaterUnsaid
		c.Photo.WetWhites = nil
	}
	unsaid, _ := waterStudy(t, "nothing said", cases)
	assert.Greater(t, unsaid.silent, r.silent, "dyes mislead where nobody says so")
	for _, c := range cases {
		c.Photo.Water = charts.WaterDark
	}
	dark, _ := waterStudy(t, "said alone", cases)
	assert.Equal(t, 1.0, dark.unreliable)
}

// By hand, for one wavelength: a layer thick enough hides what is under it and has the
// reflectance 1 + q - sqrt(q² + 2q) of an opaque one; a layer without absorption has a = 1, where
// the formula's limit is R = (g + (1-g) S X) / (1 + (1-g) S X): with S X = 1 and g = 0, 1/2.
func TestSoakedPaperByHand(t *testing.T) {
	w := Water{Soaked: Paper{Thick: 1, Scatter: 5000, Pores: 0.7}, Under: flat(0.05)}
	thick := w.soaked(flat(0.25))
	assert.InDelta(t, 0.5, thick[40], 1e-9)
	w.Soaked.Thick, w.Under = 1.0/5000, flat(0)
	thin := w.soaked(flat(1e-9))
	assert.InDelta(t, 0.5, thin[40], 1e-4)
}

// Clear water leaves the picture as it was but for the soaked paper, and none leaves all.
func TestTanninTakesBlue(t *testing.T) {
	w := Water{Absorbs: Tannin(180), Pads: Paper{Scatter: 5000, Pores: 0.7}}
	at := func(s Spectrum, nm float64) float64 { return s[int((nm-firstNM)/stepNM)] }
	assert.InDelta(t, 10.0, at(w.Absorbs, 440), 1e-9)
	assert.InDelta(t, 10*math.Exp(-1.5), at(w.Absorbs, 540), 1e-9)
	pads := []Spectrum{flat(0.8)}
	w.stain(pads, 0.01)
	assert.Less(t, at(pads[0], 440), at(pads[0], 640))
	assert.Less(t, at(pads[0], 640), 0.8)
	// K/S of (0.8 - 0.01) / 0.99, and 10 x 2 x 0.7 / 5000 = 0.0028 more.
	r := 0.79 / 0.99
	assert.InDelta(t, (1-r)*(1-r)/2/r+0.0028, absorption((at(pads[0], 440)-0.01)/0.99), 1e-9)
	none := []Spectrum{flat(0.8)}
	(*Water)(nil).stain(none, 0.01)
	require.Equal(t, flat(0.8), none[0])
}
