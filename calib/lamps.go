package calib

import (
	"math"

	"padband/charts"
	"padband/colorimetry"
)

// lampFamily is a family of lamps by how far they make pad dye and printed ink disagree
// that look alike by daylight.
type lampFamily int

// The families. Tubes are two: those of three narrow phosphors, and those of a broad
// halophosphate, whose peak near 580 nm lies where pink and red dyes turn from dark to
// bright.
const (
	dayLit lampFamily = iota
	ledLit
	phosphorLit
	halophosphateLit
	bulbLit
	lampFamilies
)

// underLamp is what a family of lamps does. share is its probability where nobody says
// what the light is. size and spread are mean and standard deviation of the logarithm of
// the mismatch, in multiples of the unit mismatch. lean is how the colour of a pad moves
// away from the print's at unit size: the changes of L*, a* and b* by the depth 100 - L*,
// by a* and by b*.
type underLamp struct {
	share, size, spread float64
	mismatch            mismatch
	lean                block
}

// lamps are fitted as [dyeInk] is, to the residuals of pads in rendered scenes: 450 to 760
// a family, under the lamps of the CIE tables and lamps of random make (calib/scene, seeds
// from 80,000,000 to 90,999,999). They have no outside source. Under a tube a pad may lie
// close to the scale at the wrong place, so that its distance from the scale says little of
// the size: tubes have a narrow spread, and a size above what the scenes show. Inks absorb
// with steep edges and dyes in bells, and most dyes let deep red pass that ink keeps, so
// that under a lamp that is weak in blue or rich in red the two move apart in a way that
// goes by colour. Of this lean two fifths of what the scenes show is taken, because their
// inks are ours.
var lamps = [lampFamilies]underLamp{
	dayLit: {share: 0.2, size: -0.25, spread: 0.55,
		mismatch: mismatch{l: 0.15, lByDepth: 0.0065, c: 0.9, cByDepth: 0.017, h: 0.45, hByDepth: 0.034, pink: 0.43, pByDepth: 0.064,
			lc: -0.55, towards: -13}},
	ledLit: {share: 0.2, size: 0, spread: 0.45,
		mismatch: mismatch{l: 0.12, lByDepth: 0.0065, c: 0.8, cByDepth: 0.027, h: 0.36, hByDepth: 0.045, pink: 1.3, pByDepth: 0.07,
			lc: -0.2, towards: -45},
		lean: block{{-0.002, 0, 0}, {0, -0.0072, 0}, {-0.0144, 0.0232, 0}}},
	phosphorLit: {share: 0.2, size: 0.3, spread: 0.25,
		mismatch: mismatch{l: 0.16, lByDepth: 0.0075, c: 0.8, cByDepth: 0.038, h: 0.38, hByDepth: 0.045, pink: 1.4, pByDepth: 0.048,
			lc: -0.1, towards: -42},
		lean: block{{-0.0048, 0, 0}, {-0.012, 0, 0}, {-0.0192, 0.0112, 0}}},
	halophosphateLit: {share: 0.25, size: 0.6, spread: 0.25,
		mismatch: mismatch{l: 0.25, lByDepth: 0.017, c: 0.7, cByDepth: 0.042, h: 0.38, hByDepth: 0.045, pink: 2.2, pByDepth: 0.065,
			lc: 0.1, towards: -57},
		lean: block{{-0.012, 0.0112, 0.0024}, {0, -0.0104, -0.0072}, {-0.0392, 0.0296, 0.004}}},
	bulbLit: {share: 0.15, size: -0.1, spread: 0.5,
		mismatch: mismatch{l: 0.15, lByDepth: 0.007, c: 1.15, cByDepth: 0.048, h: 0.48, hByDepth: 0.058, pink: 1.35, pByDepth: 0.145,
			lc: -0.42, towards: -38},
		lean: block{{0.0064, -0.0032, 0}, {0.06, -0.04, 0}, {-0.0256, 0.0336, -0.008}}},
}

// saidShare is the probability of the families that the word for the light names; the rest
// is left for a word that is wrong.
const saidShare = 0.85

// named are the families that a word for the light names.
var named = map[charts.Lamp][]lampFamily{
	charts.LampDaylight: {dayLit},
	charts.LampLamp:     {ledLit, bulbLit},
	charts.LampTube:     {phosphorLit, halophosphateLit},
	charts.LampFlash:    {ledLit},
}

// familyShares are the probabilities of the families for a word.
func familyShares(word charts.Lamp) (out [lampFamilies]float64) {
	of := 0.0
	for _, f := range named[word] {
		of += lamps[f].share
	}
	for f := range out {
		out[f] = lamps[f].share
		if of > 0 {
			out[f] *= (1 - saidShare) / (1 - of)
		}
	}
	for _, f := range named[word] {
		out[f] = saidShare * lamps[f].share / of
	}
	return out
}

// hypothesis is one family of lamps and one size of the mismatch under it.
type hypothesis struct {
	under lampFamily
	size  float64
}

// hypotheses are all families at all sizes, family by family.
var hypotheses = func() (out []hypothesis) {
	for f := range lampFamilies {
		for _, s := range sizes {
			out = append(out, hypothesis{f, s})
		}
	}
	return out
}()

// prior is the log probability of each hypothesis before the pads are seen: of its family
// by the word for the light, and of its size by the family and by the recorded white.
func (l Light) prior(p Photo) []float64 {
	shares, expected := familyShares(p.Lamp), l.expectedSize(p)
	out := make([]float64, len(hypotheses))
	for k, h := range hypotheses {
		m := lamps[h.under]
		out[k] = -0.5 * sq((math.Log(h.size)-expected-m.size)/m.spread)
	}
	sums := byFamily(out)
	for k, h := range hypotheses {
		out[k] += math.Log(shares[h.under]) - sums[h.under]
	}
	return out
}

// byFamily adds up log probabilities of hypotheses family by family.
func byFamily(log []float64) (out [lampFamilies]float64) {
	for f := range out {
		out[f] = math.Inf(-1)
	}
	for k, h := range hypotheses {
		out[h.under] = logAdd(out[h.under], log[k])
	}
	return out
}

// expectedSize is the logarithm of the size of mismatch to expect of a photo before
// its pads are seen. It is larger where the phone could not balance the lamp, which
// shows as colour left in the recorded white.
func (l Light) expectedSize(p Photo) float64 {
	if l.Assumed {
		return 0
	}
	var sum colorimetry.XYZ
	for _, s := range p.samples() {
		sum = sum.Add(l.At(s.Place))
	}
	if !(sum.Y > 0) {
		return 0
	}
	chroma, _ := sum.Scale(1 / sum.Y).Lab(colorimetry.D50).LCh()
	return castMismatch*math.Min(1, chroma/castFull) - castMismatch/3.6
}
