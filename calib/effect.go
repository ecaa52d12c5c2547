package calib

import "math"

// pull turns small errors of colour at a reading's place into steps of its scale: a
// fault of the photo matters by what it does to the place, not by its size on the
// picture.
type pull struct {
	by     []float64 // the gain, see [Scale.gain]; nil where the curve does not move
	at     int       // the swatch below the place
	lo, hi float64   // weights of the swatches below and above
}

// pullAt is the pull at a place where all errors have the covariance total.
func (s Scale) pullAt(t float64, total matrix) pull {
	i, lo, hi := s.weights(t)
	return pull{s.gain(t, total), i, lo, hi}
}

// ofPart is the error in steps that a covariance of one part's colour causes.
func (p pull) ofPart(k int, c *block) float64 {
	if p.by == nil {
		return math.Inf(1)
	}
	sum := 0.0
	for a := range 3 {
		for b := range 3 {
			sum += p.by[3*k+a] * c[a][b] * p.by[3*k+b]
		}
	}
	return math.Sqrt(math.Max(0, sum))
}

// ofShade is the error in steps when the light on the pad alone is off by d of its
// natural logarithm, on each part by its own.
func (p pull) ofShade(pad colourAt, d float64) float64 {
	if p.by == nil {
		return math.Inf(1)
	}
	sum := 0.0
	for k := range pad.toLab {
		one := 0.0
		for a := range 3 {
			one += p.by[3*k+a] * pad.toLab[k][a][0]
		}
		sum += sq(one * d)
	}
	return math.Sqrt(sum)
}
