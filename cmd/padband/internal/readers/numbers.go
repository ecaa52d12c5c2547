package readers

import (
	"fmt"
	"math"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/lines"
)

// figurer prints the figures of one comparison with their digits and unit.
type figurer struct {
	decimals int
	unit     string
	ratio    bool    // figures are ratios
	none     float64 // no difference: 0, or 1 of a ratio
}

// newFigurer prints differences so finely that a hundredth of their spread shows.
func newFigurer(c agreement.Comparison) figurer {
	f := figurer{decimals: decimalsOf(c.Differences.Spread / 100), unit: unitOf(c), ratio: c.Method.Log}
	if f.ratio {
		f.decimals, f.none = 2, 1
	}
	if !(c.Differences.Spread > 0) {
		f.decimals = 2
	}
	return f
}

// inStepsFigurer prints figures in swatch steps.
func inStepsFigurer() figurer { return figurer{decimals: 2} }

// decimalsOf are the decimals that show a size, from 0 to 6.
func decimalsOf(size float64) int {
	if !(size > 0) || math.IsInf(size, 0) {
		return 2
	}
	return min(max(int(math.Ceil(-math.Log10(size)-1e-9)), 0), 6)
}

// num prints a figure; what rounds to zero is 0 without a sign.
func (f figurer) num(v float64) string {
	if lines.Vanishes(v, f.decimals) {
		v = 0
	}
	return lines.Fixed(v, f.decimals)
}

// amount is a figure with its unit.
func (f figurer) amount(v float64) string {
	if f.unit == "" || f.unit == "pH" {
		return f.num(v)
	}
	return f.num(v) + " " + f.unit
}

// inBrackets is an interval: " (0.4 to 3.8)"; nothing where there is none.
func (f figurer) inBrackets(e agreement.Estimate) string {
	low, high := math.IsInf(e.Low, 0) || f.ratio && e.Low == 0, math.IsInf(e.High, 0)
	switch {
	case math.IsNaN(e.Low+e.High) && !(low && high):
		return ""
	case low && high:
		return " (no bounds)"
	case low:
		return " (at most " + f.num(e.High) + ")"
	case high:
		return " (at least " + f.num(e.Low) + ")"
	}
	return " (" + f.num(e.Low) + " to " + f.num(e.High) + ")"
}

// estimate is a figure with its interval, or the reason why there is none: a figure is
// never left out in silence.
func (f figurer) estimate(e agreement.Estimate) string {
	if !e.Defined() {
		return e.Why
	}
	return f.num(e.Value) + f.inBrackets(e)
}

// share is a count with its percentage and interval.
func share(s agreement.Proportion) string {
	if !s.Defined() {
		return s.Why
	}
	d := shareDecimals(s)
	return fmt.Sprintf("%d of %d, %s (%s to %s)", s.Count, s.Of, partOf(s), lines.Fixed(100*s.Low, d), lines.Fixed(100*s.High, d))
}

// shareDecimals are the decimals of a share in per cent: one from 1,000 counted.
func shareDecimals(s agreement.Proportion) int {
	if s.Of >= 1000 {
		return 1
	}
	return 0
}

// partOf is a share in per cent, which is 0 or 100 only where it is none or all.
func partOf(s agreement.Proportion) string {
	switch p := 100 * float64(s.Count) / float64(s.Of); {
	case s.Count < s.Of && p > 99:
		return "over 99 %"
	case s.Count > 0 && p < 1:
		return "under 1 %"
	default:
		return lines.Fixed(p, shareDecimals(s)) + " %"
	}
}
