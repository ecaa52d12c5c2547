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

// Ask is what a caller wants to know besides the readings: what they are set against,
// and which units they are shown in. The zero Ask asks for the readings alone.
type Ask struct {
	Limits []limits.LimitChoice
	Guard  float64 // the probability that a verdict needs; [judge.DefaultGuard] when it is 0
	Units  []units.Unit
	// Dilution is how the water was mixed before the dip. With nil the marks' own
	// dilution is taken, if they give one.
	Dilution *units.Dilution
	// Pure are the readings of a strip dipped into the water itself, to be compared
	// with those of the diluted strip; nil without such a strip.
	Pure      []calib.Reading
	Standards []Standard
}

// Meaning says what one reading means for the water. It stands beside the reading
// itself.
type Meaning struct {
	Undiluted  *calib.Reading    // of the water before it was mixed; nil when it was not
	Refused    string            // why mixed water says nothing of this analyte; one sentence or empty
	Dilution   string            // as in "1+1"; empty when it was not mixed
	Converted  []calib.Converted // in the units asked for that its analyte can have
	Judgements []judge.Judgement // any number, the one for health first
	Standards  []StandardCheck
	NoLimit    bool // limits were asked for, and none is for this analyte
}

// Check refuses a limit that fits no analyte of the chart, a limit that fits several
// without naming one, and a unit that no analyte can have.
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

// fits says why no analyte can be given in a unit; it is nil where one can. Where an
// analyte lacks only what it is expressed as, the error says that.
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

// Of says what one reading means. day is the day of the photo, on which a limit must
// hold; the zero time takes limits of all days. For a diluted strip it says what the
// water was before it was mixed.
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
			m.Judgements = append(m.Judgements, judge.Against(r, l, a.Guard))
		}
	}
	m.NoLimit = len(a.Limits) > 0 && len(m.Judgements) == 0
	return m
}

// mean says what every reading means, by the limits that held on the day of the photo,
// and keeps that beside the readings. Where the question gives no dilution, that of
// the marks is taken.
func (r *Result) mean(a Ask) error {
	if err := a.Check(r.Chart); err != nil {
		return err
	}
	var err error
	if a.Dilution, err = a.dilution(r.Marks.Sample); err != nil {
		return err
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

// dilution is how the water was mixed, by the question or by the marks; nil where it was
// not.
func (a Ask) dilution(sample charts.SampleInfo) (*units.Dilution, error) {
	if a.Dilution != nil || sample.Dilution == "" {
		return a.Dilution, nil
	}
	d, err := units.ParseDilution(sample.Dilution)
	if err != nil {
		return nil, fmt.Errorf("sample.dilution: %w", err)
	}
	return &d, nil
}

// checkDiluted warns of a diluted strip whose pad is still at the chart's top. With a
// strip of the water itself it also warns when the two disagree.
func (a Ask) checkDiluted(u calib.Reading) []calib.Warning {
	pure := u // beside itself it can only be at the top
	var out []calib.Warning
	for _, p := range a.Pure {
		if p.Analyte.Name != u.Analyte.Name {
			continue
		}
		pure = p
		for _, w := range p.Warnings {
			if w.Code == calib.CodeColouredWater {
				out = append(out, colouredBefore(w, u.Analyte.Name))
			}
		}
	}
	if w, wrong := judge.CheckDilution(pure, u); wrong {
		out = append(out, w)
	}
	return out
}

// colouredBefore is the doubt of a diluted strip whose water was coloured or cloudy before
// it was mixed.
func colouredBefore(w calib.Warning, analyte string) calib.Warning {
	return calib.Warning{Code: w.Code, Weight: calib.Caution, Figure: w.Figure, Threshold: w.Threshold,
		Places: []calib.Place{{Kind: calib.PlacePad, Analyte: analyte}},
		Seen:   "The water itself, before it was mixed, was coloured or cloudy, and a part of that is in the diluted water too.",
		Then:   "Do not act on this reading alone: have the water tested by a laboratory."}
}

// sums judges by the rules about several analytes together, of which all must have
// been read. Readings of mixed water are first taken back to the water before.
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
				r.Sums = append(r.Sums, judge.Sum(water, l, a.Guard))
			}
		}
	}
}

// readAll reports whether every analyte of a sum was read.
func (r *Result) readAll(of []limits.Term) bool {
	for _, s := range of {
		if !slices.ContainsFunc(r.Readings, func(x calib.Reading) bool { return strings.EqualFold(x.Analyte.Name, s.Analyte) }) {
			return false
		}
	}
	return true
}

// Day is the local day on which the photo was taken, the zero time when it is not
// known. The limits that held on that day are the ones that count.
func (r *Result) Day() time.Time {
	day, _ := takenDay(r.Marks.Sample, r.Photo.Facts)
	return day
}
