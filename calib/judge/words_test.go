package judge

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/charts/limits"
)

func TestHardnessClasses(t *testing.T) {
	a := charts.Analyte{Name: "total hardness", Unit: "°dH", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
	for _, v := range []float64{0, 3, 6, 9, 12, 20} {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: v})
	}
	j := Against(readingAt(a, 2.25, 0.05), bundledLimit(t, "usgs-hardness", "total hardness"), 0)
	require.Len(t, j.Classes, 4)
	sum := 0.0
	for _, c := range j.Classes {
		assert.True(t, c.Chance.Known())
		sum += c.Chance.AtLeast
	}
	within(t, 1, sum, 1e-9, "chances")
	// 120 mg/L as CaCO3 is 120/17.847959 °dH (water_units.csv).
	edge := 2 + (120/17.847959-6)/3
	want := 0.5 * math.Erfc((2.25-edge)/math.Hypot(0.05, assumedKit/1.96)/math.Sqrt2)
	within(t, want, j.Classes[1].Chance.AtLeast, 0.001, "moderately hard")
	assert.Equal(t, VerdictNone, j.Verdict)
	assert.Regexp(t, `^Moderately hard \(\d+ %\), hard \(\d+ %\), in the classes of USGS\.$`, j.Words[0])
}

// Rounding at a limit: no figure is printed on the wrong side of it.
func TestFiguresAtALimit(t *testing.T) {
	iron := charts.Analyte{Name: "iron", Unit: "mg/L", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
	for _, v := range []float64{0, 0.25, 0.5, 0.75, 1} {
		iron.Swatches = append(iron.Swatches, charts.Swatch{Value: v})
	}
	l := given(t, "0.5 mg/L", iron)
	for v, want := range map[float64]string{
		0.4999: "just under 0.5 mg/L", 0.49999999: "just under 0.5 mg/L", 0.5001: "just over 0.5 mg/L", 0.5: "0.5 mg/L",
		0.4951: "just under 0.5 mg/L", 0.4949: "0.49 mg/L", 0.506: "0.51 mg/L", 0.31: "0.31 mg/L",
	} {
		j := Judgement{Limit: l, Value: v, Low: calib.Bound{Value: v - 0.04}, High: calib.Bound{Value: v + 0.04}}
		assert.Equal(t, want, j.Figure(calib.Reading{Range: calib.Within}), v)
	}
	j := Judgement{Limit: l, Value: 1}
	assert.Equal(t, "1 mg/L or more", j.Figure(calib.Reading{Range: calib.Above}))
}

// A percentage never reaches the guard by rounding, nor says certainty.
func TestPercentAtTheGuard(t *testing.T) {
	j := Judgement{Guard: 0.95}
	for p, want := range map[float64]string{
		0.41: "41 %", 0.949: "94.9 %", 0.9499: "94.99 %", 0.95: "95 %", 0.9501: "95 %", 0.0501: "5.01 %", 0.05: "5 %", 0.0499: "5 %",
		0: "under 1 %", 0.004: "under 1 %", 1: "over 99 %", 0.996: "over 99 %", 0.5: "50 %",
	} {
		assert.Equal(t, want, j.percent(p), p)
	}
	assert.Equal(t, "at most 12 %", j.chance(Chance{0, 0.12}))
	assert.Equal(t, "at least 80 %", j.chance(Chance{0.8, 1}))
	assert.Equal(t, "10 % to 20 %", j.chance(Chance{0.1, 0.2}))
}

// No judgement ever calls water safe.
func TestNeverCallsWaterSafe(t *testing.T) {
	for step := 0.0; step <= 5.5; step += 0.5 {
		for _, set := range []string{"us-epa", "who", "eu"} {
			j := Against(readingAt(nitrate(0.5*math.Mod(step, 2)), step, 0.2), bundledLimit(t, set, "nitrate"), 0)
			text := strings.ToLower(strings.Join(append(j.Words, j.Next...), " "))
			assert.NotContains(t, text, "safe")
			assert.NotContains(t, text, "no danger")
		}
	}
}

// Only of a limit for health it is said what settles it: of one for taste that
// cannot be told, a laboratory is no advice.
func TestWhatSettlesIsSaidOfHealthAlone(t *testing.T) {
	iron := charts.Analyte{Name: "iron", Unit: "mg/L", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
	for _, v := range []float64{0, 0.1, 0.3, 0.5, 1} {
		iron.Swatches = append(iron.Swatches, charts.Swatch{Value: v})
	}
	for _, c := range []struct {
		reading calib.Reading
		limit   limits.Limit
		settled bool
	}{
		{readingAt(nitrate(0), 3.5, 0.3), bundledLimit(t, "us-epa", "nitrate"), true},
		{readingAt(iron, 2, 0.3), bundledLimit(t, "us-epa", "iron"), false},
	} {
		j := Against(c.reading, c.limit, 0)
		require.Equal(t, VerdictCannotTell, j.Verdict, c.limit.Analyte)
		require.Equal(t, c.settled, c.limit.Kind == limits.LimitHealth)
		assert.Equal(t, c.settled, strings.Contains(strings.Join(j.Words, " "), "A certified laboratory settles it."), c.limit.Analyte)
	}
}
