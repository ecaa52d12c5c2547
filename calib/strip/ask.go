package strip

import (
	"errors"
	"fmt"
	"time"

	"padband/calib"
	"padband/charts"
)

// Ask is what readings are set against and shown in.
type Ask struct {
	Limits []charts.LimitChoice
	Guard  float64 // the probability that a verdict needs; [calib.DefaultGuard] when it is 0
	Units  []charts.Unit
}

// Meaning is what one reading says of the water, beside the reading itself.
type Meaning struct {
	Converted  []calib.Converted // in the units asked for that its analyte can have
	Judgements []calib.Judgement // none or more, the one for health first
}

// Check refuses a limit that fits no analyte of the chart, or several of them
// without naming one, and a unit that none can have.
func (a Ask) Check(chart charts.Chart) error {
	for _, l := range a.Limits {
		if err := l.Check(chart.Analytes); err != nil {
			return err
		}
	}
	for _, u := range a.Units {
		if err := fits(u, chart.Analytes); err != nil {
			return err
		}
	}
	return nil
}

// fits says why none of the analytes can be given in a unit; of those that only
// lack what they are expressed as, that.
func fits(u charts.Unit, all []charts.Analyte) error {
	found := fmt.Errorf("no analyte of the chart can be given in %s; ask for another unit", u)
	for _, a := range all {
		_, err := charts.Factor(a.Name, a.Measure(), u)
		if err == nil {
			return nil
		}
		var unit *charts.UnitError
		if errors.As(err, &unit) && unit.NeedsAs {
			found = err
		}
	}
	return found
}

// Of says what one reading means; day is that of the photo, on which a limit
// must hold, and the zero time takes limits of all days.
func (a Ask) Of(r calib.Reading, day time.Time) (m Meaning) {
	for _, u := range a.Units {
		if c, err := r.In(u); err == nil {
			m.Converted = append(m.Converted, c)
		}
	}
	for _, choice := range a.Limits {
		for _, l := range choice.For(r.Analyte, day) {
			m.Judgements = append(m.Judgements, calib.Judge(r, l, a.Guard))
		}
	}
	return m
}

// Mean says what every reading means, by the limits that held on the day the
// photo was taken, and keeps it beside the readings.
func (r *Result) Mean(a Ask) error {
	if err := a.Check(r.Chart); err != nil {
		return err
	}
	r.Meanings = make([]Meaning, len(r.Readings))
	for i, x := range r.Readings {
		r.Meanings[i] = a.Of(x, r.Day())
	}
	return nil
}

// Day is the local day on which the photo was taken; the zero time when it is not known.
func (r *Result) Day() time.Time {
	day, _ := takenDay(r.Marks.Sample, r.Photo.Facts)
	return day
}
