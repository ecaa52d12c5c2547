package page

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/paper"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

// shotWork is what the page sends of one photo of several of a strip. Those of the
// photo that the call names are its own.
type shotWork struct {
	ID    string          `json:"id"`
	Marks json.RawMessage `json:"marks"`
}

// understandAll understands a call's own work, and that of the other photos of its strip.
func (s *Page) understandAll(o *opened, in work) (j job, err error) {
	if j, err = s.understand(o, in); err != nil || len(in.Strip) < 2 {
		return j, err
	}
	for i, shot := range in.Strip {
		if shot.ID == o.id {
			j.strip = append(j.strip, j.usable())
			continue
		}
		other, err := s.shot(shot.ID)
		if err != nil {
			return j, err
		}
		k, err := s.understand(other, work{Marks: shot.Marks, Chart: in.Chart, Ask: in.Ask})
		if err != nil {
			return j, fmt.Errorf("%s: %w", longName(i, other), err)
		}
		j.strip = append(j.strip, k.usable())
	}
	return j, nil
}

// shortName is what a photo of the strip is called on the page, and longName the same
// with its file.
func shortName(i int) string           { return "photo " + strconv.Itoa(i+1) }
func longName(i int, o *opened) string { return shortName(i) + " (" + o.name + ")" }

// together is the one answer from several photos of a strip. Photos that cannot be read
// yet are left out of it.
type together struct {
	*strip.Joined
	shots   []job // those that it is from
	numbers []int // of each of them among all photos of the strip
	left    []string
	whole   bool // all that is marked in any photo was read
	version string
}

// together reads the photos of a strip and joins their readings. There is no answer where
// fewer than two can be read.
func (s *Page) together(j job) (t together, err error) {
	t.whole, t.version = true, s.config.Version
	var results []*strip.Result
	var names []string
	for i, k := range j.strip {
		ready, pending := k.marks.Ready(k.chart.Chart)
		t.whole = t.whole && len(ready.Regions) == len(k.marks.Regions)
		if k.marks.Unchecked || len(pending) == len(k.chart.Analytes) {
			t.left, t.whole = append(t.left, words.NotOfStrip(shortName(i), k.marks.Unchecked)), false
			continue
		}
		p, err := k.whole()
		if err != nil {
			return t, err
		}
		r, err := strip.ReadPhoto(p, k.chart.Chart, ready, k.ask)
		if err != nil {
			return t, fmt.Errorf("%s: %w", longName(i, k.opened), err)
		}
		results, names = append(results, r), append(names, longName(i, k.opened))
		t.shots, t.numbers = append(t.shots, k), append(t.numbers, i)
	}
	if len(results) > 1 {
		t.Joined, err = strip.OneStrip(results, j.ask)
	}
	return t, words.NotOneStrip(err, names)
}

// source is what the answer's documents are made from, with its photos by these names.
func (t together) source(name func(i int) string) report.OneStripSource {
	s := report.OneStripSource{Joined: t.Joined, ChartSHA256: t.shots[0].chart.Hash, Version: t.version}
	for _, p := range t.Photos {
		s.Files = append(s.Files, name(p.Index))
	}
	return s
}

// numbered names the photos by their numbers on the page.
func (t together) numbered() report.OneStripSource {
	return t.source(func(i int) string { return shortName(t.numbers[i]) })
}

// json is the answer as one line, with the photos by their own names.
func (t together) json() ([]byte, error) {
	return report.OneStripJSON(t.source(func(i int) string { return t.shots[i].name }))
}

// fill writes the one answer in the form that the page shows. What is read from another
// photo is not to be marked in this one.
func (t together) fill(out *readingAnswer) error {
	line, err := t.json()
	if err != nil {
		return fmt.Errorf("the reading is no JSON: %w", err)
	}
	out.JSON, out.Left, out.Complete = string(line), t.left, t.whole
	out.Say = words.Spoken(t.Readings, t.Meanings)
	out.Pending = slices.DeleteFunc(out.Pending, func(p pendingEntry) bool { return t.reads(p.Analyte) })
	for _, k := range t.shots {
		out.Photos = append(out.Photos, k.id)
	}
	out.HTML, err = report.OneStripHTML(t.numbered(), func(i int, mark colorimetry.Region) string { return t.shots[i].crop(mark) })
	return err
}

// reads reports whether an analyte is read from any photo.
func (t together) reads(analyte string) bool {
	for _, r := range t.Readings {
		if r.Analyte.Name == analyte {
			return true
		}
	}
	return false
}

// shown is the answer as a piece of a page whose pictures are in it.
func (t together) shown() (string, error) {
	var crops []func(colorimetry.Region) string
	for _, p := range t.Photos {
		crops = append(crops, paper.Crops(p.Result))
	}
	return report.OneStripHTML(t.numbered(), func(i int, mark colorimetry.Region) string {
		return crops[slices.IndexFunc(t.Photos, func(p strip.Timed) bool { return p.Index == i })](mark)
	})
}

// chartOf is the chart that marks are of: the page's, or another that they name.
func (s *Page) chartOf(m charts.Marks, chart charts.Chart) charts.Chart {
	if m.Chart == "" || m.Chart == chart.Name {
		return chart
	}
	for _, c := range s.book.all() {
		if c.Name == m.Chart {
			return c.Chart
		}
	}
	return charts.Chart{Name: m.Chart}
}
