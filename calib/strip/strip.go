// Package strip reads a strip: one photo with its chart and marks in, readings
// out. The command, the page and every other caller make this one call.
package strip

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"padband/calib"
	"padband/calib/judge"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// Input is what one reading needs.
type Input struct {
	Photo  []byte
	Chart  charts.Chart
	Marks  charts.Marks
	Limits photo.Limits
	Whole  bool // decode all of the photo: pictures will be made of it too
	Ask    Ask
}

// Result is the whole answer from one photo.
type Result struct {
	Photo    *photo.Photo
	Chart    charts.Chart
	Marks    charts.Marks
	Placed   charts.Placed
	Light    calib.LightReport
	Readings []calib.Reading
	Meanings []Meaning         // beside the readings, as many
	Sums     []judge.Judgement // by rules about several analytes together
	Notes    []charts.Note     // such as an analyte of the chart with no pad marked
}

// Read decodes the photo, unless [Input.Whole] only what is marked of it, reads
// every marked pad and answers what is asked. The error is one line without the
// photo's name: what is wrong, where, what to do.
func Read(in Input) (*Result, error) {
	p, err := photo.Decode(in.Photo, in.Limits, in.wanted()...)
	if err != nil {
		return nil, err
	}
	return ReadPhoto(p, in.Chart, in.Marks, in.Ask)
}

// ReadPhoto is [Read] for a photo that is already decoded.
func ReadPhoto(p *photo.Photo, chart charts.Chart, marks charts.Marks, ask Ask) (*Result, error) {
	m, err := Measure(p, chart, marks)
	if err != nil {
		return nil, err
	}
	return m.Answer(marks.Sample, ask)
}

// Measured is a photo whose pads were read, before anything is known of the
// sample or asked about it.
type Measured struct {
	photo    *photo.Photo
	chart    charts.Chart
	marks    charts.Marks
	placed   charts.Placed
	light    calib.LightReport
	readings []calib.Reading
}

// Measure reads every marked pad of a photo.
func Measure(p *photo.Photo, chart charts.Chart, marks charts.Marks) (*Measured, error) {
	samples, placed, err := Samples(p, chart, marks)
	if err != nil {
		return nil, err
	}
	light, readings, err := calib.Read(samples)
	if err != nil {
		return nil, err
	}
	return &Measured{p, chart, marks, placed, light.Report(samples), readings}, nil
}

// Answer gives the whole answer for a sample: the readings with all that is to be
// warned of, and what they mean. It can be called again, for another sample or
// another question. The error says what of the question or of the sample's
// dilution cannot be.
func (m *Measured) Answer(sample charts.SampleInfo, ask Ask) (*Result, error) {
	r := &Result{Photo: m.photo, Chart: m.chart, Marks: m.marks, Placed: m.placed, Light: m.light, Notes: m.placed.Notes}
	r.Marks.Sample = sample
	r.Light.Warnings = slices.Clone(m.light.Warnings)
	for _, x := range m.readings {
		x.Warnings = slices.Clone(x.Warnings)
		r.Readings = append(r.Readings, x)
	}
	r.addNotes(m.photo)
	r.addTimes()
	judge.CheckNitrite(r.Readings)
	if err := r.mean(ask); err != nil {
		return nil, err
	}
	return r, nil
}

// Only is the answer with the readings of some analytes alone, in the chart's
// order and without sums. missing is the first of the names that was not read,
// and then there is no answer.
func (r *Result) Only(analytes []string) (out *Result, missing string) {
	named := func(name string) func(calib.Reading) bool {
		return func(x calib.Reading) bool { return strings.EqualFold(x.Analyte.Name, name) }
	}
	for _, a := range analytes {
		if !slices.ContainsFunc(r.Readings, named(a)) {
			return nil, a
		}
	}
	one := *r
	one.Readings, one.Meanings, one.Sums = nil, nil, nil
	for i, x := range r.Readings {
		if slices.ContainsFunc(analytes, func(a string) bool { return named(a)(x) }) {
			one.Readings, one.Meanings = append(one.Readings, x), append(one.Meanings, r.Meanings[i])
		}
	}
	return &one, ""
}

// Samples checks the marks against chart and photo and measures every marked
// region: all that [calib.Read] needs.
func Samples(p *photo.Photo, chart charts.Chart, marks charts.Marks) (calib.Photo, charts.Placed, error) {
	if err := marks.CheckPhoto(p.Width, p.Height, p.Facts.SHA256); err != nil {
		return calib.Photo{}, charts.Placed{}, err
	}
	placed, err := marks.Place(chart, p.Width, p.Height)
	if err != nil {
		return calib.Photo{}, charts.Placed{}, err
	}
	samples, err := sampleAll(p, placed)
	return samples, placed, err
}

// addNotes puts what the file itself says among the warnings of the light.
func (r *Result) addNotes(p *photo.Photo) {
	for _, n := range p.Notes {
		w := calib.Warning{Code: calib.Code(n.Code), Seen: n.Text, Weight: weight(calib.Code(n.Code)), Places: []calib.Place{{Kind: calib.PlacePhoto}}}
		r.Light.Warnings = append(r.Light.Warnings, w)
		r.Light.Reliability = r.Light.Reliability.Worse(w.Weight)
	}
	sort.SliceStable(r.Light.Warnings, func(i, j int) bool {
		a, b := r.Light.Warnings[i].Weight, r.Light.Warnings[j].Weight
		return a != b && a.Worse(b) == a
	})
	for i := range r.Readings {
		r.Readings[i].Reliability = r.Readings[i].Reliability.Worse(r.Light.Reliability)
	}
}

// weight is what a note of the file does to the reliability. A missing profile
// alone moves a reading by under 2 % when the chart is in the same photo.
func weight(code calib.Code) calib.Reliability {
	switch code {
	case calib.CodeNoProfile:
		return calib.Good
	}
	return calib.Caution
}

func sampleAll(p *photo.Photo, placed charts.Placed) (calib.Photo, error) {
	out := calib.Photo{Width: p.Width, Height: p.Height}
	for i, m := range placed.Whites {
		s, err := p.Sample(m.Region)
		if err != nil {
			return out, fmt.Errorf("white area %d: %w", i+1, err)
		}
		out.Whites = append(out.Whites, calib.White{Material: m.Material, Sample: s})
	}
	for _, a := range placed.Pads {
		pad := calib.Pad{Analyte: a.Analyte}
		parts, err := sampleMarks(p, a.Pad)
		if err != nil {
			return out, fmt.Errorf("%s, pad%w", a.Analyte.Name, err)
		}
		pad.Parts = parts
		for i, sw := range a.Swatches {
			parts, err := sampleMarks(p, sw)
			if err != nil {
				return out, fmt.Errorf("%s, swatch %g%w", a.Analyte.Name, a.Analyte.Swatches[i].Value, err)
			}
			pad.Swatches = append(pad.Swatches, parts)
		}
		out.Pads = append(out.Pads, pad)
	}
	return out, nil
}

// sampleMarks measures the parts of one pad or swatch. Its error begins with
// the part, when there are several, so that the caller can put the name before it.
func sampleMarks(p *photo.Photo, marks []charts.Mark) ([]colorimetry.Sample, error) {
	var out []colorimetry.Sample
	for k, m := range marks {
		s, err := p.Sample(m.Region)
		if err != nil {
			if len(marks) > 1 {
				return nil, fmt.Errorf(" part %d: %w", k+1, err)
			}
			return nil, fmt.Errorf(": %w", err)
		}
		out = append(out, s)
	}
	return out, nil
}
