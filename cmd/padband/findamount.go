package main

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"padband/cmd/padband/internal/record"
)

// amount is a value in a unit: "10 mg/L as N".
type amount struct {
	value    float64
	unit, as string
}

// parseAmount reads an amount; pH has no unit.
func parseAmount(s string) (amount, error) {
	number, unit, _ := strings.Cut(strings.TrimSpace(s), " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return amount{}, errors.New(strconv.Quote(s) + ` is not an amount such as "10 mg/L as N"`)
	}
	unit, as, _ := strings.Cut(unit, " as ")
	return amount{v, strings.TrimSpace(unit), strings.TrimSpace(as)}, nil
}

// in is the amount in a reading's unit; ok is whether it can be had.
func (a amount) in(r record.ReadingSummary) (v float64, ok bool) {
	unit := a.unit
	if unit == "" && strings.EqualFold(r.Unit, "pH") {
		unit = r.Unit
	}
	return a.value, unit == r.Unit && a.as == r.As
}
