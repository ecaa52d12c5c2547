package report

import (
	"encoding/csv"
	"strings"
)

var trendHeader = []string{
	"place", "point", "analyte", "unit", "taken", "range", "value", "band_low", "band_high", "water_low", "water_high",
	"reliability", "kit_lot", "chart", "chart_sha256", "new_lot", "new_chart", "converted_from", "record",
}

// TrendCSV returns series as one table, a row a record, in the form of [CSV].
// taken is the place's clock; figures are in the series' unit.
func TrendCSV(all []TrendSeries) ([]byte, error) {
	var b strings.Builder
	w := csv.NewWriter(&b)
	rows := [][]string{trendHeader}
	for _, s := range all {
		for _, r := range s.Rows {
			rows = append(rows, s.csvRow(r))
		}
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return []byte(b.String()), nil
}

func (s TrendSeries) csvRow(r TrendRow) []string {
	row := textCells(s.Place, s.Point, s.Analyte, s.Unit, r.Time.Format("2006-01-02T15:04:05"), string(r.Range))
	row = append(row, cells(number(r.Value), bound(r.Band.Low), bound(r.Band.High), bound(r.Water.Low), bound(r.Water.High))...)
	row = append(row, textCells(string(r.Reliability), r.Lot, r.Chart, r.ChartSHA256, yesOrNothing(r.NewLot), yesOrNothing(r.NewChart), r.Converted, r.Path)...)
	return row
}

func yesOrNothing(b bool) string {
	if b {
		return "yes"
	}
	return ""
}
