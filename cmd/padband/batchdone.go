package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"

	"padband/calib"
	"padband/calib/reading"
	"padband/cmd/padband/internal/batch"
	"padband/cmd/padband/internal/lines"
)

// doneSink is an output that is whole already.
type doneSink struct{ outcomes []batch.Outcome }

func (d doneSink) Done() []batch.Outcome  { return d.outcomes }
func (d doneSink) Append(batch.Row) error { return errors.New("the output is whole already") }
func (d doneSink) Finish() error          { return nil }
func (d doneSink) Close() error           { return nil }

// doneAlready tells whether a run that is to be gone on with has ended: its
// output is there and no part of it. An output of other photos is an error.
func doneAlready(photos []batch.Photo, o batchOptions) (d doneSink, yes bool, err error) {
	_, missing := os.Lstat(o.out + batch.PartEnding)
	data, unread := os.ReadFile(o.out)
	if !errors.Is(missing, fs.ErrNotExist) || unread != nil {
		return d, false, nil
	}
	look, named := lookJSON, func(p batch.Photo) string { return p.File }
	if o.csv {
		look, named = lookCSV, func(p batch.Photo) string { return lines.Cell(p.File) }
	}
	there, err := look(data)
	if err != nil || !slices.EqualFunc(there, photos, func(a seen, p batch.Photo) bool { return a.file == named(p) }) {
		return d, false, &batch.OtherRunError{Name: o.out}
	}
	for _, s := range there {
		d.outcomes = append(d.outcomes, s.outcome)
	}
	return d, true, nil
}

// seen is a photo in an output.
type seen struct {
	file    string
	outcome batch.Outcome
}

func lookJSON(data []byte) (out []seen, err error) {
	for dec := json.NewDecoder(bytes.NewReader(data)); ; {
		var row json.RawMessage
		switch err := dec.Decode(&row); {
		case err == io.EOF:
			return out, nil
		case err != nil:
			return nil, err
		}
		f, failed, err := reading.ParseRow(row)
		if err != nil {
			return nil, err
		}
		if failed != nil {
			out = append(out, seen{failed.Photo.File, batch.Failed})
			continue
		}
		s := seen{f.Photo.File, batch.Good}
		for _, r := range f.Readings {
			s.take(string(r.Reliability), "")
		}
		out = append(out, s)
	}
}

// take notes a row's reliability or its error.
func (s *seen) take(reliability, why string) {
	switch {
	case why != "":
		s.outcome = batch.Failed
	case reliability == string(calib.Unreliable):
		s.outcome = batch.Unreliable
	}
}

// lookCSV looks at a table. A photo's rows stand together.
func lookCSV(data []byte) (out []seen, err error) {
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(rows) == 0 {
		return nil, errors.New("this is no table")
	}
	reliability, why := slices.Index(rows[0], "reliability"), slices.Index(rows[0], "error")
	if reliability < 0 || why < 0 {
		return nil, errors.New("this is no table of a batch")
	}
	for _, row := range rows[1:] {
		if len(out) == 0 || out[len(out)-1].file != row[0] {
			out = append(out, seen{row[0], batch.Good})
		}
		out[len(out)-1].take(row[reliability], row[why])
	}
	return out, nil
}
