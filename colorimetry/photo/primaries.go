package photo

import (
	"math"
	"sync"

	"padband/colorimetry"
)

// primaries are the x, y chromaticities that a PNG's cHRM chunk gives.
type primaries struct{ white, red, green, blue colorimetry.Chromaticity }

// toD50 returns the matrix from linear red, green and blue to XYZ relative to
// D50. ok is false for primaries that span no triangle or a white of no use.
func (p primaries) toD50() (m colorimetry.Matrix3, ok bool) {
	if c := p.white; !(c.X > 0.05 && c.Y > 0.05 && c.X+c.Y < 1) {
		return m, false
	}
	white := p.white.XYZ(1)
	for k, c := range [3]colorimetry.Chromaticity{p.red, p.green, p.blue} {
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

// byPrimaries builds the transform of a space of one curve and a matrix.
func byPrimaries(m colorimetry.Matrix3, curve func(float64) float64) *transform {
	return tabulate(func(r, g, b float64) colorimetry.XYZ {
		return m.Apply(colorimetry.XYZ{X: curve(r), Y: curve(g), Z: curve(b)})
	})
}

var transformSRGB = sync.OnceValue(func() *transform {
	return byPrimaries(colorimetry.SRGB.ToXYZ, colorimetry.SRGB.Decode)
})

var transformP3 = sync.OnceValue(func() *transform {
	return byPrimaries(colorimetry.DisplayP3.ToXYZ, colorimetry.DisplayP3.Decode)
})
