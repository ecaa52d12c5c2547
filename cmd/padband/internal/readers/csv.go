package readers

import (
	"math"

	"padband/calib/agreement"
	"padband/calib/reading"
	"padband/cmd/padband/internal/lines"
)

// header are the columns of [CSV], which keep their names and their order.
var header = []string{
	"sample", "strip", "analyte", "unit", "as", "first_reader", "first_call", "second_reader", "second_call",
	"difference", "steps", "first_side", "second_side", "reference", "other_strip", "other_time",
}

// CSV returns the pairs of comparisons as a table, a row a pair under one header.
// Differences are first reader minus second, in the unit and in swatch steps;
// an empty cell is a figure that is not defined. Texts are as [lines.Cell] writes them.
// The error means a fault of this program.
func CSV(all []agreement.Comparison) ([]byte, error) {
	rows := [][]string{header}
	for _, c := range all {
		for _, p := range c.Pairs {
			rows = append(rows, pairRow(c, p))
		}
	}
	return lines.Table(rows)
}

// pairRow is one pair of calls as its cells.
func pairRow(c agreement.Comparison, p agreement.Pair) []string {
	row := lines.TextCells(p.Sample, p.Strip, c.Analyte, c.Unit, c.As, c.Readers[0], called(p.Calls[0]), c.Readers[1], called(p.Calls[1]))
	row = append(row, lines.Cells(reading.Figure(p.Difference()), reading.Figure(p.Steps()))...)
	row = append(row, sideWord(c, p.Side[0]), sideWord(c, p.Side[1]))
	return append(append(row, lines.Cells(reading.Figure(p.Reference))...), lines.Yes(p.OtherStrip), lines.Yes(p.OtherTime))
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
