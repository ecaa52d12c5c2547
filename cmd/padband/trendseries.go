package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"padband/calib"
	"padband/calib/reading"
	"padband/charts"
	"padband/cmd/padband/internal/history"
	"padband/cmd/padband/internal/record"
)

// series puts what was gathered in order of time and in one unit, and tests it.
func (g *gathered) series(limit *charts.LimitChoice) (history.Series, error) {
	s := history.Series{Analyte: g.analyte, Place: g.place, Point: g.point, Where: hit{Summary: record.Summary{Place: g.place, Point: g.point}}.where()}
	if len(g.rows) > mostInSeries {
		return s, fmt.Errorf("%s of %s has over %d records; choose some with --from, --until or --lot", g.analyte, s.Where, mostInSeries)
	}
	s.Notes = append(s.Notes, g.clocks()...)
	slices.SortStableFunc(g.rows, func(a, b gatheredRow) int { return cmp.Or(a.time.Compare(b.time), cmp.Compare(a.Path, b.Path)) })
	s.Notes = append(s.Notes, g.once()...)
	unit, factors, notes := g.unit()
	s.Unit, s.Notes = unit.String(), append(s.Notes, notes...)
	for _, r := range g.rows {
		if f, ok := factors[key(r)]; ok {
			s.Rows = append(s.Rows, r.in(f, unit))
		}
	}
	mark(s.Rows)
	tested := points(s.Rows)
	if n := len(s.Rows) - len(tested); n > 0 {
		s.Notes = append(s.Notes, number(n, "unreliable reading")+" in the table and not in the test.")
	}
	if n := untold(tested); n > 0 {
		s.Notes = append(s.Notes, number(n, "record")+" in the test without a kit lot, which "+map[bool]string{true: "counts", false: "count"}[n == 1]+" only where water bands do not overlap: a new bottle looks like a change.")
	}
	s.Result = calib.MannKendall(tested)
	s.Limit = limitOf(limit, g.analyte, unit, s.Rows)
	return s, nil
}

// clocks turns times without an offset into the place's own time: that of the
// record with an offset that is nearest on the clock, else UTC for all.
func (g *gathered) clocks() (notes []string) {
	var known []gatheredRow
	for _, r := range g.rows {
		if r.offset {
			known = append(known, r)
		}
	}
	missing := len(g.rows) - len(known)
	for i, r := range g.rows {
		if r.offset || len(known) == 0 {
			continue
		}
		near := slices.MinFunc(known, func(a, b gatheredRow) int {
			return cmp.Compare(onClock(a.time).Sub(r.time).Abs(), onClock(b.time).Sub(r.time).Abs())
		})
		y, m, d := r.time.Date()
		g.rows[i].time = time.Date(y, m, d, r.time.Hour(), r.time.Minute(), r.time.Second(), r.time.Nanosecond(), near.time.Location())
	}
	if missing > 0 {
		notes = append(notes, number(missing, "time")+" without an offset from UTC, taken as the place's clock.")
	}
	if g.untimed > 0 {
		notes = append(notes, number(g.untimed, "record")+" without a time of the photo left out.")
	}
	return notes
}

// onClock is what a time shows on its own clock, as if that were UTC's.
func onClock(t time.Time) time.Time {
	_, offset := t.Zone()
	return t.UTC().Add(time.Duration(offset) * time.Second)
}

// once leaves out further records of one photo, and further photos of one dip.
func (g *gathered) once() (notes []string) {
	photos, dips := map[string]bool{}, map[string]bool{}
	photo, dip := 0, 0
	g.rows = slices.DeleteFunc(g.rows, func(r gatheredRow) bool {
		samePhoto, sameDip := r.Photo != "" && photos[r.Photo], r.Dipped != "" && dips[r.Dipped]
		photos[r.Photo], dips[r.Dipped] = true, true
		switch {
		case samePhoto:
			photo++
		case sameDip:
			dip++
		}
		return samePhoto || sameDip
	})
	if photo > 0 {
		notes = append(notes, number(photo, "record")+" of a photo that another record has, left out.")
	}
	if dip > 0 {
		notes = append(notes, number(dip, "record")+" of a dip that another record has, left out.")
	}
	return notes
}

// unitKey tells units apart; where one does not say what it is expressed as, the
// chart decides too.
type unitKey struct {
	unit  charts.Unit
	chart string
}

func key(r gatheredRow) unitKey {
	k := unitKey{unit: measure(r.read)}
	if _, err := charts.Factor(r.read.Analyte, k.unit, k.unit); err != nil {
		k.chart = r.Chart.SHA256
	}
	return k
}

