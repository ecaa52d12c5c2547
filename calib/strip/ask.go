package strip

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"padband/calib"
	"padband/calib/judge"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
)

// Ask is what readings are set against and shown in.
type Ask struct {
	Limits []limits.LimitChoice
	Guard  float64 // the probability that a verdict needs; [calib.DefaultGuard] when it is 0
	Units  []units.Unit
	// Dilution is how the water was mixed before the dip; nil takes what the marks
	// say, if anything.
	Dilution *units.Dilution
	// Pure are the readings of a strip dipped into the water itself, to set the
	// diluted strip's beside; nil without one.
	Pure      []calib.Reading
	Standards []Standard
}

// Meaning is what one reading says of the water, beside the reading itself.
type Meaning struct {
	Undiluted  *calib.Reading    // of the water before it was mixed; nil when it was not
	Refused    string            // why mixed water says nothing of this analyte; one sentence or empty
	Dilution   string            // as in "1+1"; empty when it was not mixed
	Converted  []calib.Converted // in the units asked for that its analyte can have
	Judgements []judge.Judgement // none or more, the one for health first
	Standards  []StandardCheck
	NoLimit    bool // limits were asked for, and none is for this analyte
}

// Check refuses a limit that fits no analyte of the chart, or several of them
// without naming one, and a unit that none can have.
func (a Ask) Check(chart charts.Chart) error {
	for _, l := range a.Limits {
		if err := l.Check(chart.Analytes); err != nil {
			return err
		}
	}
	for _, s := range a.Standards {
		if err := s.check(chart.Analytes); err != nil {
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
func fits(u units.Unit, all []charts.Analyte) error {
	found := fmt.Errorf("no analyte of the chart can be given in %s; ask for another unit", u)
	for _, a := range all {
		_, err := units.Factor(a.Name, a.Measure(), u)
		if err == nil {
			return nil
		}
		var unit *units.Error
		if errors.As(err, &unit) && unit.NeedsAs {
			found = err
		}
	}
	return found
}

// Of says what one reading means; day is that of the photo, on which a limit
// must hold, and the zero time takes limits of all days. What a diluted strip
// means is of the water before it was mixed.
func (a Ask) Of(r calib.Reading, day time.Time) (m Meaning) {
	r.Warnings = slices.Clone(r.Warnings)
	for _, s := range a.Standards {
		if c := s.beside(r); c != nil {
			m.Standards = append(m.Standards, *c)
			if !c.Holds {
				r.Add(c.off()) // for the judgement
			}
		}
	}
	if a.Dilution != nil {
		m.Dilution = a.Dilution.String()
		u, err := r.Undiluted(*a.Dilution)
		if err != nil {
			m.Refused = err.Error() + "."
			return m
		}
		m.Undiluted, r = &u, u
		r.Warnings = slices.Clone(r.Warnings)
		r.Add(a.checkDiluted(u)...) // for the judgement
	}
	for _, u := range a.Units {
		if c, err := r.In(u); err == nil {
			m.Converted = append(m.Converted, c)
		}
	}
	for _, choice := range a.Limits {
		for _, l := range choice.For(r.Analyte, day) {
			m.Judgements = append(m.Judgements, judge.Judge(r, l, a.Guard))
		}
	}
	m.NoLimit = len(a.Limits) > 0 && len(m.Judgements) == 0
	return m
}

// mean says what every reading means, by the limits that held on the day the
// photo was taken, beside the readings.
func (r *Result) mean(a Ask) error {
	if err := a.Check(r.Chart); err != nil {
		return err
	}
	if a.Dilution == nil && r.Marks.Sample.Dilution != "" {
		d, err := units.ParseDilution(r.Marks.Sample.Dilution)
		if err != nil {
			return fmt.Errorf("sample.dilution: %w", err)
		}
		a.Dilution = &d
	}
	r.Meanings = make([]Meaning, len(r.Readings))
	for i := range r.Readings {
		m := a.Of(r.Readings[i], r.Day())
		if m.Undiluted != nil {
			r.Readings[i].Add(a.checkDiluted(*m.Undiluted)...)
		}
		for _, c := range m.Standards {
			if !c.Holds {
				r.Readings[i].Add(c.off())
			}
		}
		r.Meanings[i] = m
	}
	r.sums(a)
	return nil
}

// checkDiluted is what is wrong with a diluted strip, alone or beside the pure one.
func (a Ask) checkDiluted(u calib.Reading) []calib.Warning {
	pure := u // beside itself it can only be at the top
	for _, p := range a.Pure {
		if p.Analyte.Name == u.Analyte.Name {
			pure = p
		}
	}
	if w, wrong := judge.CheckDilution(pure, u); wrong {
		return []calib.Warning{w}
	}
	return nil
}

// sums judges by the rules about several analytes together of which all were read.
func (r *Result) sums(a Ask) {
	water := make([]calib.Reading, len(r.Readings))
	for i, x := range r.Readings {
		water[i] = x
		if u := r.Meanings[i].Undiluted; u != nil {
			water[i] = *u
		}
	}
	for _, choice := range a.Limits {
		for _, l := range choice.Set.Sums(r.Day()) {
			if r.readAll(l.Sum) {
				r.Sums = append(r.Sums, judge.JudgeSum(water, l, a.Guard))
			}
		}
	}
}

func (r *Result) readAll(of []limits.Term) bool {
	for _, s := range of {
		if !slices.ContainsFunc(r.Readings, func(x calib.Reading) bool { return strings.EqualFold(x.Analyte.Name, s.Analyte) }) {
			return false
		}
	}
	return true
}

// Day is the local day on which the photo was taken; the zero time when it is not known.
func (r *Result) Day() time.Time {
	day, _ := takenDay(r.Marks.Sample, r.Photo.Facts)
	return day
}
