package charts

import (
	"math"
	"strings"
)

// logRatio is the least ratio of two neighbouring values that auto spacing
// takes for a step of a logarithmic scale: doublings and more, and 10 to 19.
const logRatio = 1.9

// Spaced returns how values run from swatch i to swatch i+1 (0 is the lowest):
// [SpacingLinear] or [SpacingLog]. Auto is log where both values are positive,
// the higher is at least 1.9 times the lower and the unit is not pH. A step
// that begins at 0 is linear whatever the chart says, and so is one that does
// not exist.
func (a Analyte) Spaced(i int) Spacing {
	if i < 0 || i+1 >= len(a.Swatches) || a.Spacing == SpacingLinear {
		return SpacingLinear
	}
	lo, hi := a.Swatches[i].Value, a.Swatches[i+1].Value
	if !(lo > 0) {
		return SpacingLinear
	}
	if a.Spacing == SpacingLog || (!strings.EqualFold(a.Unit, "pH") && hi >= logRatio*lo*(1-1e-9)) {
		return SpacingLog
	}
	return SpacingLinear
}

// ValueAt returns the value at a place on the scale in steps: 0 at the lowest
// swatch, 1 at the next; clamped to the ends, exact at the swatches. A presence
// pad has no values between its two swatches: the nearer one's is returned.
// NaN for NaN and for an analyte without swatches.
func (a Analyte) ValueAt(step float64) float64 {
	top := len(a.Swatches) - 1
	if top < 0 || math.IsNaN(step) {
		return math.NaN()
	}
	step = math.Max(0, math.Min(step, float64(top)))
	if a.Kind == KindPresence {
		step = math.Round(step)
	}
	i := int(step)
	f := step - float64(i)
	if f == 0 {
		return a.Swatches[i].Value
	}
	lo, hi := a.Swatches[i].Value, a.Swatches[i+1].Value
	v := lo + f*(hi-lo)
	if a.Spaced(i) == SpacingLog {
		v = lo * math.Pow(hi/lo, f)
	}
	return math.Max(lo, math.Min(v, hi))
}

// StepOf is the inverse of [Analyte.ValueAt]: the place of a value on the
// scale in steps, clamped to the ends, exact at the swatches. For a presence
// pad it is the nearer swatch. NaN for NaN and for an analyte without swatches.
func (a Analyte) StepOf(value float64) float64 {
	top := len(a.Swatches) - 1
	if top < 0 || math.IsNaN(value) {
		return math.NaN()
	}
	if value <= a.Swatches[0].Value {
		return 0
	}
	if value >= a.Swatches[top].Value {
		return float64(top)
	}
	i := 0
	for value >= a.Swatches[i+1].Value {
		i++
	}
	lo, hi := a.Swatches[i].Value, a.Swatches[i+1].Value
	f := (value - lo) / (hi - lo)
	if a.Spaced(i) == SpacingLog {
		f = math.Log(value/lo) / math.Log(hi/lo)
	}
	if a.Kind == KindPresence {
		f = math.Round(f)
	}
	return float64(i) + math.Max(0, math.Min(f, 1))
}
