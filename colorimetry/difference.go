package colorimetry

import "math"

// The differences are computed here and not with go-colorful. Its CIEDE2000
// takes sRGB colours; on the way there from CIELAB and back, rounding carries
// a pair of opposite hues across the branch of the mean hue, and one of the
// 34 published pairs comes out 0.04 wrong. Its CIE 1994 has no textile
// constants.

// DeltaE76 is the CIE 1976 colour difference: the plain distance in CIELAB
// (CIE 15:2004, 8.2.1). It is symmetric and at least 0.
func DeltaE76(a, b Lab) float64 {
	return math.Sqrt(sq(a.L-b.L) + sq(a.A-b.A) + sq(a.B-b.B))
}

// Weights94 are the constants of the CIE 1994 difference.
type Weights94 struct{ KL, K1, K2 float64 }

// The two published sets of constants (CIE 116-1995).
var (
	GraphicArts = Weights94{KL: 1, K1: 0.045, K2: 0.015}
	Textiles    = Weights94{KL: 2, K1: 0.048, K2: 0.014}
)

// DeltaE94 is the CIE 1994 colour difference (CIE 116-1995). It is not
// symmetric: the weights come from the chroma of reference.
func DeltaE94(reference, sample Lab, w Weights94) float64 {
	c1, c2 := math.Hypot(reference.A, reference.B), math.Hypot(sample.A, sample.B)
	dC := c1 - c2
	dH2 := sq(reference.A-sample.A) + sq(reference.B-sample.B) - sq(dC)
	dL := (reference.L - sample.L) / w.KL
	sC, sH := 1+w.K1*c1, 1+w.K2*c1
	return math.Sqrt(sq(dL) + sq(dC/sC) + atLeast0(dH2)/sq(sH))
}

// DeltaE2000 is the colour difference CIEDE2000 with kL = kC = kH = 1. It is
// symmetric and at least 0. Source: Sharma, Wu and Dalal 2005, Color Res Appl
// 30(1):21-30, whose 34 pairs it reproduces.
func DeltaE2000(a, b Lab) float64 {
	t := ciede2000(a, b)
	l, c, h := t.dL/t.sL, t.dC/t.sC, t.dH/t.sH
	return math.Sqrt(atLeast0(l*l + c*c + h*h + t.rT*c*h))
}

// terms2000 are the intermediate quantities of CIEDE2000, named as in the
// paper; angles are in degrees.
type terms2000 struct {
	g              float64 // the stretch of a* near grey, less 1
	a1, c1, h1     float64 // a', C', h' of the first colour
	a2, c2, h2     float64 // and of the second
	hMean          float64
	dL, dC, dH     float64
	t              float64
	sL, sC, sH, rT float64
}

func ciede2000(a, b Lab) terms2000 {
	var t terms2000
	cMean := (math.Hypot(a.A, a.B) + math.Hypot(b.A, b.B)) / 2
	t.g = 0.5 * (1 - share25(cMean))
	t.a1, t.a2 = (1+t.g)*a.A, (1+t.g)*b.A
	t.c1, t.c2 = math.Hypot(t.a1, a.B), math.Hypot(t.a2, b.B)
	t.h1, t.h2 = hueDegrees(t.a1, a.B), hueDegrees(t.a2, b.B)
	t.dL, t.dC = b.L-a.L, t.c2-t.c1
	var dh float64
	dh, t.hMean = huePair(t.h1, t.h2, t.c1 == 0 || t.c2 == 0)
	t.dH = 2 * math.Sqrt(t.c1*t.c2) * sinDeg(dh/2)
	t.weigh((a.L+b.L)/2, (t.c1+t.c2)/2)
	return t
}

// oppositeHues is the rounding, in degrees, that may carry two exactly
// opposite hues past a half turn, where the mean jumps to the other side: the
// difference of (88, -124, 56) and (97, 62, -28) is 63.9 and not 101.4.
const oppositeHues = 1e-10

// huePair returns the step from hue h1 to h2, and their mean, along the
// shorter way round. A grey has no hue: the step is 0 and the mean is the
// other's.
func huePair(h1, h2 float64, grey bool) (step, mean float64) {
	step, mean = h2-h1, (h1+h2)/2
	switch {
	case grey:
		return 0, h1 + h2
	case math.Abs(step) <= 180+oppositeHues:
		return step, mean
	case h1+h2 < 360:
		mean += 180
	default:
		mean -= 180
	}
	if step > 0 {
		return step - 360, mean
	}
	return step + 360, mean
}

// weigh fills in the weights from the mean lightness, chroma and hue.
func (t *terms2000) weigh(l, c float64) {
	h := t.hMean
	t.t = 1 - 0.17*cosDeg(h-30) + 0.24*cosDeg(2*h) + 0.32*cosDeg(3*h+6) - 0.20*cosDeg(4*h-63)
	t.sL = 1 + 0.015*sq(l-50)/math.Sqrt(20+sq(l-50))
	t.sC = 1 + 0.045*c
	t.sH = 1 + 0.015*c*t.t
	t.rT = -2 * share25(c) * sinDeg(60*math.Exp(-sq((h-275)/25)))
}

// share25 is sqrt(c^7 / (c^7 + 25^7)), which rises from 0 to 1 about chroma 25.
func share25(c float64) float64 {
	return 1 / math.Sqrt(1+math.Pow(25/c, 7))
}

func sq(x float64) float64 { return x * x }

// atLeast0 takes away the rounding that can carry a sum of squares below 0. NaN stays NaN.
func atLeast0(x float64) float64 {
	if x < 0 {
		return 0
	}
	return x
}

func sinDeg(d float64) float64 { return math.Sin(d * math.Pi / 180) }
func cosDeg(d float64) float64 { return math.Cos(d * math.Pi / 180) }
