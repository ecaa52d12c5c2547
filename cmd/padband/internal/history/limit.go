package history

import (
	"math"

	"padband/calib/reading"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
)

// limitOf is the limit in the series' unit, with how the values stand to it; nil
// when it is not for this analyte or not in a unit that can be converted.
func limitOf(c *limits.LimitChoice, analyte string, unit units.Unit, rows []Row) *Limit {
	if c == nil || len(rows) == 0 {
		return nil
	}
	for _, l := range c.For(charts.Analyte{Name: analyte, Unit: unit.Name, As: unit.As}, rows[len(rows)-1].Time) {
		f, err := units.Factor(analyte, l.Unit, unit)
		if err != nil || len(l.Classes) > 0 {
			continue
		}
		out := &Limit{Text: l.Text(), Low: math.NaN(), High: f.Of(l.Value)}
		if l.TwoSided() {
			out.Low, out.High = f.Of(l.Low), f.Of(l.High)
		}
		count(out, rows)
		return out
	}
	return nil
}

// count counts the values past a limit and those that may be.
func count(l *Limit, rows []Row) {
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
