// Package report puts a reading down, as JSON, as text for a terminal, as a piece
// of a page and as a sheet, and computes nothing but the number of digits and
// where to draw.
package report

import (
	"padband/calib"
	"padband/calib/judge"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
)

// Source is what a document is made from.
type Source struct {
	File        string
	ChartSHA256 string
	Version     string
	Photo       PhotoFacts
	Chart       charts.Chart
	Light       calib.LightReport
	Placed      charts.Placed // where in the photo everything was marked
	Readings    []calib.Reading
	Meanings    []strip.Meaning   // beside the readings; nil when nothing was asked
	Sums        []judge.Judgement // by rules about several analytes together
	Notes       []charts.Note

	result *strip.Result // what all of it is from; nil in a source that was not made by Of
}

// meaning is what the reading of that index means.
func (s Source) meaning(i int) strip.Meaning {
	if i < len(s.Meanings) {
		return s.Meanings[i]
	}
	return strip.Meaning{}
}

// PhotoFacts is what a document says of the photo.
type PhotoFacts struct {
	SHA256, Profile, Taken string
	Width, Height          int
}

// Of returns the source of one photo's documents. file is the photo's name
// without its folder, chartHash the SHA-256 of the chart's file in hexadecimal,
// version the program's.
func Of(file, chartHash, version string, r *strip.Result) Source {
	f := r.Photo.Facts
	return Source{
		File: file, ChartSHA256: chartHash, Version: version,
		Photo: PhotoFacts{SHA256: f.SHA256, Profile: f.Profile, Taken: f.Taken, Width: r.Photo.Width, Height: r.Photo.Height},
		Chart: r.Chart, Light: r.Light, Placed: r.Placed, Readings: r.Readings, Meanings: r.Meanings, Sums: r.Sums, Notes: r.Notes,
		result: r,
	}
}

// JSON returns the reading file of a source made by [Of], as one line without
// its line break. The error means a fault of this program.
func (s Source) JSON() ([]byte, error) {
	return reading.Of(s.result, reading.Origin{File: s.File, ChartSHA256: s.ChartSHA256, Version: s.Version}).Encode()
}
