package charts

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func scale(unit string, spacing Spacing, values ...float64) Analyte {
	a := Analyte{Name: "x", Unit: unit, Kind: KindScale, Spacing: spacing, Parts: 1}
	for _, v := range values {
		a.Swatches = append(a.Swatches, Swatch{Value: v})
	}
	return a
}

// TestSpacedFollowsTheRule holds the rule: log where both values are positive,
// the higher is at least 1.9 times the lower and the unit is not pH.
func TestSpacedFollowsTheRule(t *testing.T) {
	for _, c := range []struct {
		unit   string
		chosen Spacing
		lo, hi float64
		want   Spacing
	}{
		{"mg/L", SpacingAuto, 10, 19, SpacingLog},
		{"mg/L", SpacingAuto, 0.1, 0.19, SpacingLog},
		{"mg/L", SpacingAuto, 10, 18.99, SpacingLinear},
		{"mg/L", SpacingAuto, 0, 1, SpacingLinear},
		{"mg/L", "", 1, 3, SpacingLog},
		{"pH", SpacingAuto, 4, 9, SpacingLinear},
		{"ph", SpacingAuto, 4, 9, SpacingLinear},
		{"mg/L", SpacingLinear, 1, 10, SpacingLinear},
		{"mg/L", SpacingLog, 10, 11, SpacingLog},
		{"mg/L", SpacingLog, 0, 11, SpacingLinear},
		{"pH", SpacingLog, 4, 5, SpacingLog},
	} {
		assert.Equal(t, c.want, scale(c.unit, c.chosen, c.lo, c.hi).Spaced(0), "%+v", c)
	}
	a := scale("mg/L", SpacingLog, 1, 2)
	assert.Equal(t, SpacingLinear, a.Spaced(1))
	assert.Equal(t, SpacingLinear, a.Spaced(-1))
}

// TestValueAtByHand holds values worked out by hand: a linear step's quarter,
// and a log step's middle, which is the geometric mean.
func TestValueAtByHand(t *testing.T) {
	a := scale("mg/L", SpacingAuto, 0, 1, 4, 6)
	for _, c := range []struct{ step, value float64 }{
		{-1, 0}, {0, 0}, {0.25, 0.25}, {1, 1}, {1.5, 2}, {2, 4}, {2.5, 5}, {3, 6}, {9, 6}, {math.Inf(1), 6}, {math.Inf(-1), 0},
	} {
		assert.InDelta(t, c.value, a.ValueAt(c.step), 1e-12, "step %v", c.step)
	}
	for _, c := range []struct{ value, step float64 }{
		{-1, 0}, {0, 0}, {0.25, 0.25}, {1, 1}, {2, 1.5}, {4, 2}, {5, 2.5}, {6, 3}, {1000, 3}, {math.Inf(1), 3},
	} {
		assert.InDelta(t, c.step, a.StepOf(c.value), 1e-12, "value %v", c.value)
	}
	for _, nan := range []float64{a.ValueAt(math.NaN()), a.StepOf(math.NaN()), Analyte{}.ValueAt(0), Analyte{}.StepOf(0)} {
		assert.True(t, math.IsNaN(nan))
	}
}

// TestPresenceIsNotInterpolated: a yes or no pad has its two values and none between.
func TestPresenceIsNotInterpolated(t *testing.T) {
	a := scale("", SpacingAuto, 0, 4)
	a.Kind = KindPresence
	assert.Equal(t, 0.0, a.ValueAt(0.49))
	assert.Equal(t, 4.0, a.ValueAt(0.51))
	assert.Equal(t, 0.0, a.StepOf(1.9))
	assert.Equal(t, 1.0, a.StepOf(2.1))
}

// TestScaleGoesThereAndBack is over 2,000 made-up scales: exact at the
// swatches, rising, and the same step after a round trip.
func TestScaleGoesThereAndBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		values := []float64{float64(rng.IntN(2)) * rng.Float64()}
		for range 1 + rng.IntN(8) {
			last := values[len(values)-1]
			values = append(values, last+math.Max(1e-3, last*rng.Float64()*3)+rng.Float64())
		}
		require.True(t, slices.IsSorted(values))
		a := scale("mg/L", []Spacing{SpacingAuto, SpacingLinear, SpacingLog}[rng.IntN(3)], values...)
		for i, v := range values {
			require.Equal(t, v, a.ValueAt(float64(i)))
			require.Equal(t, float64(i), a.StepOf(v))
		}
		top := float64(len(values) - 1)
		s, u := rng.Float64()*top, rng.Float64()*top
		require.InDelta(t, s, a.StepOf(a.ValueAt(s)), 1e-9)
		require.Equal(t, s < u, a.ValueAt(s) < a.ValueAt(u), "%v: %v, %v", values, s, u)
		v := values[0] + rng.Float64()*(values[len(values)-1]-values[0])
		require.InEpsilon(t, 1+v, 1+a.ValueAt(a.StepOf(v)), 1e-9)
	}
}
