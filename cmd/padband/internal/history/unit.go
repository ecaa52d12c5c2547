package history

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"padband/calib/reading"
	"padband/charts"
	"padband/charts/units"
	"padband/cmd/padband/internal/lines"
)

// amountIn is an amount in a reading's unit; ok is whether it can be had.
func amountIn(a units.Quantity, r reading.Reading) (v float64, ok bool) {
	q, err := units.Convert(r.Analyte, a, measure(r))
	return q.Value, err == nil
}

// measure is a reading's unit, spelled as units are.
func measure(r reading.Reading) units.Unit {
	return charts.Analyte{Name: r.Analyte, Unit: r.Unit, As: r.As}.Measure()
}

// unitOf is a reading's unit with what it is expressed as.
func unitOf(r reading.Reading) string {
	if strings.TrimSpace(r.Unit) == "" {
		return "no unit"
	}
	return measure(r).String()
}

// unitKey tells units apart; where one does not say what it is expressed as, the
// chart decides too.
type unitKey struct {
	unit  units.Unit
	chart string
}

func key(r gatheredRow) unitKey {
	k := unitKey{unit: measure(r.read)}
	if _, err := units.Factor(r.read.Analyte, k.unit, k.unit); err != nil {
		k.chart = r.Chart.SHA256
	}
	return k
}

// unit chooses the unit that most records have, the latest of two, and finds
// what the others are multiplied with. Those that cannot be converted are noted.
func (g *gathered) unit() (to units.Unit, factors map[unitKey]float64, notes []string) {
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
		f, err := units.Factor(g.analyte, k.unit, most.unit)
		switch {
		case k == most:
		case err == nil && k.chart == "" && most.chart == "":
			factors[k] = f.Of(1)
			if k.unit != most.unit {
				notes = append(notes, fmt.Sprintf("%s converted from %s.", lines.Count(counts[k], "record"), k.unit))
			}
		default:
			notes = append(notes, fmt.Sprintf("%s in %s left out: that cannot be converted into %s of the others.", lines.Count(counts[k], "record"), unitName(k.unit), unitName(most.unit)))
		}
	}
	return most.unit, factors, notes
}

func unitName(u units.Unit) string {
	if s := u.String(); s != "" {
		return s
	}
	return "no unit"
}
