package report

import (
	"encoding/json"
	"fmt"
	"strings"

	"padband/calib/reading"
	"padband/calib/strip"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/words"
)

// OneStripSource is what the report of several photos of one strip is made from.
type OneStripSource struct {
	*strip.Joined
	Files       []string // the photos' names, in the order of the answer's photos
	ChartSHA256 string
	Version     string
}

// OneStripText returns the one answer from several photos of a strip as text for people.
func OneStripText(s OneStripSource) string {
	var b strings.Builder
	title := s.Chart.Title
	if title == "" {
		title = s.Chart.Name
	}
	lines.Paragraph(&b, "", fmt.Sprintf("%s of one strip, read against %q", lines.UpperFirst(lines.Count(len(s.Photos), "photo")), title))
	for i, p := range s.Photos {
		lines.Wrap(&b, "  ", "    ", words.ShotOfStrip(p, s.Files[i]))
	}
	for i, r := range s.Readings {
		b.WriteString("\n" + padText(r, s.Photos[s.Picks[i].Photo].Light, s.Meanings[i], words.Picked(s.Joined, i, s.Files)...))
	}
	for _, j := range s.Sums {
		b.WriteString("\n" + sum(j))
	}
	for i, p := range s.Photos {
		if s.used(i) && len(p.Light.Warnings) > 0 {
			b.WriteString("\n")
			lines.Paragraph(&b, "", "The photo "+s.Files[i])
			warningLines(&b, p.Light.Warnings)
		}
	}
	if ws := words.Unsaid(s.Readings); len(ws) > 0 {
		b.WriteString("\nNot known\n")
		warningLines(&b, ws)
	}
	if len(s.Notes) > 0 {
		b.WriteString("\nNot read\n")
	}
	for _, n := range s.Notes {
		lines.Wrap(&b, "  - ", "    ", n.Text)
	}
	b.WriteString("\n")
	lines.Paragraph(&b, "", words.OneStripMeaning)
	return b.String()
}

// used reports whether any pad is read from a photo.
func (s OneStripSource) used(photo int) bool {
	for _, p := range s.Picks {
		if p.Photo == photo {
			return true
		}
	}
	return false
}

// oneStripDocument is the answer as its JSON holds it. Its readings are those of a
// reading file, so that what reads such files reads these too.
type oneStripDocument struct {
	Format   int               `json:"format"`
	OneStrip []oneStripPhoto   `json:"one_strip"`
	Chart    reading.Chart     `json:"chart"`
	Readings []oneStripReading `json:"readings"`
	Sums     []reading.Sum     `json:"sums,omitempty"`
	Notes    []string          `json:"notes,omitempty"`
	Program  reading.Program   `json:"program"`
}

// oneStripPhoto is a photo of the strip.
type oneStripPhoto struct {
	reading.Photo
	AfterDip  reading.Figure  `json:"after_dip_s"`
	Unchecked bool            `json:"marks_unchecked,omitempty"`
	Sample    *reading.Sample `json:"sample,omitempty"`
	Light     reading.Light   `json:"light"`
}

// oneStripReading is one reading with where it is from.
type oneStripReading struct {
	reading.Reading
	Photo    string         `json:"photo"`
	AfterDip reading.Figure `json:"after_dip_s"`
	Window   *[2]float64    `json:"read_window_s"` // null where the chart gives none
	InTime   *bool          `json:"in_time"`       // null where the chart gives no window
	Passed   []string       `json:"passed_over,omitempty"`
}

// OneStripJSON returns the answer as one line of JSON without its line break. The error
// means a fault of this program.
func OneStripJSON(s OneStripSource) ([]byte, error) {
	d := oneStripDocument{
		Format: reading.Format, Readings: []oneStripReading{}, Program: reading.ProgramOf(s.Version),
		Chart: reading.Chart{Name: s.Chart.Name, Version: s.Chart.Version, SHA256: s.ChartSHA256},
	}
	for i, p := range s.Photos {
		f := reading.Of(p.Result, reading.Origin{File: s.Files[i], ChartSHA256: s.ChartSHA256, Version: s.Version})
		d.OneStrip = append(d.OneStrip, oneStripPhoto{f.Photo, reading.Figure(p.Seconds), p.Marks.Unchecked, f.Sample, f.Light})
	}
	f := reading.Of(s.asResult(), reading.Origin{})
	for i, r := range f.Readings {
		p, a := s.Picks[i], s.Readings[i].Analyte
		one := oneStripReading{Reading: r, Photo: s.Files[p.Photo], AfterDip: reading.Figure(s.Photos[p.Photo].Seconds), Window: a.ReadWindow}
		if a.ReadWindow != nil {
			one.InTime = &p.InTime
		}
		for _, k := range p.Passed {
			one.Passed = append(one.Passed, s.Files[k])
		}
		d.Readings = append(d.Readings, one)
	}
	d.Sums, d.Notes = f.Sums, f.Notes
	return json.Marshal(d)
}

// asResult is the answer as if it were of one photo, for what is written of both alike.
func (s OneStripSource) asResult() *strip.Result {
	return &strip.Result{Photo: s.Photos[0].Photo, Chart: s.Chart, Readings: s.Readings, Meanings: s.Meanings, Sums: s.Sums, Notes: s.Notes}
}
