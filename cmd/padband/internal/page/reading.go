package page

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

// work is what the page sends to be read or saved: a marks file and a chart file. It
// holds no colour but those that a chart remembers, which came from the program.
type work struct {
	Marks json.RawMessage `json:"marks"`
	Chart json.RawMessage `json:"chart"`
	Force bool            `json:"force"`
	Ask   asked           `json:"ask"`
	Strip []shotWork      `json:"strip"` // all photos of the strip, in the page's order, with this one; none where it is the only one
}

// job is the work of a call after it was read and checked.
type job struct {
	*opened
	marks charts.Marks
	chart input.ChartFile
	ask   strip.Ask
	asked record.Asked // the same, as a record keeps it
	strip []job        // of all photos of the strip, this one among them; nil where it is the only one
}

// job reads a call's marks and chart.
func (s *Page) job(c hosted.Call) (j job, force bool, err error) {
	o, err := s.opened(c)
	if err != nil {
		return j, false, err
	}
	var in work
	if err := c.Take(&in); err != nil {
		return j, false, err
	}
	j, err = s.understandAll(o, in)
	return j, in.Force, err
}

// understand reads the marks and the chart, which must go with the photo.
func (s *Page) understand(o *opened, in work) (j job, err error) {
	if err := checkSample(in.Marks); err != nil {
		return j, err
	}
	marks, err := charts.ParseMarks(in.Marks)
	if err != nil {
		return j, err
	}
	chart, err := charts.ParseChart(in.Chart)
	if err != nil {
		return j, err
	}
	file, err := s.book.file(chart, o.chart)
	if err != nil {
		return j, err
	}
	if err := marks.CheckPhoto(o.photo.Width, o.photo.Height, o.photo.Facts.SHA256); err != nil {
		return j, err
	}
	if marks.Chart != "" && marks.Chart != chart.Name {
		return j, fmt.Errorf("these marks are for the chart %q, not for %q; choose that chart", marks.Chart, chart.Name)
	}
	marks.Chart = chart.Name
	ask, as, err := in.Ask.understood(chart)
	return job{opened: o, marks: o.own(marks), chart: file, ask: ask, asked: as}, err
}

// own are the marks as they are written to a file: for this photo, and to a tenth of a
// pixel.
func (o *opened) own(m charts.Marks) charts.Marks {
	m.Photo = charts.PhotoRef{Width: o.photo.Width, Height: o.photo.Height, SHA256: o.photo.Facts.SHA256}
	m.Corners = tenths(m.Corners)
	for i, r := range m.Regions {
		m.Regions[i].Region.Points, m.Regions[i].Region.Radius = tenths(r.Region.Points), tenth(r.Region.Radius)
	}
	return m
}

// usable is the job without those corners that the chart has no use for yet.
func (j job) usable() job {
	if len(j.chart.Layout) == 0 {
		j.marks.Corners = nil
	}
	return j
}

// readingAnswer is what the page shows.
type readingAnswer struct {
	JSON     string         `json:"json"`
	HTML     string         `json:"html"`
	Say      string         `json:"say"`
	Placed   []placedMark   `json:"placed"`
	Pending  []pendingEntry `json:"pending"`
	Complete bool           `json:"complete"`
	Moments  []string       `json:"moments"` // when to take a photo of this chart's pads
	Photos   []string       `json:"photos"`  // the ids of those that the one answer of a strip is from, by their numbers in html
	Left     []string       `json:"left"`    // which photos of the strip are left out of it, and why

	// Colours are how the bottle's swatches look, as the chart's file would hold them; null
	// where the chart remembers the bottle, and where the photo is not one to remember by.
	Colours json.RawMessage `json:"colours"`
}

type placedMark struct {
	Role    charts.Role  `json:"role"`
	Analyte string       `json:"analyte"`
	Value   float64      `json:"value"`
	Part    int          `json:"part"`
	Polygon [][2]float64 `json:"polygon"`
}

type pendingEntry struct {
	Analyte string `json:"analyte"`
	Text    string `json:"text"`
}

