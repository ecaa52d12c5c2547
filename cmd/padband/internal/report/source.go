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
)

// Source is what all documents of one photo are made from.
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

	result *strip.Result // where all of it comes from; nil in a source that Of did not make
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

// JSON returns the reading file of a source made by [Of], as one line without
// its line break. The error means a fault of this program.
func (s Source) JSON() ([]byte, error) {
	return reading.Of(s.result, reading.Origin{File: s.File, ChartSHA256: s.ChartSHA256, Version: s.Version}).Encode()
}
