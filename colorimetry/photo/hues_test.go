package photo

import (
	"image"
	"image/color"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// shades paints 400 by 300 pixels in patches of many brightnesses with sensor noise,
// each turned into a colour.
func shades(colour func(y float64) color.NRGBA) *image.NRGBA {
	rng := rand.New(rand.NewPCG(5, 6))
	m := image.NewNRGBA(image.Rect(0, 0, 400, 300))
	for y := range 300 {
		for x := range 400 {
			m.SetNRGBA(x, y, colour(40+float64((x/40*37+y/30*59)%190)+4*rng.NormFloat64()))
		}
	}
	return m
}

func greyShade(y float64) color.NRGBA { return color.NRGBA{uint8(y), uint8(y), uint8(y), 255} }

func sepiaShade(y float64) color.NRGBA {
	return color.NRGBA{uint8(y), uint8(0.89 * y), uint8(0.69 * y), 255} // the ratios of the usual sepia matrix
}

func TestHues(t *testing.T) {
	speck := shades(greyShade) // 1 in 1,200 pixels
	for y := range 10 {
		for x := range 10 {
			speck.SetNRGBA(300+x, 200+y, color.NRGBA{200, 120, 120, 255})
		}
	}
	balanced := shades(func(y float64) color.NRGBA { return color.NRGBA{uint8(y), uint8(0.96 * y), uint8(0.88 * y), 255} })
	for x := range 400 { // one row of pink pads in it
		for y := range 30 {
			balanced.SetNRGBA(x, 100+y, color.NRGBA{220, uint8(120 + x/4), 180, 255})
		}
	}
	for name, c := range map[string]struct {
		m    image.Image
		want Hues
	}{
		"grey":                    {shades(greyShade), NoHue},
		"sepia":                   {shades(sepiaShade), OneHue},
		"one pad in a grey photo": {speck, ManyHues},
		"pads under a warm lamp":  {balanced, ManyHues},
		"patches":                 {soft(400, 300), ManyHues},
	} {
		assert.Equal(t, c.want, mustDecode(t, pngOf(t, c.m)).Hues(), "%s, PNG", name)
		assert.Equal(t, c.want, mustDecode(t, jpegOf(t, c.m)).Hues(), "%s, JPEG", name)
	}
	assert.Equal(t, NoHue, mustDecode(t, jpegOf(t, image.NewGray(image.Rect(0, 0, 300, 200)))).Hues(), "one channel")
}

// Parts alone may be grey in a photo that is not.
func TestHuesOfParts(t *testing.T) {
	m := shades(greyShade)
	for y := range 100 {
		for x := range 100 {
			m.SetNRGBA(x, y, color.NRGBA{200, 120, 120, 255})
		}
	}
	file := jpegOf(t, m)
	part := rect(t, 250, 200, 60, 60)
	p, err := Decode(file, Limits{}, part)
	assert.NoError(t, err)
	assert.False(t, p.Whole())
	assert.Equal(t, NoHue, p.Hues(part))
	whole := mustDecode(t, file)
	assert.True(t, whole.Whole())
	assert.Equal(t, NoHue, whole.Hues(part))
	assert.Equal(t, ManyHues, whole.Hues())
}
