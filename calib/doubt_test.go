package calib

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// loose gives every patch an error that makes the pad's band about two steps wide.
func loose(p *Photo) {
	everySample(p, func(s *colorimetry.Sample) {
		s.Effective = 1
		for i := range 3 {
			s.Cov[i][i] = sq(0.025)
		}
	})
}

// steeply makes the light on the chart twice as strong as on the strip.
func steeply(p *Photo) {
	relight(p, func(at colorimetry.Point) colorimetry.XYZ {
		k := 1 + at.X/1000
		return colorimetry.XYZ{X: k, Y: k, Z: k}
	})
}

// Doubtful light makes a reading unreliable only with a wide band, and a wide
// band only in doubtful light.
func TestDoubtfulLightWithAWideBandIsUnreliable(t *testing.T) {
	for _, c := range []struct {
		steep, loose bool
		want         Reliability
	}{{false, false, Good}, {true, false, Good}, {false, true, Good}, {true, true, Unreliable}} {
		p := scene(onRamp(2.5))
		if c.steep {
			steeply(&p)
		}
		if c.loose {
			loose(&p)
		}
		r := readOne(t, p)
		assert.Equal(t, c.want, r.Reliability, "%+v %v", c, r.Warnings)
		assert.Equal(t, c.loose, r.span(r.Posterior) > doubtBand)
	}
}

func TestDoubtSaysWhatAndHowWide(t *testing.T) {
	p := scene(onRamp(2.5))
	steeply(&p)
	loose(&p)
	w, found := warningOf(readOne(t, p), "uneven-light")
	require.True(t, found)
	assert.Contains(t, w.Text(), "stronger than on another")
	assert.Regexp(t, `the colour fits a range of [12]\.\d steps`, w.Text())
}

// A shadow's edge on a swatch far from the value is not warned of by itself.
func TestShadowOnAnySwatchIsADoubt(t *testing.T) {
	p := scene(onRamp(2.2))
	s := &p.Pads[0].Swatches[5][0]
	s.Side = 40
	k := 0.16 / 40
	s.Slope[0] = s.XYZ.Scale(k)
	assert.Empty(t, readOne(t, p).Warnings)
	loose(&p)
	w, found := warningOf(readOne(t, p), "shadow")
	require.True(t, found)
	assert.Contains(t, w.Text(), "The swatch for 25")
	assert.Equal(t, Unreliable, w.Weight)
	everySample(&p, func(s *colorimetry.Sample) { s.Side, s.Edge = 40, 16 })
	assert.NotContains(t, codes(readOne(t, p).Warnings), "shadow", "a blurred photo is uneven anyway")
}

// One channel cut off is a doubt where the whole photo is too bright.
func TestClippingIsADoubtInABrightPhoto(t *testing.T) {
	p := scene(onRamp(2.5))
	loose(&p)
	p.Pads[0].Parts[0].Clipped = 0.8
	assert.NotEqual(t, Unreliable, readOne(t, p).Reliability)
	relight(&p, func(colorimetry.Point) colorimetry.XYZ { return colorimetry.XYZ{X: 1.3, Y: 1.3, Z: 1.3} })
	r := readOne(t, p)
	assert.Equal(t, Unreliable, r.Reliability)
	w, _ := warningOf(r, "clipped")
	assert.Contains(t, w.Text(), "only half known")
}

func TestPresenceKnowsNoDoubt(t *testing.T) {
	r := Reading{Reliability: Good, Posterior: certain(3).Blur(constant(1))}
	r.Analyte.Kind = charts.KindPresence
	r.checkDoubt(Scale{}, Pad{}, Light{}, LightReport{Warnings: []Warning{{Code: "uneven-light", doubtful: true}}})
	assert.Empty(t, r.Warnings)
	r.Analyte.Kind = charts.KindScale
	r.checkDoubt(Scale{}, Pad{}, Light{}, LightReport{Warnings: []Warning{{Code: "uneven-light", doubtful: true}}})
	assert.Len(t, r.Warnings, 1)
}

// Of several doubts each says its own, and the first alone how wide the band is.
func TestDoubtTellsTheWidthOnce(t *testing.T) {
	p := scene(onRamp(2.5))
	steeply(&p)
	loose(&p)
	everySample(&p, func(s *colorimetry.Sample) { s.Slope[0] = s.XYZ.Scale(0.01) })
	pad := &p.Pads[0].Parts[0]
	pad.Dark, pad.Bright = pad.XYZ.Scale(0.6), pad.XYZ.Scale(1.4)
	r := readOne(t, p)
	told, doubts := 0, 0
	for _, w := range r.Warnings {
		told += strings.Count(w.Text(), "the colour fits")
		if w.doubtful {
			doubts++
		}
	}
	assert.Greater(t, doubts, 1, "%v", r.Warnings)
	assert.Equal(t, 1, told)
}
