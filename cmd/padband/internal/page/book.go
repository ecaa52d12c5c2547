package page

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"padband/charts"
	"padband/cmd/padband/internal/beside"
)

// book is the charts that a person can choose from: the bundled ones, those in
// the folder, and those described in the page.
type book struct {
	folder string
	mu     sync.Mutex
	typed  []beside.ChartFile
}

// listed is a chart and where it is from.
type listed struct {
	beside.ChartFile
	from string
}

// ChartInfo is a chart as the page lists it.
type ChartInfo struct {
	Name     string   `json:"name"`
	Title    string   `json:"title"`
	From     string   `json:"from"`
	Analytes []string `json:"analytes"`
	Layout   bool     `json:"layout"`
}

// all lists the charts; of several with one name the page's own comes first,
// then the folder's.
func (b *book) all() (out []listed) {
	b.mu.Lock()
	typed := b.typed
	b.mu.Unlock()
	seen := map[string]bool{}
	add := func(c beside.ChartFile, from string) {
		if !seen[c.Name] {
			seen[c.Name] = true
			out = append(out, listed{c, from})
		}
	}
	for i := len(typed) - 1; i >= 0; i-- {
		add(typed[i], "this page")
	}
	for _, c := range inFolder(b.folder) {
		add(c, "folder")
	}
	for _, c := range charts.Bundled() {
		if data, ok := charts.BundledFile(c.Name); ok {
			if f, err := beside.ParseChart(c.Name, data); err == nil {
				add(f, "bundled")
			}
		}
	}
	return out
}

// mostInFolder caps how many chart files of a folder are looked at.
const mostInFolder = 200

// inFolder are the folder's charts that can be read; others are passed over.
func inFolder(folder string) (out []beside.ChartFile) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), beside.ChartEnding) || len(out) >= mostInFolder {
			continue
		}
		if c, err := beside.OpenChart(filepath.Join(folder, e.Name())); err == nil {
			out = append(out, c)
		}
	}
	return out
}

// file finds the bytes that a chart stands in: those of a chart known here with
// the very same content, else the chart written anew.
func (b *book) file(c charts.Chart, own *beside.ChartFile) (beside.ChartFile, error) {
	data, err := c.Encode()
	if err != nil {
		return beside.ChartFile{}, err
	}
	known := b.all()
	if own != nil {
		known = append([]listed{{*own, ""}}, known...)
	}
	for _, k := range known {
		if same, err := k.Encode(); err == nil && bytes.Equal(same, data) {
			return k.ChartFile, nil
		}
	}
	return beside.ParseChart("", data)
}

func (s *Server) charts(w http.ResponseWriter, r *http.Request) { answer(w, s.book.infos()) }

func (b *book) infos() []ChartInfo {
	out := []ChartInfo{}
	for _, c := range b.all() {
		i := ChartInfo{Name: c.Name, Title: c.Title, From: c.from, Layout: len(c.Layout) > 0}
		for _, a := range c.Analytes {
			i.Analytes = append(i.Analytes, a.Name)
		}
		out = append(out, i)
	}
	return out
}

func (s *Server) chart(w http.ResponseWriter, r *http.Request) {
	for _, c := range s.book.all() {
		if c.Name == r.PathValue("name") {
			answer(w, json.RawMessage(c.Data))
			return
		}
	}
	refuse(w, http.StatusNotFound, fmt.Errorf("there is no chart %q here; choose another", r.PathValue("name")))
}

// describe makes a chart of what was typed.
func (s *Server) describe(w http.ResponseWriter, r *http.Request) {
	var t charts.Typed
	if !take(w, r, &t) {
		return
	}
	c, err := charts.Describe(t)
	if err == nil {
		err = s.book.add(c)
	}
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
	}
	answerChart(w, c)
}

// mostTyped caps the charts described in one run.
const mostTyped = 50

func (b *book) add(c charts.Chart) error {
	data, err := c.Encode()
	if err != nil {
		return err
	}
	f, err := beside.ParseChart("", data)
	if err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if len(b.typed) >= mostTyped {
		return errors.New("too many charts were described here; save what you have and start padband anew")
	}
	b.typed = append(b.typed, f)
	return nil
}

func answerChart(w http.ResponseWriter, c charts.Chart) {
	data, err := c.Encode()
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err)
		return
	}
	answer(w, map[string]json.RawMessage{"chart": data})
}
