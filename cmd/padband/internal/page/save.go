package page

import (
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"

	"padband/charts"
	"padband/cmd/padband/internal/beside"
)

// written are the files of a job: its marks, its chart unless it is found
// without, and its reading when all that is marked can be read.
func (s *Server) written(j job, found bool) ([]beside.File, error) {
	if _, err := j.marks.Cells(j.chart.Chart, j.photo.Width, j.photo.Height); err != nil {
		return nil, err // saved, they could never be read
	}
	stem := beside.Stem(j.name)
	marks, err := j.marks.Encode()
	if err != nil {
		return nil, err
	}
	out := []beside.File{{Name: stem + beside.MarksEnding, Data: marks}}
	if !found {
		out = append(out, beside.File{Name: stem + beside.ChartEnding, Data: j.chart.Data})
	}
	if src, err := s.source(j, j.marks); err == nil {
		line, err := src.JSON()
		if err != nil {
			return nil, err
		}
		out = append(out, beside.File{Name: stem + beside.ReadingEnding, Data: append(line, '\n')})
	}
	return out, nil
}

// found reports whether the chart is found for the saved photo without a file
// of its own: bundled, or in the folder under its name, and nothing in the way.
func (s *Server) found(j job) bool {
	at := filepath.Join(s.config.Folder, beside.Stem(j.name))
	if _, err := os.Lstat(at + beside.ChartEnding); err == nil {
		own, err := beside.OpenChart(at + beside.ChartEnding)
		return err == nil && own.Hash == j.chart.Hash
	}
	c, err := beside.Chart(at+".jpg", "", charts.Marks{Chart: j.chart.Name})
	return err == nil && c.Hash == j.chart.Hash
}

// bundled reports whether the chart is one that every copy of the program has.
func (j job) bundled() bool {
	data, ok := charts.BundledFile(j.chart.Name)
	return ok && string(data) == string(j.chart.Data)
}

// save writes the files into the folder.
func (s *Server) save(w http.ResponseWriter, r *http.Request) {
	j, force, ok := s.job(w, r)
	if !ok {
		return
	}
	j = j.usable()
	files, err := s.written(j, s.found(j))
	if err == nil {
		err = s.keepPhoto(j)
	}
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
	}
	if j.data != nil {
		files = append(files, beside.File{Name: j.name, Data: j.data})
	}
	var exists *beside.ExistsError
	switch err := beside.Write(s.config.Folder, files, force); {
	case errors.As(err, &exists):
		refuse(w, http.StatusConflict, err)
	case err != nil:
		refuse(w, http.StatusInsufficientStorage, err)
	default:
		s.photos.saved(j.id, files[0].Data, j.chart)
		out := struct {
			Files  []string `json:"files"`
			Folder string   `json:"folder"`
		}{Folder: s.config.Folder}
		for _, f := range files {
			out.Files = append(out.Files, f.Name)
		}
		answer(w, out)
	}
}

// keepPhoto refuses to put an uploaded photo over another one, force or not.
func (s *Server) keepPhoto(j job) error {
	if j.data == nil {
		return nil
	}
	name := filepath.Join(s.config.Folder, j.name)
	if _, err := os.Lstat(name); err != nil {
		return nil
	}
	old, err := beside.ReadFile(name, uploadBytes)
	if err != nil || string(old) != string(j.data) {
		return fmt.Errorf("another photo named %s is in this folder already; rename this one and choose it again", beside.Shown(j.name))
	}
	return nil
}

// files hands the files out for download.
func (s *Server) files(w http.ResponseWriter, r *http.Request) {
	j, _, ok := s.job(w, r)
	if !ok {
		return
	}
	j = j.usable()
	files, err := s.written(j, j.bundled())
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
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
	answer(w, out)
}
