package scene

import (
	"math"

	"padband/colorimetry"
)

// toneSize is the resolution of a tone table.
const toneSize = 4096

// toneAt is the camera's curve from linear light (0-1) to code (0-1).
func (c *Camera) toneAt(v float64) float64 {
	v = min(1, max(0, v))
	if s := c.Shoulder; s < 1 && v > s {
		v = s + (1-s)*(1-math.Exp(-2*(v-s)/(1-s)))/(1-math.Exp(-2))
	}
	y := colorimetry.SRGB.Encode(v)
	if c.Lift > 0 && c.Lift != 1 {
		y = math.Pow(y, c.Lift)
	}
	return y - c.Contrast*math.Sin(2*math.Pi*y)/(2*math.Pi)
}

// toneTable tabulates the curve, in codes up to top.
func (c *Camera) toneTable(top float64) []float32 {
	out := make([]float32, toneSize+2)
	for i := range out {
		// Even steps of the square root follow the curve closely near black.
		r := float64(i) / toneSize
		out[i] = float32(top * c.toneAt(r*r))
	}
	return out
}
