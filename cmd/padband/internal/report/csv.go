package report

import (
	"slices"
	"strconv"
	"strings"

	"padband/calib"
	"padband/calib/reading"
	"padband/calib/strip"
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
		rows = append(rows, append(csvRow(s, r), csvMeaning(r, s.meaning(i))...))
	}
	return rows
}

// csvRow is a reading without what it means, which [csvMeaning] adds.
func csvRow(s Source, r calib.Reading) []string {
	d := reading.OfPad(r, strip.Meaning{})
	codes := []string{}
	for _, w := range slices.Concat(r.Warnings, s.Light.Warnings) {
		codes = append(codes, string(w.Code))
	}
	row := lines.TextCells(s.File, s.Photo.Taken, d.Analyte, d.Unit, d.As, string(d.Range))
	row = append(row, lines.Cells(d.Value, d.Band.Low, d.Band.High, d.WaterBand.Low, d.WaterBand.High)...)
	row = append(row, lines.Cell(d.WaterBand.KitError), lines.Plain(d.Bracket[0]), lines.Plain(d.Bracket[1]))
	row = append(row, cell(d.Presence))
	p := reading.ProgramOf(s.Version)
	row = append(row, lines.TextCells(string(d.Reliability), strings.Join(codes, " "), s.Chart.Name, s.Chart.Version,
		s.Photo.SHA256, s.ChartSHA256, p.Name+" "+p.Version)...)
	return append(row, strconv.Itoa(p.Method))
}

// cell is a figure that may not be there.
func cell(o reading.Optional) string {
	if !o.Given {
		return ""
	}
	return lines.Cells(o.Figure)[0]
}

// csvMeaning are the columns of the first judgement and of a dilution.
func csvMeaning(r calib.Reading, m strip.Meaning) []string {
	row, d := make([]string, 5), reading.OfPad(r, m)
	if j := d.Judgement; j != nil {
		l := m.Judgements[0].Limit
		row[0] = lines.Cell(l.Text() + " (" + l.Whose() + ")")
		if j.Verdict != nil {
			row[1] = lines.Cell(*j.Verdict)
		}
		row[2] = cell(j.Over) + cell(j.Outside) // one of them at most is there
	}
	if u := d.Undiluted; u != nil {
		row[3], row[4] = lines.Cell(u.Dilution), lines.Cells(u.Value)[0]
	}
	return row
}
