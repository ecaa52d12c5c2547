package calib

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// report reads the light of a photo of the ramp after a change to it.
func report(t *testing.T, change func(p *Photo)) LightReport {
	t.Helper()
	p := scene(onRamp(2.5))
	change(&p)
	l, _, err := Read(p)
	require.NoError(t, err)
	return l.Report(p)
}

// relight multiplies every sample's colour by a change of light at its place.
func relight(p *Photo, change func(colorimetry.Point) colorimetry.XYZ) {
	by := func(s *colorimetry.Sample) {
		c := change(s.Place)
		s.XYZ = colorimetry.XYZ{X: s.XYZ.X * c.X, Y: s.XYZ.Y * c.Y, Z: s.XYZ.Z * c.Z}
	}
	for i := range p.Whites {
		by(&p.Whites[i].Sample)
	}
	for _, pad := range p.Pads {
		for k := range pad.Parts {
			by(&pad.Parts[k])
		}
		for _, sw := range pad.Swatches {
			for k := range sw {
				by(&sw[k])
			}
		}
	}
}

func warned(r LightReport, code Code) (Warning, bool) {
	for _, w := range r.Warnings {
		if w.Code == code {
			return w, true
		}
	}
	return Warning{}, false
}

func TestChecksOfTheLight(t *testing.T) {
	ordinary := report(t, func(*Photo) {})
	assert.Empty(t, ordinary.Warnings)
	assert.Equal(t, Good, ordinary.Reliability)
	within(t, 0.085, ordinary.Unevenness, 0.02, "unevenness of the made scene") // patches from 150 to 800 along 0.0001 a pixel, 200 down
	steep := func(k float64) func(*Photo) {
		return func(p *Photo) {
			relight(p, func(at colorimetry.Point) colorimetry.XYZ {
				y := math.Exp(k * (at.X - 500) / 1000)
				return colorimetry.XYZ{X: y, Y: y, Z: y}
			})
		}
	}
	twoLamps := func(k float64) func(*Photo) {
		return func(p *Photo) {
			relight(p, func(at colorimetry.Point) colorimetry.XYZ {
				return colorimetry.XYZ{X: 1, Y: 1, Z: math.Exp(k * (at.X - 500) / 1000)}
			})
		}
	}
	cast := func(x, z float64) func(*Photo) {
		return func(p *Photo) {
			relight(p, func(colorimetry.Point) colorimetry.XYZ { return colorimetry.XYZ{X: x, Y: 1, Z: z} })
		}
	}
	shade := func(by float64) func(*Photo) {
		return func(p *Photo) {
			c := &p.Whites[4].Sample.XYZ
			*c = colorimetry.XYZ{X: by * c.X, Y: by * c.Y, Z: by * c.Z}
		}
	}
	for _, c := range []struct {
		code   Code
		change func(*Photo)
		weight Reliability // empty: not warned
	}{
		{"uneven-light", steep(0.3), ""},
		{"uneven-light", steep(1.1), Caution},
		{"mixed-light", twoLamps(0.08), ""},
		{"mixed-light", twoLamps(0.25), Caution},
		{"mixed-light", twoLamps(0.7), Unreliable},
		{"strong-cast", cast(1.02, 0.95), ""},
		{"strong-cast", cast(0.85, 0.85), Caution}, // green
		{"strong-cast", cast(1.15, 0.35), Caution}, // a bulb that was not balanced
		{"shadow", shade(0.97), ""},
		{"shadow", shade(0.7), Caution},
	} {
		r := report(t, c.change)
		w, found := warned(r, c.code)
		if !assert.Equal(t, c.weight != "", found, "%s: %+v", c.code, r) || !found {
			continue
		}
		assert.Equal(t, c.weight, w.Weight, c.code)
		assert.Equal(t, c.weight, r.Reliability, c.code)
		if past := math.Abs(w.Figure) > w.Limit; w.Limit == castWarm {
			assert.False(t, past, "%s: %+v", c.code, w)
		} else {
			assert.True(t, past, "%s: %+v", c.code, w)
		}
	}
}

// Without a colour temperature the white is still called strongly coloured.
func TestWhiteWithoutTemperatureIsACast(t *testing.T) {
	r := report(t, func(p *Photo) {
		relight(p, func(colorimetry.Point) colorimetry.XYZ { return colorimetry.XYZ{X: 0.3, Y: 1, Z: 0.2} })
	})
	w, found := warned(r, "strong-cast")
	require.True(t, found)
	assert.Equal(t, Caution, w.Weight)
}
