// Package report writes a reading down: as JSON, as text for a terminal, as rows of
// CSV and as a piece of a page. It also writes charts, limits and the plan before a
// dip. Start at [Of], which makes the [Source] of all these. The package computes
// nothing: its sentences come from package words, and the sheets of a whole report are
// made by package paper.
package report

import (
	"padband/calib"
	"padband/calib/judge"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// Source is what all documents of one photo are made from. Of several photos of one
// strip (see [OfStrip]) it has what is said of all of them together; what is of one
// photo, as Light and Placed, stands in the sources that [Source.From] gives.
type Source struct {
	File        string
	ChartSHA256 string
	Version     string
	Photo       PhotoFacts
	Chart       charts.Chart
	Light       calib.LightReport
	Placed      charts.Placed // where in the photo everything was marked
	Readings    []calib.Reading
	Meanings    []strip.Meaning   // one for each reading; nil when nothing was asked
	Sums        []judge.Judgement // those of rules about several analytes together
	Notes       []charts.Note
	Sample      charts.SampleInfo // what was said of it
	Unchecked   bool              // whether the program found the marks, and nobody has looked at them

	result *strip.Result   // where all of it comes from; nil in a source that Of did not make
	strip  *OneStripSource // what a source of several photos comes from; else nil
}

// OfStrip returns the source of the documents of several photos of one strip.
func OfStrip(s OneStripSource) Source {
	first := s.Photos[0]
	taken := first.Photo.Facts.Taken
	if taken == "" {
		taken = first.Marks.Sample.Taken
	}
	return Source{
		File: lines.List(s.Files), ChartSHA256: s.ChartSHA256, Version: s.Version, Photo: PhotoFacts{Taken: taken}, Chart: s.Chart,
		Readings: s.Readings, Meanings: s.Meanings, Sums: s.Sums, Notes: s.Notes, Sample: first.Marks.Sample, strip: &s,
	}
}

// Strip is what a source of several photos of one strip was made from; nil of one photo.
func (s Source) Strip() *OneStripSource { return s.strip }

// From is the source of the photo that the reading with that index is from, with all
// that photo's own readings. The only photo is the source itself.
func (s Source) From(i int) Source {
	if s.strip == nil {
		return s
	}
	return s.strip.Shot(s.strip.Picks[i].Photo)
}

// SHA256s are those of all photos, in hexadecimal.
func (s Source) SHA256s() (out []string) {
	if s.strip == nil {
		return []string{s.Photo.SHA256}
	}
	for _, p := range s.strip.Photos {
		out = append(out, p.Photo.Facts.SHA256)
	}
	return out
}

// meaning says what the reading with that index means.
func (s Source) meaning(i int) strip.Meaning {
	if i < len(s.Meanings) {
		return s.Meanings[i]
	}
	return strip.Meaning{}
}

// PhotoFacts are the facts of the photo that a document gives.
type PhotoFacts struct {
	SHA256, Profile, Taken string
	Width, Height          int
}

// Of returns the source of one photo's documents. file is the photo's name without its
// folder, chartHash is the SHA-256 of the chart's file in hexadecimal, and version is
// the program's.
func Of(file, chartHash, version string, r *strip.Result) Source {
	f := r.Photo.Facts
	return Source{
		File: file, ChartSHA256: chartHash, Version: version,
		Photo: PhotoFacts{SHA256: f.SHA256, Profile: f.Profile, Taken: f.Taken, Width: r.Photo.Width, Height: r.Photo.Height},
		Chart: r.Chart, Light: r.Light, Placed: r.Placed, Readings: r.Readings, Meanings: r.Meanings, Sums: r.Sums, Notes: r.Notes,
		Sample: r.Marks.Sample, Unchecked: r.Marks.Unchecked,
		result: r,
	}
}

// JSON returns the reading file of a source made by [Of] or [OfStrip], as one line without
// its line break. The error means a fault of this program.
func (s Source) JSON() ([]byte, error) {
	if s.strip != nil {
		return OneStripJSON(*s.strip)
	}
	return reading.Of(s.result, reading.Origin{File: s.File, ChartSHA256: s.ChartSHA256, Version: s.Version}).Encode()
}
