package calib

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/colorimetry"
)

// shone is a sample on whose brightest fifth the share g of the white is added,
// and half of it on the whole: what a symmetrical reflection does, without a trend.
func shone(s colorimetry.Sample, light colorimetry.XYZ, g float64) colorimetry.Sample {
	s.Side, s.Dark = 40, s.XYZ
	s.Bright = s.XYZ.Add(light.Scale(g))
	s.XYZ = s.XYZ.Add(light.Scale(g / 2))
	return s
}

// The same change given by a trend, by grain or by nothing is not patchy.
func TestPatchyLeavesOutTrendGrainAndDye(t *testing.T) {
	mid := colorimetry.XYZ{X: 0.5 * colorimetry.D50.X, Y: 0.5, Z: 0.5 * colorimetry.D50.Z}
	j, one := block(colorimetry.LabJacobian(mid, colorimetry.D50)), [3]float64{1, 1, 1}
	s := colorimetry.Sample{Side: 40, XYZ: mid, Dark: mid.Scale(0.9), Bright: mid.Scale(1.1)}
	// CIELAB (CIE 15): L* is 116 Y^(1/3) - 16, so that its slope by Y is 116/3 Y^(-2/3).
	change := 116.0 / 3 * math.Pow(0.5, -2.0/3) * 0.1
	beyond, toward := patchy(j, one, s)
	within(t, change-patchUsual, beyond, 1e-9, "beyond the usual")
	within(t, 1, toward[0], 1e-9, "lighter without a change of hue")

	trend := s
	trend.Slope[0] = mid.Scale(0.2 / (fifths * 40))
	beyond, _ = patchy(j, one, trend)
	assert.Zero(t, beyond, "all of it is trend")

	grainy := s
	grainy.Cov[1][1] = sq(0.1 / patchGrain * 1.01)
	beyond, _ = patchy(j, one, grainy)
	assert.Zero(t, beyond, "no more than the grain gives")

	beyond, _ = patchy(j, one, colorimetry.Sample{Side: 40, XYZ: mid})
	assert.Zero(t, beyond, "no fifths known")
}

// A reflection in the middle of the pad moves the reading; its dark end takes
// part of that back, and the band grows.
func TestReflectionIsTakenBackInPart(t *testing.T) {
	p := scene(onRamp(3))
	clean := readOne(t, p)
	pad := &p.Pads[0].Parts[0]
	white := colorimetry.XYZ{X: 0.97 * 0.8, Y: 0.8, Z: 0.78 * 0.8}
	lit := shone(*pad, white, 0.2)
	even := lit
	even.Dark, even.Bright = lit.XYZ, lit.XYZ
	*pad = even
	blind := readOne(t, p)
	*pad = lit
	seen := readOne(t, p)
	assert.Greater(t, blind.Pad[0].L, clean.Pad[0].L+5)
	assert.Less(t, seen.Pad[0].L-clean.Pad[0].L, 0.6*(blind.Pad[0].L-clean.Pad[0].L), "taken back")
	assert.Greater(t, seen.Pad[0].L, clean.Pad[0].L, "in part")
	assert.Greater(t, seen.span(seen.Posterior), 1.3*clean.span(clean.Posterior))
	assert.LessOrEqual(t, seen.Band.Low.Value, 7.0, "the band holds the truth")
	assert.True(t, seen.Band.High.Open || seen.Band.High.Value >= 7)
}
