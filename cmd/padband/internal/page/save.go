package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"

	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
)

// written are the files of a job: its marks, its chart unless that is found without a
// file of its own, and its reading when all that is marked can be read.
func (s *Page) written(j job, found bool) ([]hosted.File, error) {
	if _, err := j.marks.Cells(j.chart.Chart, j.photo.Width, j.photo.Height); err != nil {
		return nil, err // such marks could be saved, but never be read again
	}
	stem := input.Stem(j.name)
	marks, err := j.marks.Encode()
	if err != nil {
		return nil, err
	}
	out := []hosted.File{{Name: stem + input.MarksEnding, Data: marks}}
	if !found {
		out = append(out, hosted.File{Name: stem + input.ChartEnding, Data: j.chart.Data})
	}
	if src, err := s.source(j, j.marks); err == nil {
		line, err := src.JSON()
		if err != nil {
			return nil, err
		}
		out = append(out, hosted.File{Name: stem + input.ReadingEnding, Data: append(line, '\n')})
	}
	return out, nil
}

// found reports whether the chart is found for the saved photo without a file of its
// own. It is, when it is bundled, or is in the store under its name, and no other
// chart's file is in the way.
func (s *Page) found(j job) bool {
	at := input.Stem(j.name)
	if own := at + input.ChartEnding; s.book.place.There(own) {
		c, err := input.OpenChartIn(s.book.place, own)
		return err == nil && bytes.Equal(c.Data, j.chart.Data)
	}
	c, err := input.ChartIn(s.book.place, at+".jpg", charts.Marks{Chart: j.chart.Name})
	return err == nil && bytes.Equal(c.Data, j.chart.Data)
}

// bundled reports whether the chart is one that every copy of the program has.
func (j job) bundled() bool {
	data, ok := charts.BundledFile(j.chart.Name)
	return ok && string(data) == string(j.chart.Data)
}

// save writes the files into the store.
func (s *Page) save(_ context.Context, c hosted.Call) hosted.Answer {
	j, force, err := s.job(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	j = j.usable()
	files, err := s.written(j, s.found(j))
	if err == nil {
		err = s.photoFits(j)
	}
	if err != nil {
		return hosted.Refuse(err)
	}
	if j.data != nil {
		files = append(files, hosted.File{Name: j.name, Data: j.data})
	}
	over := hosted.Same
	if force {
		over = hosted.Replace
	}
	if err := s.config.Store.WriteWhole(files, over); err != nil {
		return hosted.Refuse(hosted.Fail(unsaved(err), err))
	}
	s.photos.saved(j.id, files[0].Data, j.chart)
	out := struct {
		Files  []string `json:"files"`
		Folder string   `json:"folder"`
	}{Folder: s.config.Folder}
	for _, f := range files {
		out.Files = append(out.Files, f.Name)
	}
	return hosted.JSON(out)
}

// unsaved is the status of the answer when the store has an error.
func unsaved(err error) int {
	var exists *hosted.ExistsError
	if errors.As(err, &exists) {
		return hosted.Conflict
	}
	return hosted.InsufficientStorage
}

// photoFits refuses to write an uploaded photo over another one, whether force is
// asked for or not.
func (s *Page) photoFits(j job) error {
	if j.data == nil {
		return nil
	}
	f, err := s.config.Store.Read(j.name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	old, err := input.ReadOpened(f, err, uploadBytes)
	if err != nil || string(old) != string(j.data) {
		return fmt.Errorf("another photo named %s is in this folder already; rename this one and choose it again", input.Shown(j.name))
	}
	return nil
}

// files hands the job's files out for download.
func (s *Page) files(_ context.Context, c hosted.Call) hosted.Answer {
	j, _, err := s.job(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	j = j.usable()
	files, err := s.written(j, j.bundled())
	if err != nil {
		return hosted.Refuse(err)
	}
	type one struct {
		Name string `json:"name"`
		Text string `json:"text"`
	}
	out := struct {
		Files []one `json:"files"`
	}{}
	for _, f := range files {
		out.Files = append(out.Files, one{f.Name, string(f.Data)})
	}
	return hosted.JSON(out)
}
