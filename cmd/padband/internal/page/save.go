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
	if len(j.strip) > 0 {
		return out, nil // a reading of one photo alone would be taken for the answer
	}
	if r, err := j.result(j.marks); err == nil {
		line, err := s.sourceOf(j, r).JSON()
		if err != nil {
			return nil, err
		}
		out = append(out, hosted.File{Name: stem + input.ReadingEnding, Data: append(line, '\n')})
	}
	return out, nil
}

// shots are the jobs of all photos of the strip: this one where it is the only one.
func (j job) shots() []job {
	if len(j.strip) == 0 {
		return []job{j.usable()}
	}
	var out []job
	for _, k := range j.strip {
		k.strip = j.strip
		out = append(out, k)
	}
	return out
}

// writtenAll are the files of all photos of a strip, and its one answer.
func (s *Page) writtenAll(j job, all []job, found func(job) bool) (out []hosted.File, err error) {
	for _, k := range all {
		files, err := s.written(k, found(k))
		if err != nil {
			return nil, err
		}
		out = append(out, files...)
	}
	if len(j.strip) == 0 {
		return out, nil
	}
	t, err := s.together(j)
	if err != nil || len(t.shots) < 2 || !t.whole {
		return out, nil // as a photo's own reading is not written where it cannot be made
	}
	line, err := t.json()
	if err != nil {
		return nil, err
	}
	return append(out, hosted.File{Name: input.Stem(j.strip[0].name) + stripEnding, Data: append(line, '\n')}), nil
}

// stripEnding is the end of the name of the file with the one answer of a strip.
const stripEnding = ".strip" + input.ReadingEnding

// fileNamed is what a file of these holds.
func fileNamed(files []hosted.File, name string) []byte {
	for _, f := range files {
		if f.Name == name {
			return f.Data
		}
	}
	return nil
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
	all := j.shots()
	files, err := s.writtenAll(j, all, s.found)
	if err != nil {
		return hosted.Refuse(err)
	}
	for _, k := range all {
		if err := s.photoFits(k); err != nil {
			return hosted.Refuse(err)
		}
		if k.data != nil {
			files = append(files, hosted.File{Name: k.name, Data: k.data})
		}
	}
	over := hosted.Same
	if force {
		over = hosted.Replace
	}
	if err := s.config.Store.WriteWhole(files, over); err != nil {
		return hosted.Refuse(hosted.Fail(unsaved(err), err))
	}
	for _, k := range all {
		s.photos.saved(k.id, fileNamed(files, input.Stem(k.name)+input.MarksEnding), k.chart)
	}
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
	files, err := s.writtenAll(j, j.shots(), job.bundled)
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
