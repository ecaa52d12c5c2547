package report

import (
	"encoding/csv"
	"math"
	"strings"

	"padband/calib/agreement"
)

var compareHeader = []string{
	"sample", "strip", "analyte", "unit", "as", "first_reader", "first_call", "second_reader", "second_call",
	"difference", "steps", "first_side", "second_side", "reference", "other_strip", "other_time",
}

// CompareCSV returns the pairs of comparisons as a table, a row a pair under one header.
// Differences are first reader minus second, in the unit and in swatch steps;
// an empty cell is a figure that is not defined. Texts are as [CSV] writes them.
// The error means a fault of this program.
func CompareCSV(all []agreement.Comparison) ([]byte, error) {
	var b strings.Builder
	w := csv.NewWriter(&b)
	if err := w.Write(compareHeader); err != nil {
		return nil, err
	}
	for _, c := range all {
		for _, p := range c.Pairs {
			if err := w.Write(pairRow(c, p)); err != nil {
				return nil, err
			}
		}
	}
	w.Flush()
	return []byte(b.String()), w.Error()
}

func pairRow(c agreement.Comparison, p agreement.Pair) []string {
	row := textCells(p.Sample, p.Strip, c.Analyte, c.Unit, c.As, c.Readers[0], called(p.Calls[0]), c.Readers[1], called(p.Calls[1]))
	row = append(row, cells(number(p.Difference()), number(p.Steps()))...)
	row = append(row, sideWord(c, p.Side[0]), sideWord(c, p.Side[1]))
	return append(append(row, cells(number(p.Reference))...), yes(p.OtherStrip), yes(p.OtherTime))
}

// sideWord is a side in a word; empty without a limit.
func sideWord(c agreement.Comparison, s agreement.Side) string {
	switch {
	case c.Limit == nil:
		return ""
	case s == agreement.Over:
		return "over"
	case s == agreement.Under:
		return "under"
	case s == agreement.Inside && !math.IsInf(c.Limit.Low, 0):
		return "within"
	case s == agreement.Inside:
		return "not over"
	}
	return "cannot tell"
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}
