package colorimetry

import "math"

// RGB is a colour in an RGB space, linear or coded as the function says; 0 to
// 1 is the space's own range, and values beyond it are kept.
type RGB struct{ R, G, B float64 }

// RGBSpace is an RGB colour space: primaries, white and transfer function.
type RGBSpace struct {
	Name string
	// Native carries linear RGB to XYZ relative to the space's own white.
	Native Matrix3
	// ToXYZ carries linear RGB to XYZ relative to [D50]; FromXYZ undoes it.
	ToXYZ, FromXYZ Matrix3
	// Decode turns a coded value into linear light, Encode the other way. Both
	// are odd functions (f(-v) = -f(v)) and clip nothing.
	Decode, Encode func(float64) float64
}

// The spaces that cameras write. Their matrices are worked out from the
// primaries and whites, exact to the last bits.
var (
	// SRGB is IEC 61966-2-1.
	SRGB = newRGBSpace("sRGB", [3]Chromaticity{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}, srgbDecode, srgbEncode)
	// DisplayP3 has the primaries of SMPTE RP 431-2 with the white and the transfer function of sRGB.
	DisplayP3 = newRGBSpace("Display P3", [3]Chromaticity{{0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}}, srgbDecode, srgbEncode)
	// AdobeRGB is Adobe RGB (1998).
	AdobeRGB = newRGBSpace("Adobe RGB (1998)", [3]Chromaticity{{0.64, 0.33}, {0.21, 0.71}, {0.15, 0.06}}, adobeDecode, adobeEncode)
)

// newRGBSpace makes a space with white D65.
func newRGBSpace(name string, primaries [3]Chromaticity, decode, encode func(float64) float64) RGBSpace {
	s := RGBSpace{Name: name, Native: primaryMatrix(primaries, D65), Decode: decode, Encode: encode}
	s.ToXYZ = AdaptMatrix(D65, D50).Mul(s.Native)
	s.FromXYZ, _ = s.ToXYZ.Inverse()
	return s
}

// primaryMatrix returns the matrix whose columns are the primaries, each as
// strong as it must be for all three together to make the white.
func primaryMatrix(primaries [3]Chromaticity, white XYZ) Matrix3 {
	var m Matrix3
	for i, p := range primaries {
		m[i] = p.XYZ(1).array()
	}
	m = m.Transpose()
	back, _ := m.Inverse()
	strength := back.Apply(white)
	return m.Mul(Matrix3{{strength.X, 0, 0}, {0, strength.Y, 0}, {0, 0, strength.Z}})
}

// XYZ returns the colour, relative to [D50], of a coded RGB value.
func (s RGBSpace) XYZ(c RGB) XYZ {
	return s.ToXYZ.Apply(XYZ{s.Decode(c.R), s.Decode(c.G), s.Decode(c.B)})
}

// RGB returns the coded value of a colour relative to [D50]. Colours outside
// the space come out below 0 or above 1.
func (s RGBSpace) RGB(c XYZ) RGB {
	v := s.FromXYZ.Apply(c)
	return RGB{s.Encode(v.X), s.Encode(v.Y), s.Encode(v.Z)}
}

// srgbDecode is the transfer function of IEC 61966-2-1.
func srgbDecode(v float64) float64 {
	if math.Abs(v) <= 0.04045 {
		return v / 12.92
	}
	return math.Copysign(math.Pow((math.Abs(v)+0.055)/1.055, 2.4), v)
}

func srgbEncode(v float64) float64 {
	if math.Abs(v) <= 0.0031308 {
		return v * 12.92
	}
	return math.Copysign(1.055*math.Pow(math.Abs(v), 1/2.4)-0.055, v)
}

// adobeGamma is 2 51/256, the exponent of Adobe RGB (1998).
const adobeGamma = 563.0 / 256

func adobeDecode(v float64) float64 { return math.Copysign(math.Pow(math.Abs(v), adobeGamma), v) }
func adobeEncode(v float64) float64 { return math.Copysign(math.Pow(math.Abs(v), 1/adobeGamma), v) }
