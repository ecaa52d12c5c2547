package calib

import "math"

// The error model: what separates a pad's colour from its scale in one photo.
// Standard deviations in CIELAB unless said otherwise.
var (
	// glossMean and glossSpread: white light that a wet pad throws back, as a share of the white.
	glossMean, glossSpread = 0.010, 0.006
	// markingError stands for where in the patch the mark was put.
	markingError = 0.25
	// printingError is each swatch's own, independent of its neighbours.
	printingError = 0.8
	// clippedFactor raises the mismatch variance of a pad whose pixels all have a clipped channel.
	clippedFactor = 4.0
	// bendError is the unknown shape of the curve between two swatches, as a share of their distance.
	bendError = 0.15
	// paceError is how far one part of several may be ahead of or behind the
	// others between two swatches, in steps, at the middle.
	paceError = 0.25
	// spacingError is how values run between two swatches, in steps, at the middle.
	spacingError = 0.12
	// pastEnd slows the colour past the end swatches.
	pastEnd = 0.8
	// partsCommon is the share of the mismatch variance that the parts of one strip have in common.
	partsCommon = 0.5
	// tempering is the power of the likelihood of a strip of several parts.
	tempering = 0.5
	// tailDOF is the Student-t degrees of freedom of one pad's mismatch about the photo's size.
	tailDOF = 5.0
)

// mismatch is the spread of pad dye against printed ink at unit size.
type mismatch struct{ l, c, h, hByChroma, byChroma float64 }

var dyeInk = mismatch{l: 1.8, c: 2.0, h: 1.5, hByChroma: 0.04}

// sizes are the multiples of the mismatch that the photo's pads choose among;
// sizeSpread is the prior's standard deviation of their logarithm.
var sizes = []float64{0.35, 0.5, 0.7, 1, 1.4, 2, 2.8, 4}

var sizeSpread = 0.55

// addMismatch adds the covariance of unit mismatch about a colour to a matrix
// of order 3 x parts (row-major).
func (s Scale) addMismatch(m []float64, lab []float64) {
	n := 3 * s.parts
	frames := make([][9]float64, s.parts)
	for p := range frames {
		frames[p] = dyeInk.root(lab[3*p], lab[3*p+1], lab[3*p+2])
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
					m[(3*p+r)*n+3*q+c] += share * s.lost * v
				}
			}
		}
	}
}

// root returns a square root of the covariance: columns are lightness, chroma
// and hue directions times their spreads.
func (m mismatch) root(_, a, b float64) [9]float64 {
	chroma := math.Hypot(a, b)
	ca, sa := 1.0, 0.0
	if chroma > 1e-9 {
		ca, sa = a/chroma, b/chroma
	}
	sc := math.Hypot(m.c, m.byChroma*chroma)
	sh := math.Hypot(m.h, m.hByChroma*chroma)
	return [9]float64{
		m.l, 0, 0,
		0, ca * sc, -sa * sh,
		0, sa * sc, ca * sh,
	}
}
