package report

import (
	"strconv"
	"strings"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
)

// csvHeader names the columns of [CSV].
var csvHeader = []string{
	"photo", "taken", "analyte", "unit", "as", "range", "value", "band_low", "band_high", "water_low", "water_high", "kit_error",
	"bracket_low", "bracket_high", "presence_probability", "reliability", "warnings",
	"chart", "chart_version", "photo_sha256", "chart_sha256", "program", "method",
	"limit", "verdict", "probability_over", "dilution", "undiluted",
}

// CSV returns the readings of one photo as a table (RFC 4180, but lines end with
// LF): a header row, then a row a reading. Figures are those of [Source.JSON]
// with a point and no unit; an empty cell is a missing figure, and of a band an
// open end. The limit is the first
// judgement's with whose it is. Warnings are their codes, of the reading and then of the photo. A
// text that a spreadsheet would take for a formula gets an apostrophe in front;
// figures, also those below zero, stay figures. The error means a fault of this
// program.
func CSV(s Source) ([]byte, error) {
	return lines.Table(append([][]string{csvHeader}, csvRows(s)...))
}

// csvRows are the rows of a photo, without the header.
func csvRows(s Source) (rows [][]string) {
	for i, r := range s.Readings {
		rows = append(rows, append(csvRow(s, r), csvMeaning(newReading(r).meaning(s.meaning(i)))...))
	}
	return rows
}

func csvRow(s Source, r calib.Reading) []string {
	d := newReading(r)
	codes := []string{}
	for _, w := range append(d.Warnings, warnings(s.Light.Warnings)...) {
		codes = append(codes, w.Code)
	}
	row := lines.TextCells(s.File, s.Photo.Taken, d.Analyte, d.Unit, d.As, d.Range)
	row = append(row, lines.Cells(d.Value, d.Band.Low, d.Band.High, d.WaterBand.Low, d.WaterBand.High)...)
	row = append(row, lines.Cell(d.WaterBand.KitError), lines.Plain(d.Bracket[0]), lines.Plain(d.Bracket[1]))
	presence := lines.Missing
	if d.Presence != nil {
		presence = *d.Presence
	}
	row = append(row, lines.Cells(presence)...)
	p := ThisProgram(s.Version)
	row = append(row, lines.TextCells(d.Reliability, strings.Join(codes, " "), s.Chart.Name, s.Chart.Version, s.Photo.SHA256, s.ChartSHA256, p.Name+" "+p.Version)...)
	return append(row, strconv.Itoa(p.Method))
}

// csvMeaning are the columns of the first judgement and of a dilution.
func csvMeaning(d Reading) []string {
	row := make([]string, 5)
	if j := d.Judgement; j != nil {
		row[0] = lines.Cell(j.limitText)
		if j.Verdict != nil {
			row[1] = lines.Cell(*j.Verdict)
		}
		for _, p := range []*number{j.Over, j.Outside} {
			if p != nil {
				row[2] = lines.Cells(*p)[0]
			}
		}
	}
	if u := d.Undiluted; u != nil {
		row[3], row[4] = lines.Cell(u.Dilution), lines.Cells(u.Value)[0]
	}
	return row
}
