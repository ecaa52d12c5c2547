package batch

import (
	"fmt"

	"padband/calib"
	"padband/calib/reading"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report"
)

// RowMaker makes the row of one photo.
type RowMaker struct {
	Table bool // rows of a table, instead of one JSON object a photo
	Read  func(name string) (report.Source, error)
}

// Head is what stands before the first row.
func (m RowMaker) Head() ([]byte, error) {
	if m.Table {
		return report.RowsHeader()
	}
	return nil, nil
}

// Row reads a photo. Whatever goes wrong, also in the program itself, is its row.
func (m RowMaker) Row(p Photo) (r Row) {
	defer func() {
		if fault := recover(); fault != nil {
			r = m.failed(p, fmt.Errorf("the program itself failed: %v; keep the file and report this with it", fault))
		}
	}()
	if p.Err != nil {
		return m.failed(p, p.Err)
	}
	s, err := m.Read(p.Name)
	if err != nil {
		return m.failed(p, err)
	}
	s.File = p.File
	data, err := m.put(s)
	if err != nil {
		return m.failed(p, fmt.Errorf("the reading cannot be written down: %w", err))
	}
	for _, of := range s.Readings {
		if of.Reliability == calib.Unreliable {
			return Row{Data: data, Outcome: Unreliable}
		}
	}
	return Row{Data: data, Outcome: Good}
}

// put writes a photo's readings down.
func (m RowMaker) put(s report.Source) ([]byte, error) {
	if m.Table {
		return report.Rows(s)
	}
	line, err := s.JSON()
	return append(line, '\n'), err
}

// failed is the row of a photo that could not be read.
func (m RowMaker) failed(p Photo, why error) Row {
	put := report.FailedRow
	if !m.Table {
		put = func(file, why string) ([]byte, error) {
			line, err := reading.EncodeFailed(file, lines.OneLine(why))
			return append(line, '\n'), err
		}
	}
	data, err := put(p.File, why.Error())
	if err != nil { // texts alone: this cannot be
		data = fmt.Appendf(nil, "%q\n", err)
	}
	return Row{Data: data, Outcome: Failed}
}
