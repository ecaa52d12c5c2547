package lines

import (
	"encoding/csv"
	"strings"

	"padband/calib/reading"
)

// Table is rows as a file of comma-separated values (RFC 4180, but lines end with
// LF). The error means a fault of this program.
func Table(rows [][]string) ([]byte, error) {
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		return nil, err
	}
	return []byte(b.String()), nil
}

// formulas are the characters that a spreadsheet takes for the beginning of a
// formula, in both their widths.
const formulas = "=+-@\uff1d\uff0b\uff0d\uff20"

// Cell is a text as it stands in a cell of a table: on one line, and with an
// apostrophe in front where a spreadsheet would take it for a formula.
func Cell(s string) string {
	s = OneLine(s)
	if s != "" && strings.ContainsRune(formulas, []rune(s)[0]) {
		return "'" + s
	}
	return s
}

// TextCells are texts as they stand in cells; see [Cell].
func TextCells(of ...string) (out []string) {
	for _, s := range of {
		out = append(out, Cell(s))
	}
	return out
}

// Cells are figures as they stand in cells: as a reading file has them, and
// nothing for one that is missing.
func Cells(figures ...reading.Figure) (out []string) {
	for _, n := range figures {
		text, err := n.MarshalJSON()
		if err != nil || string(text) == "null" {
			text = nil
		}
		out = append(out, string(text))
	}
	return out
}

// Yes is a yes in a cell; the cell of a no is empty.
func Yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}
