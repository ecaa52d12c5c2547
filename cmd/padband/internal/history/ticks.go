package history

import (
	"math"
	"strconv"
	"time"

	"gonum.org/v1/plot"
)

// valueTicks stand at round values, some five of them.
type valueTicks struct{}

// Ticks marks the axis from one value to another: at 1, 2 or 5 times a power of ten,
// whichever gives at most seven of them.
func (valueTicks) Ticks(from, to float64) (out []plot.Tick) {
	step := math.Pow10(int(math.Floor(math.Log10((to - from) / 5))))
	for _, times := range []float64{1, 2, 5, 10} {
		if (to-from)/(step*times) <= 7 {
			step *= times
			break
		}
	}
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	for i := math.Ceil(from/step - 1e-9); i*step <= to; i++ {
		v := i*step + 0 // no minus before nought
		out = append(out, plot.Tick{Value: v, Label: strconv.FormatFloat(v, 'f', decimals, 64)})
	}
	return out
}

// dateTicks stand at the beginnings of days or months, some five of them.
type dateTicks struct{}

// Ticks marks the axis from one time to another: at years, months or days, whichever
// leaves room for their names.
func (dateTicks) Ticks(from, to float64) (out []plot.Tick) {
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
	for ; seconds(t) <= to; t = t.AddDate(0, months, 0) {
		if seconds(t) >= from {
			out = append(out, plot.Tick{Value: seconds(t), Label: t.Format(form)})
		}
		if months == 0 {
			t = t.AddDate(0, 0, step)
		}
	}
	return out
}
