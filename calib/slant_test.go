package calib

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// falling is the scene in light that falls off by the natural log g over half the
// photo's diagonal towards the left, with one white at the right.
func falling(g float64) Photo {
	p := scene(onRamp(2.5))
	half := math.Hypot(float64(p.Width), float64(p.Height)) / 2
	p.Whites = p.Whites[1:2]
	relight(&p, func(at colorimetry.Point) colorimetry.XYZ {
		k := math.Exp(g * (at.X - 940) / half)
		return colorimetry.XYZ{X: k, Y: k, Z: k}
	})
	slope := func(s *colorimetry.Sample) { s.Slope[0] = s.XYZ.Scale(g / half) }
	everySample(&p, slope)
	for i := range p.Whites {
		slope(&p.Whites[i].Sample)
	}
	return p
}

// One white cannot show that the light falls off; the swatches' own change from side to
// side does.
func TestSwatchesShowASlantThatOneWhiteCannot(t *testing.T) {
	even, steep := readOne(t, falling(0)), readOne(t, falling(0.9))
	assert.InDelta(t, even.Value, steep.Value, 0.06*even.Value, "the value stays")
	_, named := warnedOf(even, CodeLightFar)
	assert.True(t, named, "the white lies at the other side of the photo")
	w, named := warnedOf(steep, CodeLightFar)
	assert.True(t, named)
	assert.Contains(t, w.Seen, "The light changes by")
	wide := func(r Reading) float64 { return r.span(r.Posterior) }
	assert.Greater(t, wide(steep), wide(even), "the band knows it")

	p := falling(0.9)
	fit := FitLight(p.Whites, p.Width, p.Height, guessWhite(p.Pads))
	at := p.Pads[0].Parts[0].Place
	truth := scene(onRamp(2.5)).Whites[1].Sample.XYZ.Y * math.Exp(0.9*(at.X-940)/625)
	assert.Greater(t, fit.At(at).Y, 2*truth, "without the slant the light would be taken for twice as strong")
	within(t, truth, fit.slanted(p).At(at).Y, 0.1*truth, "with it")
}

func TestNoSlantWhereWhitesShowTheLightOrSwatchesDisagree(t *testing.T) {
	many := falling(0.9)
	many.Whites = scene(onRamp(2.5)).Whites
	apart := falling(0.9)
	for i := range apart.Pads[0].Swatches {
		s := &apart.Pads[0].Swatches[i][0]
		s.Slope[0] = s.XYZ.Scale(0.004 * float64(i-2))
	}
	for name, p := range map[string]Photo{"whites all over": many, "swatches that disagree": apart, "even light": falling(0)} {
		l := FitLight(p.Whites, p.Width, p.Height, guessWhite(p.Pads)).slanted(p)
		assert.Equal(t, slant{}, l.slant, name)
	}
}

func TestWhiteNearThePadIsNotFar(t *testing.T) {
	_, named := warnedOf(readOne(t, scene(onRamp(2.5))), CodeLightFar)
	assert.False(t, named)
}

// What a far white costs goes by what the light's error does to the reading.
func TestFarWhiteWeighsByTheStepsThatItCosts(t *testing.T) {
	p := falling(0.9)
	l, rs, err := Read(p)
	require.NoError(t, err)
	for steps, want := range map[float64]Reliability{0.1: Good, 0.16: Caution, 0.41: Unreliable} {
		r := Reading{Analyte: rs[0].Analyte, Reliability: Good, Budget: []Contribution{{SourceLight, steps}}}
		r.checkFar(p.Pads[0], l)
		assert.Equal(t, want, r.Reliability, "%g steps", steps)
	}
}
