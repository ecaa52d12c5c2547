package reading

import (
	"math"
	"runtime"
	"strings"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts"
	"padband/colorimetry"
)

// Origin is what a reading file says beyond the answer itself.
type Origin struct {
	File        string // the photo's name, without its folder
	ChartSHA256 string // of the chart's file, in hexadecimal
	Version     string // the program's
}

// Of returns the reading file of the whole answer from one photo.
func Of(r *strip.Result, from Origin) File {
	f := r.Photo.Facts
	out := File{
		Format: Format,
		Photo:  Photo{File: from.File, SHA256: f.SHA256, Width: r.Photo.Width, Height: r.Photo.Height, Profile: f.Profile},
		Chart:  Chart{Name: r.Chart.Name, Version: r.Chart.Version, SHA256: from.ChartSHA256},
		Light: Light{
			Reliability: r.Light.Reliability,
			White:       &White{CCT: Figure(r.Light.CCT), Duv: Figure(r.Light.Duv)},
			Unevenness:  Figure(r.Light.Unevenness),
			FoundWhite:  r.Light.FoundWhite,
			Warnings:    warnings(r.Light.Warnings),
		},
		Readings: []Reading{},
		Notes:    charts.NoteTexts(r.Notes),
		Program:  ProgramOf(from.Version),
	}
	if math.IsNaN(r.Light.CCT) {
		out.Light.White = nil
	}
	if f.Taken != "" {
		out.Photo.Taken = &f.Taken
	}
	if s := r.Marks.Sample; s.Light != charts.LampUnsaid || s.Water != charts.WaterUnsaid {
		out.Sample = &Sample{s.Light, s.Water}
	}
	for i, x := range r.Readings {
		var m strip.Meaning
		if i < len(r.Meanings) {
			m = r.Meanings[i]
		}
		out.Readings = append(out.Readings, OfPad(x, m))
	}
	for _, j := range r.Sums {
		out.Sums = append(out.Sums, Sum{SumName(j), judgement(j)})
	}
	return out
}

// ProgramOf is this program at a version.
func ProgramOf(version string) Program {
	return Program{Name: "padband", Version: version, Method: calib.Method, Go: runtime.Version()}
}

// SumName names what a rule adds: "nitrate + nitrite".
func SumName(j judge.Judgement) string {
	var names []string
	for _, s := range j.Limit.Sum {
		names = append(names, s.Analyte)
	}
	return strings.Join(names, " + ")
}

// OfPad returns one reading of the file, with what it means.
func OfPad(r calib.Reading, m strip.Meaning) Reading {
	out := Reading{
		Analyte: r.Analyte.Name, Unit: r.Analyte.Unit, As: r.Analyte.As,
		Value: Figure(r.Value), Range: r.Range, Bracket: r.Bracket,
		Reliability: r.Reliability, Warnings: warnings(r.Warnings),
		Band: BandOf(r.Band), WaterBand: BandOf(r.WaterBand),
		Pad:    Pad{Lab: labs(r.Pad), DeltaE: Figure(r.DeltaEToScale)},
		Budget: []Contribution{}, Swatches: []Swatch{},
	}
	if r.Analyte.Kind == charts.KindPresence {
		out.Presence = given(r.Yes)
	}
	out.WaterBand.KitError = "stated"
	if r.KitAssumed {
		out.WaterBand.KitError = "assumed"
	}
	for _, s := range r.Swatches {
		out.Swatches = append(out.Swatches, Swatch{Value: s.Value, Lab: labs(s.Lab), DeltaE: Figure(s.DeltaE)})
	}
	for _, s := range r.Budget {
		out.Budget = append(out.Budget, Contribution{Source: s.Source.Name(), Code: s.Source, Steps: Figure(s.Steps)})
	}
	return out.meaning(m)
}

// warnings are the warnings as the file has them, with their text; never null.
func warnings(ws []calib.Warning) []Warning {
	out := []Warning{}
	for _, w := range ws {
		out = append(out, Warning{Code: w.Code, Text: w.Text(), Places: PlacesOf(w.Places)})
	}
	return out
}

// PlacesOf returns places as the file has them.
func PlacesOf(places []calib.Place) (out []Place) {
	for _, p := range places {
		one := Place{Kind: p.Kind, Analyte: p.Analyte, Part: p.Part, Number: p.Number}
		if p.Kind == calib.PlaceSwatch {
			one.Value = &p.Value
		}
		out = append(out, one)
	}
	return out
}

// labs are colours as three figures each; never null.
func labs(v []colorimetry.Lab) [][3]Figure {
	out := [][3]Figure{}
	for _, c := range v {
		out = append(out, [3]Figure{Figure(c.L), Figure(c.A), Figure(c.B)})
	}
	return out
}
