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
	"light_said", "water_said", "marks_checked",
}

// CSV returns the readings of one photo, or of one strip, as a table (RFC 4180, but lines end with LF):
// a header row, then a row for each reading. Figures are those of [Source.JSON], with
// a point and without a unit. An empty cell is a missing figure or, in a band, an
// open end. The limit is that of the first judgement, with whose limit it is.
// Warnings are given by their codes, first those of the reading and then those of the
// photo. Marks are checked unless the program found them and nobody has looked at them.
// A text that a spreadsheet would take for a formula gets an apostrophe in front;
// figures stay figures, also those below zero. The error means a fault of this program.
func CSV(s Source) ([]byte, error) {
	return lines.Table(append([][]string{csvHeader}, csvRows(s)...))
}

// csvRows are the rows of a photo, without the header.
func csvRows(s Source) (rows [][]string) {
	for i, r := range s.Readings {
		from, checked := s.From(i), "yes"
		if from.Unchecked {
			checked = "no"
		}
		said := lines.TextCells(string(from.Sample.Light), string(from.Sample.Water), checked)
		rows = append(rows, slices.Concat(csvRow(from, r), csvMeaning(r, s.meaning(i)), said))
	}
	return rows
}

// csvRow is the row of a reading without what the reading means; [csvMeaning] adds
// that.
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

// cell prints a figure, or nothing for a missing one.
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
		row[2] = cell(j.Over) + cell(j.Outside) // at most one of the two is given
	}
	if u := d.Undiluted; u != nil {
		row[3], row[4] = lines.Cell(u.Dilution), lines.Cells(u.Value)[0]
	}
	return row
}
