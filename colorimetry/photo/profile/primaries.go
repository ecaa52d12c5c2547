package profile

import (
	"math"
	"sync"

	"padband/colorimetry"
)

// Primaries are the x, y chromaticities that a PNG's cHRM chunk gives.
type Primaries struct{ White, Red, Green, Blue colorimetry.Chromaticity }

// ToD50 returns the matrix from linear red, green and blue to XYZ relative to
// D50. ok is false for primaries that span no triangle or a white of no use.
func (p Primaries) ToD50() (m colorimetry.Matrix3, ok bool) {
	if c := p.White; !(c.X > 0.05 && c.Y > 0.05 && c.X+c.Y < 1) {
		return m, false
	}
	white := p.White.XYZ(1)
	for k, c := range [3]colorimetry.Chromaticity{p.Red, p.Green, p.Blue} {
		m[0][k], m[1][k], m[2][k] = c.X, c.Y, 1-c.X-c.Y
	}
	inverse, ok := m.Inverse()
	if !ok || math.Abs(m.Det()) < 1e-4 {
		return m, false
	}
	strength := inverse.Apply(white)
	gain := colorimetry.Matrix3{{strength.X, 0, 0}, {0, strength.Y, 0}, {0, 0, strength.Z}}
	return colorimetry.AdaptMatrix(white, colorimetry.D50).Mul(m.Mul(gain)), true
}

// ByPrimaries builds the transform of a space of one curve and a matrix.
func ByPrimaries(m colorimetry.Matrix3, curve func(float64) float64) *Transform {
	return tabulate(func(r, g, b float64) colorimetry.XYZ {
		return m.Apply(colorimetry.XYZ{X: curve(r), Y: curve(g), Z: curve(b)})
	})
}

// SRGB is the transform of a file that says sRGB, or nothing.
var SRGB = sync.OnceValue(func() *Transform {
	return ByPrimaries(colorimetry.SRGB.ToXYZ, colorimetry.SRGB.Decode)
})

// P3 is that of Display P3.
var P3 = sync.OnceValue(func() *Transform {
	return ByPrimaries(colorimetry.DisplayP3.ToXYZ, colorimetry.DisplayP3.Decode)
})