// unit chooses the unit that most records have, the latest of two, and finds
// what the others are multiplied with. Those that cannot be converted are noted.
func (g *gathered) unit() (to charts.Unit, factors map[unitKey]float64, notes []string) {
	counts := map[unitKey]int{}
	var order []unitKey // by the latest record
	for _, r := range slices.Backward(g.rows) {
		if counts[key(r)]++; counts[key(r)] == 1 {
			order = append(order, key(r))
		}
	}
	if len(order) == 0 {
		return to, nil, nil
	}
	most := slices.MaxFunc(order, func(a, b unitKey) int { return cmp.Compare(counts[a], counts[b]) }) // the first of several
	factors = map[unitKey]float64{most: 1}
	for _, k := range order {
		f, err := charts.Factor(g.analyte, k.unit, most.unit)
		switch {
		case k == most:
		case err == nil && k.chart == "" && most.chart == "":
			factors[k] = f.Of(1)
			if k.unit != most.unit {
				notes = append(notes, fmt.Sprintf("%s converted from %s.", number(counts[k], "record"), k.unit))
			}
		default:
			notes = append(notes, fmt.Sprintf("%s in %s left out: that cannot be converted into %s of the others.", number(counts[k], "record"), unitName(k.unit), unitName(most.unit)))
		}
	}
	return most.unit, factors, notes
}

func unitName(u charts.Unit) string {
	if s := u.String(); s != "" {
		return s
	}
	return "no unit"
}

// in is a row of the table, its figures multiplied.
func (r gatheredRow) in(factor float64, unit charts.Unit) history.Row {
	out := history.Row{
		Time: r.time, Value: float64(r.read.Value) * factor, Range: r.read.Range, Reliability: r.read.Reliability,
		Lot: r.Lot, Chart: cmp.Or(r.Chart.Name, "not named"), ChartSHA256: r.Chart.SHA256, Path: r.Path,
	}
	if r.Chart.Version != "" {
		out.Chart += " " + r.Chart.Version
	}
	out.Band, out.Water = band(r.read.Band, out.Value, factor), band(r.read.WaterBand, out.Value, factor)
	if u := measure(r.read); u != unit {
		out.Converted = u.String()
	}
	return out
}

// band is a band multiplied; at an open end stands the value, multiplied already.
func band(b *reading.Band, value, factor float64) calib.Band {
	end := func(v float64) calib.Bound {
		if math.IsInf(v, 0) {
			return calib.Bound{Value: value, Open: true}
		}
		return calib.Bound{Value: v * factor}
	}
	low, high := b.Ends()
	return calib.Band{Low: end(low), High: end(high), Coverage: 0.95}
}

// mark says in each row whether lot or chart are not those of the row before.
func mark(rows []history.Row) {
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], &rows[i]
		b.NewLot = folded(a.Lot) != folded(b.Lot)
		b.NewChart = a.Chart != b.Chart || a.ChartSHA256 != b.ChartSHA256
	}
}

// points are the rows that are tested.
func points(rows []history.Row) (out []calib.TrendPoint) {
	for _, r := range rows {
		if r.Reliability == calib.Unreliable || math.IsNaN(r.Value) {
			continue
		}
		source := ""
		if r.Lot != "" {
			source = folded(r.Lot) + "\x00" + r.Chart + "\x00" + r.ChartSHA256
		}
		out = append(out, calib.TrendPoint{Value: r.Value, Band: r.Band, WaterBand: r.Water, Source: source})
	}
	return out
}

// untold is how many points are of a lot that nobody wrote down.
func untold(of []calib.TrendPoint) (n int) {
	for _, p := range of {
		if p.Source == "" {
			n++
		}
	}
	return n
}

// limitOf is the limit in the series' unit, with how the values stand to it; nil
// when it is not for this analyte or not in a unit that can be converted.
func limitOf(c *charts.LimitChoice, analyte string, unit charts.Unit, rows []history.Row) *history.Limit {
	if c == nil || len(rows) == 0 {
		return nil
	}
	for _, l := range c.For(charts.Analyte{Name: analyte, Unit: unit.Name, As: unit.As}, rows[len(rows)-1].Time) {
		f, err := charts.Factor(analyte, l.Unit, unit)
		if err != nil || len(l.Classes) > 0 {
			continue
		}
		out := &history.Limit{Text: l.Text(), Low: math.NaN(), High: f.Of(l.Value)}
		if l.TwoSided() {
			out.Low, out.High = f.Of(l.Low), f.Of(l.High)
		}
		count(out, rows)
		return out
	}
	return nil
}

// count counts the values past a limit and those that may be.
func count(l *history.Limit, rows []history.Row) {
	for _, r := range rows {
		s := reading.Reading{Value: reading.Figure(r.Value), Range: r.Range, WaterBand: reading.BandOf(r.Water)}
		is, may := beyond(s, l.High, 1)
		if !math.IsNaN(l.Low) {
			under, mayUnder := beyond(s, l.Low, -1)
			is, may = is || under, may || mayUnder
		}
		switch {
		case is:
			l.Past++
		case may:
			l.MayBe++
		}
	}
}
