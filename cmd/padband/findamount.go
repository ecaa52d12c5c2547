package main

import (
	"strings"

	"padband/calib/reading"
	"padband/charts"
)

// amount is what readings are compared with: "10 mg/L as N".
type amount struct{ charts.Quantity }

// parseAmount reads an amount with its unit.
func parseAmount(s string) (amount, error) {
	q, err := charts.ParseQuantity(s)
	return amount{q}, err
}

// in is the amount in a reading's unit; ok is whether it can be had.
func (a amount) in(r reading.Reading) (v float64, ok bool) {
	q, err := charts.Convert(r.Analyte, a.Quantity, measure(r))
	return q.Value, err == nil
}

// measure is a reading's unit, spelled as units are.
func measure(r reading.Reading) charts.Unit {
	return charts.Analyte{Name: r.Analyte, Unit: r.Unit, As: r.As}.Measure()
}

// unitOf is a reading's unit with what it is expressed as.
func unitOf(r reading.Reading) string {
	if strings.TrimSpace(r.Unit) == "" {
		return "no unit"
	}
	return measure(r).String()
}
