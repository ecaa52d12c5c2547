// Package report puts a reading down, as JSON, as text for a terminal, as a piece
// of a page and as a sheet, and computes nothing but the number of digits and
// where to draw.
package report

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
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
	Sums        []calib.Judgement // by rules about several analytes together
	Notes       []string
}

// meaning is what the reading of that index means.
func (s Source) meaning(i int) strip.Meaning {
	if i < len(s.Meanings) {
		return s.Meanings[i]
	}
	return strip.Meaning{}
}

// Only is the source with the readings of some analytes alone, in the chart's
// order; with no names it is the source itself. The error names one that was not read.
func (s Source) Only(analytes []string) (Source, error) {
	if len(analytes) == 0 {
		return s, nil
	}
	for _, a := range analytes {
		if !slices.ContainsFunc(s.Readings, func(r calib.Reading) bool { return strings.EqualFold(r.Analyte.Name, a) }) {
			return s, fmt.Errorf("no reading of %s; the readings are of %s", a, lines.List(namesOf(s.Readings)))
		}
	}
	out := s
	out.Readings, out.Meanings, out.Sums = nil, nil, nil
	for i, r := range s.Readings {
		if slices.ContainsFunc(analytes, func(a string) bool { return strings.EqualFold(a, r.Analyte.Name) }) {
			out.Readings, out.Meanings = append(out.Readings, r), append(out.Meanings, s.meaning(i))
		}
	}
	return out, nil
}

func namesOf(readings []calib.Reading) (out []string) {
	for _, r := range readings {
		out = append(out, r.Analyte.Name)
	}
	return out
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
	}
}

// JSON returns the document as one line without its line break. Figures that
// are missing are null; the error is of [encoding/json] and means a fault of
// this program.
func (s Source) JSON() ([]byte, error) { return json.Marshal(New(s)) }
