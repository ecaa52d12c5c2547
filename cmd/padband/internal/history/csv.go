package history

import (
	"padband/calib/reading"
	"padband/cmd/padband/internal/lines"
)

// header are the columns of [CSV], which keep their names and their order.
var header = []string{
	"place", "point", "analyte", "unit", "taken", "range", "value", "band_low", "band_high", "water_low", "water_high",
	"reliability", "kit_lot", "chart", "chart_sha256", "new_lot", "new_chart", "converted_from", "record",
}

// CSV returns series as one table, a row a record, in the form of [report.CSV].
// taken is the place's clock; figures are in the series' unit.
func CSV(all []Series) ([]byte, error) {
	rows := [][]string{header}
	for _, s := range all {
		for _, r := range s.Rows {
			rows = append(rows, s.csvRow(r))
		}
	}
	return lines.Table(rows)
}

// csvRow is one record of a series as its cells.
func (s Series) csvRow(r Row) []string {
	row := lines.TextCells(s.Place, s.Point, s.Analyte, s.Unit, r.Time.Format("2006-01-02T15:04:05"), string(r.Range))
	row = append(row, lines.Cells(reading.Figure(r.Value), reading.EndOf(r.Band.Low), reading.EndOf(r.Band.High),
		reading.EndOf(r.Water.Low), reading.EndOf(r.Water.High))...)
	row = append(row, lines.TextCells(string(r.Reliability), r.Lot, r.Chart, r.ChartSHA256, lines.Yes(r.NewLot),
		lines.Yes(r.NewChart), r.Converted, r.Path)...)
	return row
}
