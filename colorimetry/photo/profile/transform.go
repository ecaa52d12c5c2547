// Package profile turns a photo's stored channels into colour: by its ICC profile
// ([Open]), by code points of ITU-T H.273 ([CodePoints]) or by primaries and a curve
// ([ByPrimaries]). Each of them gives a [Transform]. The package reads no pixels.
package profile

import (
	"math"

	"padband/colorimetry"
)

// Names of the colour spaces that need no embedded profile.
const (
	NameSRGB = "sRGB"
	NameP3   = "Display P3"
)

// tableSteps is the number of steps of a channel's table. Between two of its
// places a display curve strays from a straight line by less than 4e-7 of
// white (second derivative about 3, over 8 times the square of the steps).
const tableSteps = 1024

// Transform takes a pixel's channels, 0 for the lowest code and 1 for the
// highest and unclipped beyond, to XYZ relative to D50.
//
// A profile of curves and a matrix is additive: each channel adds its own XYZ,
// kept in a table. Beyond its ends a table goes on straight (above) or
// mirrored (below). Any other profile is asked pixel by pixel within 0 to 1.
type Transform struct {
	base    colorimetry.XYZ
	channel [3][]colorimetry.XYZ // XYZ above base; nil for a profile that is not additive
	direct  func(r, g, b float64) colorimetry.XYZ
}

// XYZ converts one pixel.
func (t *Transform) XYZ(r, g, b float64) colorimetry.XYZ {
	if t.channel[0] == nil {
		return t.direct(within(r), within(g), within(b))
	}
	x := t.base
	along(t.channel[0], r, &x)
	along(t.channel[1], g, &x)
	along(t.channel[2], b, &x)
	return x
}

// Additive reports whether each channel adds its own colour, which is kept in tables.
func (t *Transform) Additive() bool { return t.channel[0] != nil }

func within(v float64) float64 { return max(0, min(1, v)) }

// along adds the table's value at v.
func along(table []colorimetry.XYZ, v float64, to *colorimetry.XYZ) {
	sign := 1.0
	if v < 0 {
		v, sign = -v, -1
	}
	v *= tableSteps
	i := int(min(v, tableSteps-1))
	f := v - float64(i)
	a, b := &table[i], &table[i+1]
	to.X += sign * (a.X + f*(b.X-a.X))
	to.Y += sign * (a.Y + f*(b.Y-a.Y))
	to.Z += sign * (a.Z + f*(b.Z-a.Z))
}

// tabulate builds a transform from a colour function, by tables when the
// function is additive and by asking it directly when it is not.
func tabulate(f func(r, g, b float64) colorimetry.XYZ) *Transform {
	if !additive(f) {
		return &Transform{direct: f}
	}
	t := &Transform{base: f(0, 0, 0)}
	for c := range t.channel {
		t.channel[c] = make([]colorimetry.XYZ, tableSteps+1)
		var v [3]float64
		for i := range t.channel[c] {
			v[c] = float64(i) / tableSteps
			t.channel[c][i] = f(v[0], v[1], v[2]).Sub(t.base)
		}
	}
	return t
}

// additiveTolerance, in XYZ, is far below what a table profile with any
// mixing between its channels shows and above the rounding of a matrix profile.
const additiveTolerance = 2e-6

// additive tells whether the channels act on their own, at 125 colours.
func additive(f func(r, g, b float64) colorimetry.XYZ) bool {
	places := [5]float64{0.07, 0.23, 0.41, 0.68, 1}
	zero := f(0, 0, 0)
	for _, r := range places {
		xr := f(r, 0, 0)
		for _, g := range places {
			xg := f(0, g, 0)
			for _, b := range places {
				sum := xr.Add(xg).Add(f(0, 0, b).Sub(zero.Add(zero)))
				d := f(r, g, b).Sub(sum)
				if !(math.Abs(d.X) < additiveTolerance && math.Abs(d.Y) < additiveTolerance && math.Abs(d.Z) < additiveTolerance) {
					return false
				}
			}
		}
	}
	return true
}
