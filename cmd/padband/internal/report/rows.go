package report

import (
	"encoding/json"

	"padband/cmd/padband/internal/lines"
)

// Failed is the document of a photo that could not be read, in a batch.
type Failed struct {
	Format int        `json:"format"`
	Photo  NamedPhoto `json:"photo"`
	Error  string     `json:"error"` // one line
}

// NamedPhoto is all that is known of a photo that could not be read.
type NamedPhoto struct {
	File string `json:"file"`
}

// FailedJSON returns the document of a photo that could not be read as one line
// without its line break.
func FailedJSON(file, why string) ([]byte, error) {
	return json.Marshal(Failed{Format: Format, Photo: NamedPhoto{File: file}, Error: lines.OneLine(why)})
}

// RowsHeader is the header row of a table of many photos: the columns of [CSV],
// and the reason why a photo could not be read.
func RowsHeader() ([]byte, error) {
	return lines.Table([][]string{append(csvHeader[:len(csvHeader):len(csvHeader)], "error")})
}

// Rows returns the rows of one photo's readings in a table of many photos.
func Rows(s Source) ([]byte, error) {
	rows := csvRows(s)
	for i := range rows {
		rows[i] = append(rows[i], "")
	}
	return lines.Table(rows)
}

// FailedRow returns the row of a photo that could not be read in a table of many.
func FailedRow(file, why string) ([]byte, error) {
	row := make([]string, len(csvHeader)+1)
	row[0], row[len(csvHeader)] = lines.Cell(file), lines.Cell(why)
	return lines.Table([][]string{row})
}
