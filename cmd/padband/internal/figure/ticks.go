package figure

import (
	"math"
	"time"

	"gonum.org/v1/plot"

	"padband/cmd/padband/internal/lines"
)

// Even ticks stand at the multiples of 1, 2 or 5 times a power of ten: the least step
// with which the axis has at most so many Spaces.
type Even struct {
	Spaces int
	Label  func(v float64, decimals int) string
}

// Ticks marks the axis from one value to another.
func (e Even) Ticks(from, to float64) (out []plot.Tick) {
	step := lines.Round125((to - from) / float64(e.Spaces))
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	for k := math.Ceil(from/step - 1e-9); k*step <= to; k++ {
		v := k*step + 0 // no minus before nought
		out = append(out, plot.Tick{Value: v, Label: e.Label(v, decimals)})
	}
	return out
}

// Round ticks are 1, 2 and 5 times powers of ten, for a log axis; all whole steps
// where these are fewer than three.
type Round struct{}

// Ticks marks the axis from one value to another, both over 0.
func (Round) Ticks(from, to float64) (out []plot.Tick) {
	for ten := math.Pow(10, math.Floor(math.Log10(from))); ten <= to; ten *= 10 {
		for _, k := range []float64{1, 2, 5} {
			if v := k * ten; v >= from && v <= to {
				out = append(out, plot.Tick{Value: v, Label: lines.Plain(v)})
			}
		}
	}
	if len(out) < 3 {
		return plot.DefaultTicks{}.Ticks(from, to)
	}
	return out
}

// Seconds is where a time stands on an axis with [Dates].
func Seconds(t time.Time) float64 { return float64(t.Unix()) }

// Dates are ticks at the beginnings of days, months or years, some five of them.
type Dates struct{}

// Ticks marks the axis from one time to another: at years, months or days, whichever
// leaves room for their names.
func (Dates) Ticks(from, to float64) (out []plot.Tick) {
	const day = 86400
	step, months, form := 1, 0, "2 Jan 2006"
	switch days := (to - from) / day; {
	case days > 5*365:
		months, form = 12*int(math.Ceil(days/365/5)), "2006"
	case days > 75:
		for _, months = range []int{1, 2, 3, 4, 6, 12} {
			if days/30.5/6 <= float64(months) {
				break
			}
		}
		form = "Jan 2006"
	default:
		step, form = max(1, int(math.Ceil(days/4))), "2 Jan"
	}
	t := time.Unix(int64(from), 0).UTC().Truncate(day * time.Second)
	if months > 0 {
		t = time.Date(t.Year(), time.January, 1, 0, 0, 0, 0, time.UTC)
	}
	for ; Seconds(t) <= to; t = t.AddDate(0, months, 0) {
		if Seconds(t) >= from {
			out = append(out, plot.Tick{Value: Seconds(t), Label: t.Format(form)})
		}
		if months == 0 {
			t = t.AddDate(0, 0, step)
		}
	}
	return out
}
