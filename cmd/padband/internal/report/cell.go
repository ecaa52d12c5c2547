package report

// Cell is a text as it stands in a cell of a table: on one line, and with an
// apostrophe in front where a spreadsheet would take it for a formula.
func Cell(s string) string { return textCell(s) }
