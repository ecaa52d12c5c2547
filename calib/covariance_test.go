package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// lightBetween is the covariance that an uncertain light gives to pad minus
// curve at a place between two swatches. The joint covariance of the light, the
// same for its three figures, is of the pad, then of the two swatches; each
// colour moves with the light as it is given.
func lightBetween(joint []float64, pad, low, high [9]float64, share float64) []float64 {
	s := Scale{parts: 1, pad: movedBy(pad), nodes: []colourAt{movedBy(low), movedBy(high)}}
	for c := range s.light {
		s.light[c] = mat.NewSymDense(3, joint)
	}
	out := newMatrix(3)
	s.lightAt(0, 1-share, share, out)
	return out.v
}

// movedBy is a colour that moves with the light by these derivatives, row by row.
func movedBy(v [9]float64) colourAt {
	return colourAt{toLab: []block{{{v[0], v[1], v[2]}, {v[3], v[4], v[5]}, {v[6], v[7], v[8]}}}}
}

var oneToOne = [9]float64{1, 0, 0, 0, 1, 0, 0, 0, 1}

// The variance of pad - (3/4 low + 1/4 high), by JCGM 100:2008, 5.2.2, equation
// 13, worked by hand: with independent errors of variance 4, 8 and 16 it is
// 4 + 9/16 x 8 + 1/16 x 16 = 9.5; with covariances 1 of pad and low, 2 of pad
// and high and 3 of low and high it is 9.5 - 2 x 3/4 x 1 - 2 x 1/4 x 2 + 2 x 3/16 x 3 = 8.125.
func TestLightBetweenPadAndScaleByHand(t *testing.T) {
	for want, joint := range map[float64][]float64{
		9.5:   {4, 0, 0, 0, 8, 0, 0, 0, 16},
		8.125: {4, 1, 2, 1, 8, 3, 2, 3, 16},
	} {
		got := lightBetween(joint, oneToOne, oneToOne, oneToOne, 0.25)
		for k, v := range got {
			diagonal := 0.0
			if k%4 == 0 {
				diagonal = want
			}
			within(t, diagonal, v, 1e-12, "covariance")
		}
	}
}

// One error that pad and swatches share cancels where their colours are one,
// and is carried by the difference of their derivatives where they are not.
func TestSharedLightCancels(t *testing.T) {
	one := []float64{2, 2, 2, 2, 2, 2, 2, 2, 2}
	for _, share := range []float64{0, 0.3, 1} {
		for _, v := range lightBetween(one, oneToOne, oneToOne, oneToOne, share) {
			within(t, 0, v, 1e-12, "one colour")
		}
	}
	twice := [9]float64{2, 0, 0, 0, 2, 0, 0, 0, 2}
	got := lightBetween(one, twice, oneToOne, oneToOne, 0.3)
	assert.InDelta(t, 2.0, got[0], 1e-12, "(2 - 1) squared times the variance 2")
	// L* moves with the first two figures of the pad's light, a* with the second.
	mixed := [9]float64{1, 3, 0, 0, 2, 0, 0, 0, 0}
	alone := []float64{2, 0, 0, 0, 0, 0, 0, 0, 0}
	got = lightBetween(alone, mixed, oneToOne, oneToOne, 0.3)
	for k, want := range []float64{20, 12, 0, 12, 8, 0, 0, 0, 0} {
		assert.InDelta(t, want, got[k], 1e-12, "entry %d: 2 times the product of the rows (1 3 0) and (0 2 0)", k)
	}
}

// Light that is known from fewer marks, further away, costs more steps.
func TestUncertainLightIsInTheBudget(t *testing.T) {
	many := scene(onRamp(2.5))
	few := scene(onRamp(2.5))
	few.Whites = few.Whites[1:2]
	a, b := readOne(t, many), readOne(t, few)
	assert.Greater(t, a.share(SourceLight), 0.01)
	assert.Greater(t, b.share(SourceLight), 1.3*a.share(SourceLight))
}

// Between two swatches what is not known of the values counts: by hand, of two
// that are sqrt(64 + 121 + 9) = 13.93 apart in CIELAB, 0.05 x (13.93/16)^0.4 =
// 0.047 steps in the middle. Past the chart's ends no value is read.
func TestBudgetHasTheValuesBetweenSwatchesAlone(t *testing.T) {
	steps := func(r Reading) (float64, bool) {
		for _, b := range r.Budget {
			if b.Source == SourceValues {
				return b.Steps, true
			}
		}
		return 0, false
	}
	got, found := steps(readOne(t, scene(onRamp(2.5))))
	require.True(t, found)
	within(t, 0.047, got, 0.003, "in the middle")
	_, found = steps(readOne(t, scene(onRamp(5.8))))
	assert.False(t, found, "past the top")
	low := scene(onRamp(-0.6))
	for i, v := range []float64{0.5, 1, 3, 7, 12, 25} {
		low.Pads[0].Analyte.Swatches[i].Value = v
	}
	_, found = steps(readOne(t, low))
	assert.False(t, found, "below the lowest")
}
