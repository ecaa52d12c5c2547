package page

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"reflect"
	"sync"

	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
)

// book holds the charts that a person can choose from: the bundled ones, those in the
// folder, and those that were described in the page.
type book struct {
	place input.Place
	mu    sync.Mutex
	typed []input.ChartFile
}

// listed is a chart with where it comes from.
type listed struct {
	input.ChartFile
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

// all lists the charts. Of several with one name it takes the page's own first, then
// the folder's; of one chart that remembers more here than there, the one with the most.
func (b *book) all() (out []listed) {
	b.mu.Lock()
	typed := b.typed
	b.mu.Unlock()
	seen := map[string]int{}
	add := func(c input.ChartFile, from string) {
		i, there := seen[c.Name]
		switch {
		case !there:
			seen[c.Name] = len(out)
			out = append(out, listed{c, from})
		case c.Hash == out[i].Hash && len(c.Remembered) > len(out[i].Remembered):
			out[i] = listed{c, from}
		}
	}
	for i := len(typed) - 1; i >= 0; i-- {
		add(typed[i], "this page")
	}
	for _, c := range inFolder(b.place) {
		add(c, "folder")
	}
	for _, c := range charts.Bundled() {
		if data, ok := charts.BundledFile(c.Name); ok {
			if f, err := input.ParseChart(c.Name, data); err == nil {
				add(f, "bundled")
			}
		}
	}
	return out
}

// mostInFolder caps how many chart files of a folder are looked at.
const mostInFolder = 200

// inFolder are the folder's charts. A file that cannot be read is passed over.
func inFolder(in input.Place) (out []input.ChartFile) {
	names, err := in.ChartsBeside("")
	if err != nil {
		return nil
	}
	for _, name := range names {
		if len(out) >= mostInFolder {
			break
		}
		if c, err := input.OpenChartIn(in, name); err == nil {
			out = append(out, c)
		}
	}
	return out
}

// file finds the bytes of a chart's file: those of a chart known here that has the
// very same content, or differs in no more than the bottles it remembers, which are then
// put into those bytes; else the chart written anew.
func (b *book) file(c charts.Chart, own *input.ChartFile) (input.ChartFile, error) {
	data, err := c.Plain().Encode()
	if err != nil {
		return input.ChartFile{}, err
	}
	known := b.all()
	if own != nil {
		known = append([]listed{{*own, ""}}, known...)
	}
	var like []byte
	for _, k := range known {
		if same, err := k.Plain().Encode(); err != nil || !bytes.Equal(same, data) {
			continue
		}
		if reflect.DeepEqual(k.Remembered, c.Remembered) {
			return k.ChartFile, nil
		}
		if like == nil {
			like = charts.Forget(k.Data)
		}
	}
	if like != nil {
		data = like
	}
	for _, p := range c.Remembered {
		if data, err = charts.Remember(data, p); err != nil {
			return input.ChartFile{}, err
		}
	}
	return input.ParseChart("", data)
}

func (s *Page) charts(context.Context, hosted.Call) hosted.Answer { return hosted.JSON(s.book.infos()) }

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

func (s *Page) chart(_ context.Context, c hosted.Call) hosted.Answer {
	for _, chart := range s.book.all() {
		if chart.Name == c.Value("name") {
			return hosted.JSON(json.RawMessage(chart.Data))
		}
	}
	return noChart(c)
}

func noChart(c hosted.Call) hosted.Answer {
	return hosted.Refuse(hosted.Failf(hosted.NotFound, "there is no chart %q here; choose another", c.Value("name")))
}

// describe makes a chart of what a person typed.
func (s *Page) describe(_ context.Context, c hosted.Call) hosted.Answer {
	var t charts.Typed
	if err := c.Take(&t); err != nil {
		return hosted.Refuse(err)
	}
	chart, err := charts.Describe(t)
	if err == nil {
		err = s.book.add(chart)
	}
	if err != nil {
		return hosted.Refuse(err)
	}
	return answerChart(chart)
}

// mostTyped caps the charts described in one run.
const mostTyped = 50

func (b *book) add(c charts.Chart) error {
	data, err := c.Encode()
	if err != nil {
		return err
	}
	f, err := input.ParseChart("", data)
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

func answerChart(c charts.Chart) hosted.Answer {
	data, err := c.Encode()
	if err != nil {
		return hosted.Refuse(err)
	}
	return hosted.JSON(map[string]json.RawMessage{"chart": data})
}
