package main

import (
	"fmt"

	"padband/calib/reading"
	"padband/cmd/padband/internal/batch"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report"
)

// rowMaker makes the row of one photo.
type rowMaker struct {
	options readOptions
	csv     bool
	read    func(name string, o readOptions) (one, error)
}

// head is what stands before the first row.
func (m rowMaker) head() ([]byte, error) {
	if m.csv {
		return report.RowsHeader()
	}
	return nil, nil
}

// row reads a photo. Whatever goes wrong, also in the program itself, is its row.
func (m rowMaker) row(p batch.Photo) (r batch.Row) {
	defer func() {
		if fault := recover(); fault != nil {
			r = m.failed(p, fmt.Errorf("the program itself failed: %v; keep the file and report this with it", fault))
		}
	}()
	if p.Err != nil {
		return m.failed(p, p.Err)
	}
	x, err := m.read(p.Name, m.options)
	if err != nil {
		return m.failed(p, err)
	}
	x.source.File = p.File
	data, err := m.put(x.source)
	if err != nil {
		return m.failed(p, fmt.Errorf("the reading cannot be written down: %w", err))
	}
	if unreliable(x.source.Readings) {
		return batch.Row{Data: data, Outcome: batch.Unreliable}
	}
	return batch.Row{Data: data, Outcome: batch.Good}
}

// put writes a photo's readings down.
func (m rowMaker) put(s report.Source) ([]byte, error) {
	if m.csv {
		return report.Rows(s)
	}
	line, err := s.JSON()
	return append(line, '\n'), err
}

// failed is the row of a photo that could not be read.
func (m rowMaker) failed(p batch.Photo, why error) batch.Row {
	put := report.FailedRow
	if !m.csv {
		put = func(file, why string) ([]byte, error) {
			line, err := reading.EncodeFailed(file, lines.OneLine(why))
			return append(line, '\n'), err
		}
	}
	data, err := put(p.File, why.Error())
	if err != nil { // texts alone: this cannot be
		data = fmt.Appendf(nil, "%q\n", err)
	}
	return batch.Row{Data: data, Outcome: batch.Failed}
}
