package profile

import (
	"fmt"
	"math"

	"padband/colorimetry"
)

// CodePoints name a colour space by the numbers of ITU-T H.273: primaries and
// transfer. The zero value says nothing.
type CodePoints struct{ Primaries, Transfer int }

// Code points of H.273, tables 2 and 3.
const (
	cicpBT709       = 1
	cicpUnspecified = 2
	cicpP3          = 12
	cicpSRGB        = 13 // as a transfer
	cicpPQ          = 16
	cicpHLG         = 18
)

// Unspecified tells code points that say nothing.
func (c CodePoints) Unspecified() bool {
	return c.Primaries == 0 || c.Primaries == cicpUnspecified || c.Transfer == 0 || c.Transfer == cicpUnspecified
}

// HighRange tells a high dynamic range picture.
func (c CodePoints) HighRange() bool { return c.Transfer == cicpPQ || c.Transfer == cicpHLG }

// cicpPrimaries are those of H.273 table 2, but for the two that the colorimetry
// package has, as chromaticities of red, green, blue and white; from memory.
var cicpPrimaries = map[int]struct {
	name string
	Primaries
}{
	5:  {"BT.601 (625 lines)", chromaticities(0.64, 0.33, 0.29, 0.60, 0.15, 0.06, 0.3127, 0.3290)},
	6:  {"BT.601 (525 lines)", chromaticities(0.630, 0.340, 0.310, 0.595, 0.155, 0.070, 0.3127, 0.3290)},
	7:  {"SMPTE 240M", chromaticities(0.630, 0.340, 0.310, 0.595, 0.155, 0.070, 0.3127, 0.3290)},
	9:  {"BT.2020", chromaticities(0.708, 0.292, 0.170, 0.797, 0.131, 0.046, 0.3127, 0.3290)},
	11: {"DCI-P3", chromaticities(0.680, 0.320, 0.265, 0.690, 0.150, 0.060, 0.314, 0.351)},
}

func chromaticities(v ...float64) Primaries {
	xy := func(k int) colorimetry.Chromaticity { return colorimetry.Chromaticity{X: v[k], Y: v[k+1]} }
	return Primaries{Red: xy(0), Green: xy(2), Blue: xy(4), White: xy(6)}
}

// Transform is the way from coded channels to colour; ok is false for code
// points that are not read.
func (c CodePoints) Transform() (t *Transform, name string, ok bool) {
	curve, curveName := c.curve()
	if curve == nil {
		return nil, "", false
	}
	m, space, ok := c.matrix()
	if !ok {
		return nil, "", false
	}
	switch {
	case c.Transfer == cicpSRGB && c.Primaries == cicpBT709:
		return SRGB(), NameSRGB, true
	case c.Transfer == cicpSRGB && c.Primaries == cicpP3:
		return P3(), NameP3, true
	}
	return ByPrimaries(m, curve), fmt.Sprintf("%s primaries, %s curve", space, curveName), true
}

func (c CodePoints) matrix() (m colorimetry.Matrix3, name string, ok bool) {
	switch c.Primaries {
	case cicpBT709:
		return colorimetry.SRGB.ToXYZ, NameSRGB, true
	case cicpP3:
		return colorimetry.DisplayP3.ToXYZ, NameP3, true
	}
	p, known := cicpPrimaries[c.Primaries]
	if !known {
		return m, "", false
	}
	m, ok = p.ToD50()
	return m, p.name, ok
}

// curve takes a coded channel to linear light, by H.273 table 3; from memory.
func (c CodePoints) curve() (f func(float64) float64, name string) {
	switch c.Transfer {
	case 1, 6, 14, 15:
		return bt709, "BT.709"
	case 4:
		return func(v float64) float64 { return math.Pow(v, 2.2) }, "gamma 2.2"
	case 5:
		return func(v float64) float64 { return math.Pow(v, 2.8) }, "gamma 2.8"
	case 8:
		return func(v float64) float64 { return v }, "linear"
	case cicpSRGB:
		return colorimetry.SRGB.Decode, NameSRGB
	}
	return nil, ""
}

// bt709 undoes the curve of ITU-R BT.709, item 1.2, with the two constants to
// the precision of BT.2020, table 4.
func bt709(v float64) float64 {
	const alpha, beta = 1.099296826809442, 0.018053968510807
	if v < 4.5*beta {
		return v / 4.5
	}
	return math.Pow((v+alpha-1)/alpha, 1/0.45)
}
