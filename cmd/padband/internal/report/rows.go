package report

import (
	"padband/cmd/padband/internal/lines"
)

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
