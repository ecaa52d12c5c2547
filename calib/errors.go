package calib

import "math"

// The error model: what separates a pad's colour from its scale in one photo.
// Standard deviations in CIELAB unless said otherwise. The figures have no
// outside source. They come from a search for those under which the true places
// of pads in rendered scenes were most probable (calib/scene, seeds under
// 1,000,000), rounded, and narrowed a little where bands covered more than 98 in
// 100 in good light; for strips of several parts, from what suited a few real
// photos of pH strips in buffers best.
const (
	// glossMean and glossSpread: white light that a wet pad throws back, as a share of the white.
	glossMean, glossSpread = 0.012, 0.006
	// markingError stands for where in the patch the mark was put.
	markingError = 0.25
	// printingError is each swatch's own, independent of its neighbours.
	printingError = 0.8
	// oneChannel and allChannels are what clipping leaves unknown of a colour.
	oneChannel, allChannels = 2.0, 6.0
	// glareError is what a patch that is all left out as glare would leave unknown; less in proportion.
	glareError = 5.0
	// bendError is the unknown shape of the curve between two swatches, as a share of their distance.
	bendError = 0.08
	// paceError is how far one part of several may be ahead of or behind the
	// others between two swatches, in steps, at the middle.
	paceError = 0.25
	// spacingError is how values run between two swatches, in steps, at the middle.
	spacingError = 0.11
	// pastEnd is how far the colour moves in a step past an end swatch, in lengths
	// of the last interval.
	pastEnd = 1.5
	// partsCommon is the share of the mismatch variance that the parts of one strip have in common.
	partsCommon = 0.5
	// trendWeight is how much of a patch's unexplained trend is taken as error.
	trendWeight = 1.25
	// contaminated is the share of pads that glare or shadow covers as a whole:
	// white light of spread glareSpread added, or light of spread shadeSpread
	// (natural log) missing.
	contaminated             = 0.04
	glareSpread, shadeSpread = 0.036, 0.25
	// castMismatch is the growth of the logarithm of the mismatch with the colour
	// left in the recorded white, up to a CIELAB chroma of castFull.
	castMismatch, castFull = 1.0, 20.0
	// tempering is the power of the likelihood of a strip of several parts.
	tempering = 0.55
	// tailDOF is the Student-t degrees of freedom of one pad's mismatch about the photo's size.
	tailDOF = 3.5
)

// mismatch is the spread of pad dye against printed ink at unit size, in
// lightness, chroma and hue. Each grows from a floor with the depth of the colour
// (100 - L*) or with its chroma: near white, dye and ink have little to disagree
// about. lc is the correlation of chroma with lightness.
type mismatch struct{ l, c, h, lByDepth, hByChroma, byChroma, lc float64 }

var dyeInk = mismatch{l: 0.4, lByDepth: 0.052, c: 1.1, h: 0.9, hByChroma: 0.024, byChroma: 0.03, lc: 0.2}

// wetParts is the same for a strip of several parts, whose wet pads differ from
// the chart mostly in lightness.
var wetParts = mismatch{l: 4, lByDepth: 0.12, c: 2, h: 1.5, hByChroma: 0.05, byChroma: 0.05}

// sizes are the multiples of the mismatch that the photo's pads choose among;
// sizeSpread is the prior's standard deviation of their logarithm.
var sizes = []float64{0.35, 0.5, 0.7, 1, 1.4, 2, 2.8, 4}

const sizeSpread = 0.6

// addMismatch adds the covariance of unit mismatch about a colour to a matrix
// of order 3 x parts (row-major).
func (s Scale) addMismatch(m []float64, lab []float64) {
	n := 3 * s.parts
	model := dyeInk
	if s.parts > 1 {
		model = wetParts
	}
	frames := make([][9]float64, s.parts)
	for p := range frames {
		frames[p] = model.root(lab[3*p], lab[3*p+1], lab[3*p+2])
	}
	for p := range s.parts {
		for q := range s.parts {
			share := partsCommon
			if p == q {
				share = 1
			}
			for r := range 3 {
				for c := range 3 {
					v := 0.0
					for k := range 3 {
						v += frames[p][3*r+k] * frames[q][3*c+k]
					}
					m[(3*p+r)*n+3*q+c] += share * v
				}
			}
		}
	}
}

// root returns a square root of the covariance: columns are lightness, chroma
// and hue directions times their spreads.
func (m mismatch) root(l, a, b float64) [9]float64 {
	chroma := math.Hypot(a, b)
	ca, sa := 1.0, 0.0
	if chroma > 1e-9 {
		ca, sa = a/chroma, b/chroma
	}
	sl := math.Hypot(m.l, m.lByDepth*(100-l))
	sc := math.Hypot(m.c, m.byChroma*chroma)
	sh := math.Hypot(m.h, m.hByChroma*chroma)
	// Chroma follows lightness with correlation lc.
	cl, cc := sc*m.lc, sc*math.Sqrt(1-sq(m.lc))
	return [9]float64{
		sl, 0, 0,
		ca * cl, ca * cc, -sa * sh,
		sa * cl, sa * cc, ca * sh,
	}
}
