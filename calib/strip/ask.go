package strip

import (
	"time"

	"padband/calib"
	"padband/charts"
)

// Ask is what readings are set against.
type Ask struct {
	Limits []charts.LimitChoice
	Guard  float64 // the probability that a verdict needs; [calib.DefaultGuard] when it is 0
}

// Check refuses a limit that fits no analyte of the chart, or several of them
// without naming one.
func (a Ask) Check(chart charts.Chart) error {
	for _, l := range a.Limits {
		if err := l.Check(chart.Analytes); err != nil {
			return err
		}
	}
	return nil
}

// Of sets one reading against each limit that is for its analyte on that day,
// in the order asked; none when there is no such limit. The zero time takes
// limits of all days.
func (a Ask) Of(r calib.Reading, day time.Time) (out []calib.Judgement) {
	for _, choice := range a.Limits {
		for _, l := range choice.For(r.Analyte, day) {
			out = append(out, calib.Judge(r, l, a.Guard))
		}
	}
	return out
}

// Judge sets every reading against the limits that held on the day the photo
// was taken, and keeps the judgements beside the readings.
func (r *Result) Judge(a Ask) error {
	if err := a.Check(r.Chart); err != nil {
		return err
	}
	r.Judgements = make([][]calib.Judgement, len(r.Readings))
	for i, x := range r.Readings {
		r.Judgements[i] = a.Of(x, r.Day())
	}
	return nil
}

// Day is the local day on which the photo was taken; the zero time when it is not known.
func (r *Result) Day() time.Time {
	day, _ := takenDay(r.Marks.Sample, r.Photo.Facts)
	return day
}
