// Package colorimetry holds colour: tristimulus values, CIELAB, colour differences,
// chromatic adaptation and colour temperature. Start at [XYZ] and [Lab]; [Region] and
// [Sample] are the two types that carry colour through the program. The package knows
// nothing of strips or charts.
package colorimetry

import "math"

// XYZ is a tristimulus value on the scale where a perfect white under the
// reference light has Y = 1. Unless a function says otherwise it is relative
// to [D50]. Values may be negative or above 1: nothing here clips.
type XYZ struct{ X, Y, Z float64 }

// Lab is a CIELAB colour: L from 0 (black) to 100 (the white it is relative
// to), A and B unbounded and 0 for greys.
type Lab struct{ L, A, B float64 }

// Chromaticity is a CIE 1931 chromaticity x, y: the share of X and of Y in
// X + Y + Z. Real colours lie between 0 and 1.
type Chromaticity struct{ X, Y float64 }

// UV is a CIE 1960 chromaticity u, v, the diagram in which correlated colour
// temperature is defined.
type UV struct{ U, V float64 }

// D50 is the one reference white of this program: the CIE D50 chromaticity
// x = 0.3457, y = 0.3585 at Y = 1.
var D50 = XYZ{0.3457 / 0.3585, 1, (1 - 0.3457 - 0.3585) / 0.3585}

// D65 is the white of the sRGB family of colour spaces: x = 0.3127,
// y = 0.3290 at Y = 1 (IEC 61966-2-1). It is met only on the way from such a
// space to [D50].
var D65 = XYZ{0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290}

// Add returns the sum of two lights.
func (c XYZ) Add(d XYZ) XYZ { return XYZ{c.X + d.X, c.Y + d.Y, c.Z + d.Z} }

// Sub returns c less d, for instance a surface reflection taken off.
func (c XYZ) Sub(d XYZ) XYZ { return XYZ{c.X - d.X, c.Y - d.Y, c.Z - d.Z} }

// Scale returns the light made k times as strong.
func (c XYZ) Scale(k float64) XYZ { return XYZ{c.X * k, c.Y * k, c.Z * k} }

// Mul multiplies component by component.
func (c XYZ) Mul(d XYZ) XYZ { return XYZ{c.X * d.X, c.Y * d.Y, c.Z * d.Z} }

// Div divides component by component: a colour by the white it is seen
// against, which makes that white (1, 1, 1). A zero in d gives an infinity or
// NaN, which [XYZ.Finite] finds.
func (c XYZ) Div(d XYZ) XYZ { return XYZ{c.X / d.X, c.Y / d.Y, c.Z / d.Z} }

// Finite reports whether no component is NaN or infinite.
func (c XYZ) Finite() bool { return finite(c.X, c.Y, c.Z) }

// Finite reports whether no component is NaN or infinite.
func (c Lab) Finite() bool { return finite(c.L, c.A, c.B) }

// Finite reports whether neither coordinate is NaN or infinite.
func (c Chromaticity) Finite() bool { return finite(c.X, c.Y) }

// Chromaticity returns x, y. Black (or any colour whose components add up to
// 0) has none: the result is then not finite.
func (c XYZ) Chromaticity() Chromaticity {
	sum := c.X + c.Y + c.Z
	return Chromaticity{c.X / sum, c.Y / sum}
}

// XYZ returns the colour of this chromaticity whose Y is the luminance given.
func (c Chromaticity) XYZ(luminance float64) XYZ {
	return XYZ{c.X / c.Y * luminance, luminance, (1 - c.X - c.Y) / c.Y * luminance}
}

// UV returns the CIE 1960 coordinates: u = 4x / (12y - 2x + 3),
// v = 6y / (12y - 2x + 3) (CIE 15:2004, appendix).
func (c Chromaticity) UV() UV {
	d := 12*c.Y - 2*c.X + 3
	return UV{4 * c.X / d, 6 * c.Y / d}
}

// Chromaticity returns x = 3u / (2u - 8v + 4), y = 2v / (2u - 8v + 4).
func (c UV) Chromaticity() Chromaticity {
	d := 2*c.U - 8*c.V + 4
	return Chromaticity{3 * c.U / d, 2 * c.V / d}
}

// LCh returns chroma, at least 0, and hue in degrees from 0 up to 360; the
// hue of a grey is 0.
func (c Lab) LCh() (chroma, hue float64) {
	return math.Hypot(c.A, c.B), hueDegrees(c.A, c.B)
}

// hueDegrees is the angle of (a, b) in degrees, in [0, 360), and 0 at the origin.
func hueDegrees(a, b float64) float64 {
	h := math.Atan2(b, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	if h >= 360 { // a tiny negative angle rounds up to a whole turn
		return 0
	}
	return h
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
