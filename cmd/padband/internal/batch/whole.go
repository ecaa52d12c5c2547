package batch

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
	"padband/cmd/padband/internal/lines"
)

// ended is an output that is whole already.
type ended struct{ outcomes []Outcome }

func (e ended) Done() []Outcome  { return e.outcomes }
func (e ended) Append(Row) error { return errors.New("the output is whole already") }
func (e ended) Finish() error    { return nil }
func (e ended) Close() error     { return nil }

// Whole is the output of a run that has ended: it is there and no part of it. yes
// is whether it is; the error is an [*OtherRunError] when it is one of other photos.
func Whole(name string, photos []Photo, table bool) (out Output, yes bool, err error) {
	_, missing := os.Lstat(name + PartEnding)
	data, unread := os.ReadFile(name)
	if !errors.Is(missing, fs.ErrNotExist) || unread != nil {
		return nil, false, nil
	}
	look, named := lookJSON, func(p Photo) string { return p.File }
	if table {
		look, named = lookCSV, func(p Photo) string { return lines.Cell(p.File) }
	}
	there, err := look(data)
	if err != nil || !slices.EqualFunc(there, photos, func(a seen, p Photo) bool { return a.file == named(p) }) {
		return nil, false, &OtherRunError{Name: name}
	}
	var w ended
	for _, s := range there {
		w.outcomes = append(w.outcomes, s.outcome)
	}
	return w, true, nil
}

// seen is a photo in an output.
type seen struct {
	file    string
	outcome Outcome
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
			out = append(out, seen{failed.Photo.File, Failed})
			continue
		}
		s := seen{f.Photo.File, Good}
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
		s.outcome = Failed
	case reliability == string(calib.Unreliable):
		s.outcome = Unreliable
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
			out = append(out, seen{row[0], Good})
		}
		out[len(out)-1].take(row[reliability], row[why])
	}
	return out, nil
}