func (s *Page) reading(ctx context.Context, c hosted.Call) hosted.Answer {
	j, _, err := s.job(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	leave, err := s.photos.enter(ctx, s.photos.readings)
	if err != nil {
		return hosted.Refuse(err)
	}
	defer leave()
	out, err := s.read(j.usable())
	switch {
	case ctx.Err() != nil:
		return hosted.Answer{} // the page has asked again by now
	case err != nil:
		return hosted.Refuse(err)
	}
	return hosted.JSON(out)
}

// read makes the live reading. It is of the analytes that are marked whole.
func (s *Page) read(j job) (readingAnswer, error) {
	out := readingAnswer{Pending: []pendingEntry{}, Moments: words.PhotoMoments(j.chart.Chart)}
	var err error
	if out.Placed, err = j.placed(); err != nil {
		return out, err
	}
	ready, pending := j.marks.Ready(j.chart.Chart)
	for _, p := range pending {
		out.Pending = append(out.Pending, pendingEntry{p.Analyte, p.Text})
	}
	if len(j.strip) > 0 {
		t, err := s.together(j)
		if err == nil && len(t.shots) > 1 {
			err = t.fill(&out)
		}
		if err != nil || len(t.shots) > 1 {
			return out, err
		}
		out.Left = t.left
	}
	if len(pending) == len(j.chart.Analytes) {
		return out, nil // nothing to read yet
	}
	r, err := j.result(ready)
	if err != nil {
		return out, err
	}
	src := s.sourceOf(j, r)
	if out.Complete = len(ready.Regions) == len(j.marks.Regions); out.Complete {
		out.Colours = j.colours(r)
	}
	out.Say = words.Spoken(src.Readings, src.Meanings)
	return out, j.fill(&out, src)
}

// placed are the swatches and the white areas that the chart's corners place.
func (j job) placed() ([]placedMark, error) {
	out := []placedMark{}
	cells, err := j.marks.Cells(j.chart.Chart, j.photo.Width, j.photo.Height)
	for _, c := range cells {
		out = append(out, placedMark{c.Role, c.Analyte, c.Value, c.Part, rounded(c.Region.Outline())})
	}
	return out, err
}

// fill writes the reading in the form that the page shows.
func (j job) fill(out *readingAnswer, src report.Source) error {
	line, err := src.JSON()
	if err != nil {
		return fmt.Errorf("the reading is no JSON: %w", err)
	}
	out.JSON = string(line)
	out.HTML, err = report.HTML(src, j.crop)
	return err
}

// result reads the strip with these marks.
func (j job) result(marks charts.Marks) (*strip.Result, error) {
	p, err := j.whole()
	if err != nil {
		return nil, err
	}
	return strip.ReadPhoto(p, j.chart.Chart, marks, j.ask)
}

// sourceOf is what the documents of a reading are made from.
func (s *Page) sourceOf(j job, r *strip.Result) report.Source {
	return report.Of(j.name, j.chart.Hash, s.config.Version, r)
}

// colours are those that the chart may take from this reading and does not have yet.
func (j job) colours(r *strip.Result) json.RawMessage {
	if _, known := j.chart.Of(strings.TrimSpace(j.marks.Sample.Kit.Lot)); known {
		return nil
	}
	p, err := r.PrintColours("")
	if err != nil {
		return nil
	}
	data, err := charts.Remember(j.chart.Data, p)
	var file struct {
		Remembered []json.RawMessage `json:"print_colours"`
	}
	if err != nil || json.Unmarshal(data, &file) != nil {
		return nil // such as a chart that remembers as many bottles as it can
	}
	return file.Remembered[len(file.Remembered)-1]
}

// cropWide is the width of a crop beside a number, in pixels.
const cropWide = 240

// crop is the address of the picture of a mark and its surroundings.
func (j job) crop(mark colorimetry.Region) string {
	a := report.Around(mark, j.photo.Width, j.photo.Height)
	least, most := a.Bounds()
	return fmt.Sprintf("api/photos/%s/part?x=%g&y=%g&w=%g&h=%g&to=%d",
		j.id, tenth(least.X), tenth(least.Y), tenth(most.X-least.X), tenth(most.Y-least.Y), cropWide)
}

func (s *Page) layout(_ context.Context, c hosted.Call) hosted.Answer {
	j, _, err := s.job(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	chart, err := j.chart.WithLayout(j.marks)
	if err != nil {
		return hosted.Refuse(err)
	}
	return answerChart(chart)
}
