package table

import (
	"math"

	"padband/colorimetry"
)

// rgb is a colour in linear sRGB, 1 for a perfect white.
type rgb [3]float64

func (c rgb) times(k float64) rgb { return rgb{c[0] * k, c[1] * k, c[2] * k} }

// mix goes from c at 0 to o at 1.
func (c rgb) mix(o rgb, f float64) rgb {
	for i := range c {
		c[i] += f * (o[i] - c[i])
	}
	return c
}

// grey is a neutral colour.
func grey(v float64) rgb { return rgb{v, v, v} }

// toXYZ is linear sRGB to XYZ under D65, IEC 61966-2-1.
var toXYZ = [3][3]float64{{0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}}

// lab is the colour in CIELAB against the white of sRGB.
func (c rgb) lab() colorimetry.Lab {
	var v, white [3]float64
	for i, row := range toXYZ {
		for k, m := range row {
			v[i] += m * c[k]
			white[i] += m
		}
	}
	return colorimetry.XYZ{X: v[0], Y: v[1], Z: v[2]}.Lab(colorimetry.XYZ{X: white[0], Y: white[1], Z: white[2]})
}

// hued makes a colour of a hue (turns), a saturation and a brightness as seen, each 0 to 1.
func hued(hue, saturation, bright float64) rgb {
	var c rgb
	for i := range c {
		_, at := math.Modf(hue + 1 - float64(i)/3)
		at = math.Abs(at - math.Round(at)) // distance of the hue from the channel's own, 0 to 1/2
		share := math.Max(0, math.Min(1, 2-6*at))
		c[i] = math.Pow(bright*(1-saturation*(1-share)), 2.2)
	}
	return c
}

// vivid draws a strong colour.
func (d dice) vivid() rgb { return hued(d.Float64(), d.in(0.5, 0.95), d.in(0.35, 0.9)) }

// any draws a colour of any strength.
func (d dice) any() rgb { return hued(d.Float64(), d.in(0, 1)*d.in(0.2, 1), d.in(0.15, 0.95)) }

// white draws a white of paper or plastic.
func (d dice) white() rgb {
	v := d.in(0.74, 0.9)
	return rgb{v, v * d.in(0.95, 1.01), v * d.in(0.86, 1.02)}
}

// wood draws a brown.
func (d dice) wood() rgb { return hued(d.in(0.05, 0.11), d.in(0.25, 0.7), d.in(0.25, 0.85)) }
