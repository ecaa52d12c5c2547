package calib

import (
	"math"

	"padband/colorimetry"
)

// fifths is the distance between the means of the outer fifths of values that
// run evenly from end to end, over their range.
const fifths = 0.8

// patchy is the CIELAB distance between the brightest and the darkest fifth of a
// patch, beyond what its trend, its grain and an uneven dye explain, and the unit
// direction from dark to bright. What is beyond comes from a reflection or a shadow on
// part of the patch. j is the derivative of CIELAB by XYZ, slope the factor from
// recorded to relative light. The distance is 0 for a sample without outer fifths.
func patchy(j block, slope [3]float64, s colorimetry.Sample) (beyond float64, toward [3]float64) {
	d := [3]float64{(s.Bright.X - s.Dark.X) * slope[0], (s.Bright.Y - s.Dark.Y) * slope[1], (s.Bright.Z - s.Dark.Z) * slope[2]}
	toward = j.times(d)
	length := 0.0
	for _, v := range toward {
		length += sq(v)
	}
	length = math.Sqrt(length)
	if !(length > 1e-9) {
		return 0, toward
	}
	for r := range toward {
		toward[r] /= length
	}
	apart := nonzero(s.Bright.Y - s.Dark.Y)
	trend := fifths * side(s) * math.Hypot(s.Slope[0].Y, s.Slope[1].Y)
	rest := length * math.Sqrt(math.Max(0, 1-sq(trend/apart)))
	usual := math.Max(patchUsual, patchGrain*length/apart*grain(s)*s.XYZ.Y)
	return math.Max(0, rest-usual), toward
}

// ofMean is the error of the mean of several parts with the errors v, each independent
// of the others: a fault on one part of several moves the place on the scale less. It
// is 0 for no parts.
func ofMean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += sq(x)
	}
	return math.Sqrt(sum) / math.Max(1, float64(len(v)))
}
