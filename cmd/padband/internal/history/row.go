package history

import (
	"cmp"
	"math"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/reading"
	"padband/charts/units"
)

// in is a row of the table, its figures multiplied.
func (r gatheredRow) in(factor float64, unit units.Unit) Row {
	out := Row{
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
func mark(rows []Row) {
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], &rows[i]
		b.NewLot = folded(a.Lot) != folded(b.Lot)
		b.NewChart = a.Chart != b.Chart || a.ChartSHA256 != b.ChartSHA256
	}
}

// points are the rows that are tested.
func points(rows []Row) (out []judge.TrendPoint) {
	for _, r := range rows {
		if r.Reliability == calib.Unreliable || math.IsNaN(r.Value) {
			continue
		}
		source := ""
		if r.Lot != "" {
			source = folded(r.Lot) + "\x00" + r.Chart + "\x00" + r.ChartSHA256
		}
		out = append(out, judge.TrendPoint{Value: r.Value, Band: r.Band, WaterBand: r.Water, Source: source})
	}
	return out
}

// untold is how many points are of a lot that nobody wrote down.
func untold(of []judge.TrendPoint) (n int) {
	for _, p := range of {
		if p.Source == "" {
			n++
		}
	}
	return n
}
