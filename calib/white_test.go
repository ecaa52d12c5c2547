package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// tinted is a white that is not white: it sends back these shares of X, Y and Z.
func tinted(w colorimetry.XYZ, x, y, z float64) colorimetry.XYZ {
	return colorimetry.XYZ{X: x * w.X, Y: y * w.Y, Z: z * w.Z}
}

func TestOneColouredWhiteAmongOthersIsNamed(t *testing.T) {
	r := report(t, func(p *Photo) {
		require.Greater(t, len(p.Whites), 2)
		p.Whites[1].Sample.XYZ = tinted(p.Whites[1].Sample.XYZ, 0.7, 0.5, 0.6) // pink
	})
	w, found := warned(r, CodeNotWhite)
	require.True(t, found)
	assert.Equal(t, Unreliable, r.Reliability)
	assert.Equal(t, "White area 2 has another colour than the other white areas: it is not white. "+
		"Mark white card, paper or bare strip instead.", w.Text())
}

// A lamp colours all white alike, and burnt-out white has lost its colour.
func TestColouredLightAndBurntOutWhiteAreWhite(t *testing.T) {
	for name, change := range map[string]func(p *Photo){
		"as it is": func(*Photo) {},
		"an orange lamp": func(p *Photo) {
			everySample(p, func(s *colorimetry.Sample) { s.XYZ = tinted(s.XYZ, 1.1, 0.9, 0.4) })
			for i := range p.Whites {
				p.Whites[i].Sample.XYZ = tinted(p.Whites[i].Sample.XYZ, 1.1, 0.9, 0.4)
			}
		},
		"one burnt out": func(p *Photo) {
			p.Whites[1].Sample.XYZ, p.Whites[1].Sample.Clipped = tinted(p.Whites[1].Sample.XYZ, 1, 1, 0.6), 0.9
		},
	} {
		r := report(t, change)
		for _, w := range r.Warnings {
			assert.NotEqual(t, CodeNotWhite, w.Code, name)
			assert.NotEqual(t, CodeAlteredPhoto, w.Code, name)
		}
	}
}

// With one white area the swatches are the witnesses.
func TestOnlyWhiteIsJudgedBySwatches(t *testing.T) {
	one := func(x, y, z float64) LightReport {
		return report(t, func(p *Photo) {
			p.Whites = p.Whites[:1]
			p.Whites[0].Sample.XYZ = tinted(p.Whites[0].Sample.XYZ, x, y, z)
		})
	}
	_, found := warned(one(1, 1, 1), CodeNotWhite)
	assert.False(t, found)
	for name, r := range map[string]LightReport{"grey": one(0.3, 0.3, 0.3), "green": one(0.3, 0.45, 0.3)} {
		w, found := warned(r, CodeNotWhite)
		require.True(t, found, name)
		assert.Equal(t, Unreliable, w.Weight)
		assert.Contains(t, w.Text(), "white area 1: that area is coloured or grey, or lies in a shadow.")
	}
}

func TestInvertedPictureIsNamed(t *testing.T) {
	r := report(t, func(p *Photo) {
		everySample(p, func(s *colorimetry.Sample) {
			s.XYZ = colorimetry.XYZ{X: 0.9 - s.XYZ.X, Y: 0.95 - s.XYZ.Y, Z: 0.8 - s.XYZ.Z}
		})
		for i := range p.Whites {
			p.Whites[i].Sample.XYZ = colorimetry.D50.Scale(0.05)
		}
	})
	w, found := warned(r, CodeAlteredPhoto)
	require.True(t, found)
	assert.Equal(t, Unreliable, r.Reliability)
	assert.Contains(t, w.Text(), "the picture is inverted, or something dark is marked as white")
}

// A filter drives one colour past what white sends back, where the others stay low.
func TestColoursStrongerThanPrintAreNamed(t *testing.T) {
	r := report(t, func(p *Photo) {
		s := &p.Pads[0].Swatches[0][0]
		s.XYZ = tinted(p.Whites[0].Sample.XYZ, 0.75, 0.45, 0.1) // red, 1.7 times white's
	})
	w, found := warned(r, CodeAlteredPhoto)
	require.True(t, found)
	assert.Contains(t, w.Text(), "stronger than print can be")
	assert.Equal(t, Unreliable, w.Weight)
}

// Far from the only white area the light is hardly known, and a swatch must outdo the
// white by more.
func TestWhiteIsOutdoneByMoreWhereTheLightIsHardlyKnown(t *testing.T) {
	for whites, want := range map[int]bool{5: true, 1: false} {
		r := report(t, func(p *Photo) {
			s := &p.Pads[0].Swatches[5][0]
			s.XYZ = tinted(p.Whites[0].Sample.XYZ, 0.75, 0.45, 0.1) // red, 1.6 times white's
			p.Whites = p.Whites[:whites]
		})
		_, found := warned(r, CodeAlteredPhoto)
		assert.Equal(t, want, found, "%d whites", whites)
	}
}

func TestOneHueOfAllMarks(t *testing.T) {
	p := scene(onRamp(2.5))
	assert.False(t, p.OneHue())
	sepia := func(s *colorimetry.Sample) { s.XYZ = tinted(colorimetry.D50.Scale(s.XYZ.Y), 1.02, 1, 0.7) }
	everySample(&p, sepia)
	for i := range p.Whites {
		sepia(&p.Whites[i].Sample)
	}
	assert.True(t, p.OneHue())
	p.Pads[0].Swatches[1][0].XYZ.Z *= 1.2
	p.Pads[0].Swatches[3][0].XYZ.Z *= 1.2
	assert.False(t, p.OneHue(), "two swatches of another hue")
}
