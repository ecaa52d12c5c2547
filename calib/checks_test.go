package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// everySample calls f for every pad and swatch of a photo.
func everySample(p *Photo, f func(*colorimetry.Sample)) {
	for _, pad := range p.Pads {
		for k := range pad.Parts {
			f(&pad.Parts[k])
		}
		for _, sw := range pad.Swatches {
			for k := range sw {
				f(&sw[k])
			}
		}
	}
}

// warningOf is a reading's one warning of a code.
func warningOf(r Reading, code Code) (Warning, bool) {
	for _, w := range r.Warnings {
		if w.Code == code {
			return w, true
		}
	}
	return Warning{}, false
}

// edged is the ordinary photo with edges of a width on marks 40 pixels wide.
func edged(width float64) Photo {
	p := scene(onRamp(2.5))
	everySample(&p, func(s *colorimetry.Sample) { s.Side, s.Edge = 40, width })
	return p
}

func TestBlurredPhotoIsNamed(t *testing.T) {
	assert.Empty(t, readOne(t, edged(2)).Warnings, "a sharp photo")
	assert.Empty(t, readOne(t, edged(9)).Warnings)
	assert.Empty(t, readOne(t, edged(0)).Warnings, "no edge found")
	r := readOne(t, edged(16))
	w, found := warningOf(r, "blurred")
	require.True(t, found)
	assert.Equal(t, Caution, r.Reliability)
	within(t, 0.4, w.Figure, 1e-9, "share")
	assert.Contains(t, w.Text(), "16 pixels wide, 40 % of a mark")
	some := edged(16)
	everySample(&some, func(s *colorimetry.Sample) {
		if s.Place.X > 350 {
			s.Edge = 2
		}
	})
	assert.Empty(t, readOne(t, some).Warnings, "most edges are sharp")
}

func TestBlurIsUnreliableWhereOutsideColourReachesThePad(t *testing.T) {
	for width, want := range map[float64]Reliability{2: Good, 16: Unreliable} {
		p := edged(width)
		p.Pads[0].Parts[0].InsetShift = 4
		r := readOne(t, p)
		assert.Equal(t, want, r.Reliability, "edges %v wide", width)
		if w, found := warningOf(r, "blurred"); found {
			assert.Contains(t, w.Text(), "edges 16 pixels wide, 40 % of a mark")
		}
	}
}

func TestNoisyPhotoIsNamed(t *testing.T) {
	grainy := func(share, effective float64) Photo {
		p := scene(onRamp(2.5))
		everySample(&p, func(s *colorimetry.Sample) {
			s.Side, s.Effective = 40, effective
			for i, v := range [3]float64{s.XYZ.X, s.XYZ.Y, s.XYZ.Z} {
				s.Cov[i][i] = sq(share * v)
			}
		})
		return p
	}
	assert.Empty(t, readOne(t, grainy(0.07, 400)).Warnings)
	assert.Empty(t, readOne(t, grainy(0.12, 400)).Warnings, "grain that the pixels average out")
	r := readOne(t, grainy(0.2, 400))
	w, found := warningOf(r, "noisy")
	require.True(t, found)
	assert.Equal(t, Caution, r.Reliability)
	assert.Contains(t, w.Text(), "20 % of its brightness")
	assert.Contains(t, codes(readOne(t, grainy(0.12, 5)).Warnings), "noisy", "grain that is felt in the reading")
	w, _ = warningOf(readOne(t, grainy(0.6, 4)), "noisy")
	assert.Equal(t, Unreliable, w.Weight, "noise alone makes the band too wide")
}

// Grain is what is left beside a trend.
func TestGrainLeavesTheTrendOut(t *testing.T) {
	s := colorimetry.Sample{Side: 100, XYZ: colorimetry.XYZ{Y: 0.5}}
	s.Slope[0].Y = 0.002
	s.Cov[1][1] = sq(0.002*90)/12 + sq(0.05)
	within(t, 0.1, grain(s), 1e-9, "grain")
	s.Cov[1][1] = 0
	assert.Zero(t, grain(s))
}

// Both checks that name glare find it on one pad; the worse is told.
func TestOneWarningACode(t *testing.T) {
	p := scene(onRamp(3.5))
	pad := &p.Pads[0].Parts[0]
	pad.Glare = 0.4
	pad.Slope[0] = colorimetry.XYZ{X: 0.00195, Y: 0.002, Z: 0.00155}
	count := func(r Reading) int {
		n := 0
		for _, w := range r.Warnings {
			if w.Code == "glare" {
				n++
			}
		}
		return n
	}
	r := readOne(t, p)
	require.Equal(t, 1, count(r), "%+v", r.Warnings)
	w, _ := warningOf(r, "glare")
	assert.Contains(t, w.Text(), "from side to side", "further past its limit than 40 % of the pad")
	assert.Equal(t, Unreliable, w.Weight, "the band is over a step wide")
	pad.Glare = 0.6
	r = readOne(t, p)
	require.Equal(t, 1, count(r))
	w, _ = warningOf(r, "glare")
	assert.Contains(t, w.Text(), "60 % of the pad shines")
	assert.Equal(t, Unreliable, w.Weight)
}

// The worse of two warnings stays, whichever comes first.
func TestTheWorseWarningStays(t *testing.T) {
	light, heavy, further := Warning{Code: "x", Figure: 9, Threshold: 1, Weight: Caution}, Warning{Code: "x", Figure: 2, Threshold: 1,
		Weight: Unreliable}, Warning{Code: "x", Figure: 3, Threshold: 1, Weight: Unreliable}
	for _, order := range [][]Warning{{light, heavy, further}, {further, heavy, light}, {heavy, further, light}} {
		r := Reading{Reliability: Good}
		for _, w := range order {
			r.warn(w)
		}
		assert.Equal(t, []Warning{further}, r.Warnings)
		assert.Equal(t, Unreliable, r.Reliability)
	}
	r := Reading{Reliability: Good}
	r.warn(light)
	r.warn(Warning{Code: "y", Weight: Good})
	assert.Len(t, r.Warnings, 2)
}

func TestBandThatSaysNothingIsTooWide(t *testing.T) {
	assert.False(t, readOne(t, scene(onRamp(2.5))).TooWide)
	p := scene(onRamp(2.5))
	everySample(&p, func(s *colorimetry.Sample) { s.Effective, s.Cov = 1, [3][3]float64{{0.1}, {0, 0.1}, {0, 0, 0.1}} })
	r := readOne(t, p)
	assert.True(t, r.TooWide, "%+v", r.Band)
	assert.Equal(t, Unreliable, r.Reliability)
}

// Every mark that is too small is called by its name.
func TestSmallMarkSaysWhich(t *testing.T) {
	p := scene(onRamp(2.5))
	p.Pads[0].Swatches[4][0].Pixels = 50
	w, _ := warningOf(readOne(t, p), "too-small")
	assert.Contains(t, w.Text(), "the swatch for 12 holds only 50 usable pixels")
	p.Pads[0].Parts[0].Pixels = 40
	w, _ = warningOf(readOne(t, p), "too-small")
	assert.Contains(t, w.Text(), "the pad holds only 40")
}
