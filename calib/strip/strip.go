// Package strip reads a strip: it takes one photo with its chart and marks and gives
// the readings and what they mean. Start at [Read]: the command, the page and every
// other caller make this one call. [Measure] and [Measured.Answer] are its two halves,
// for callers who ask several questions of one photo; [Pool] reads several photos
// together, and [OneStrip] takes each pad from the photo in time for it. The package
// opens no files and prints nothing.
package strip

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/strip/bare"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// Input is what one reading needs: the photo as its file holds it, the chart
// that it shows, and the marks that say where pads, swatches and white areas lie.
type Input struct {
	Photo  []byte
	Chart  charts.Chart
	Marks  charts.Marks
	Limits photo.Limits
	Whole  bool // decode all of the photo: pictures will be made of it too
	Ask    Ask
}

// Result is the whole answer from one photo. Its readings stand in the order of the
// chart's analytes; an analyte without a marked pad has none.
type Result struct {
	Photo    *photo.Photo
	Chart    charts.Chart
	Marks    charts.Marks
	Placed   charts.Placed
	Light    calib.LightReport
	Readings []calib.Reading
	Meanings []Meaning         // one for each reading, in the same order
	Sums     []judge.Judgement // those of rules about several analytes together
	Notes    []charts.Note     // such as an analyte of the chart with no pad marked

	measured *Measured       // what it was answered from
	alone    []calib.Reading // before the pads testified about each other
}

// Read decodes the photo, reads every marked pad and answers what is asked. It decodes
// only what is marked of the photo, unless [Input.Whole] is set. The error is one line
// without the photo's name: what is wrong, where, what to do.
func Read(in Input) (*Result, error) {
	p, err := photo.Decode(in.Photo, in.Limits, in.wanted()...)
	if err != nil {
		return nil, err
	}
	m, err := measure(p, in.Chart, in.Marks, func() (*photo.Photo, error) { return photo.Decode(in.Photo, in.Limits) })
	if err != nil {
		return nil, err
	}
	return m.Answer(in.Marks.Sample, in.Ask)
}

// ReadPhoto is [Read] for a photo that is already decoded, whole or at least
// where the marks lie and bare white is looked for.
func ReadPhoto(p *photo.Photo, chart charts.Chart, marks charts.Marks, ask Ask) (*Result, error) {
	m, err := Measure(p, chart, marks)
	if err != nil {
		return nil, err
	}
	return m.Answer(marks.Sample, ask)
}

// Measured is a photo whose marks were measured, before anything is known of the sample
// or asked about it. Answering does not change it.
type Measured struct {
	photo   *photo.Photo
	chart   charts.Chart
	marks   charts.Marks
	placed  charts.Placed
	samples calib.Photo
	whole   []calib.Warning // of a picture that no camera made, and of corners in a wrong order
}

// Measure measures every mark of a photo. The error is one line: a photo without
// colour, marks that do not fit chart or photo, or a region that holds no pixels.
func Measure(p *photo.Photo, chart charts.Chart, marks charts.Marks) (*Measured, error) {
	return measure(p, chart, marks, nil)
}

// measure is [Measure] for a photo that again gives whole, should it be looked at.
func measure(p *photo.Photo, chart charts.Chart, marks charts.Marks, again func() (*photo.Photo, error)) (*Measured, error) {
	if at, err := marks.Place(chart, p.Width, p.Height); err == nil {
		if err := colours(p, regions(at), again); err != nil {
			return nil, err
		}
	}
	samples, placed, err := Samples(p, chart, marks)
	if err != nil {
		return nil, err
	}
	changed, err := altered(p, samples, again)
	if err != nil {
		return nil, err
	}
	turned, err := turnedCorners(p, chart, marks, samples, again)
	if err != nil {
		return nil, err
	}
	return &Measured{p, chart, marks, placed, samples, append(changed, turned...)}, nil
}

// Answer gives the whole answer for a sample: the readings with all their warnings,
// and what they mean. It can be called again, for another sample or another
// question. The error says what is wrong with the question or with the sample's
// dilution, or names the analyte whose samples make no scale.
func (m *Measured) Answer(sample charts.SampleInfo, ask Ask) (*Result, error) {
	r := &Result{Photo: m.photo, Chart: m.chart, Marks: m.marks, Placed: m.placed, Notes: m.placed.Notes, measured: m}
	r.Marks.Sample = sample
	samples := m.samples
	lamp, doubt := lampOf(sample.Light, m.photo.Facts)
	samples.Lamp, samples.Water = lamp, sample.Water
	light, readings, err := calib.Read(samples)
	if err != nil {
		return nil, err
	}
	r.Light = light.Report(samples)
	if mixed(r.Light) && samples.Lamp != charts.LampUnsaid { // no word fits two kinds of light
		samples.Lamp = charts.LampUnsaid
		if sample.Light != charts.LampUnsaid {
			doubt = notUsed(sample.Light, "white changes its colour over the photo, as under two kinds of light")
		}
		if _, readings, err = calib.Read(samples); err != nil {
			return nil, err
		}
	}
	r.Readings = readings
	r.addNotes(m.photo, slices.Concat(m.whole, doubt, m.witnessed(r, light, samples.Lamp)))
	r.addUnchecked()
	r.addTimes()
	for _, x := range r.Readings {
		r.alone = append(r.alone, copied(x))
	}
	if err := r.together(ask); err != nil {
		return nil, err
	}
	return r, nil
}

// together lets the pads of a strip testify about each other, and says what they mean.
func (r *Result) together(ask Ask) error {
	if err := r.addSpoilers(ask); err != nil {
		return err
	}
	judge.CheckNitrite(r.Readings)
	return r.mean(ask)
}

// Only is the answer with the readings of some analytes alone, in the chart's order
// and without sums. If one of the names was not read, missing is the first such name,
// and there is no answer.
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

// Samples checks the marks against chart and photo, measures every marked region and
// looks for bare white about them.
// Its result is all that [calib.Read] needs.
func Samples(p *photo.Photo, chart charts.Chart, marks charts.Marks) (calib.Photo, charts.Placed, error) {
	if err := marks.CheckPhoto(p.Width, p.Height, p.Facts.SHA256); err != nil {
		return calib.Photo{}, charts.Placed{}, err
	}
	placed, err := marks.Place(chart, p.Width, p.Height)
	if err != nil {
		return calib.Photo{}, charts.Placed{}, err
	}
	samples, err := sampleAll(p, placed)
	if err == nil {
		samples.Found = foundWhites(p, placed, samples)
	}
	return samples, placed, err
}

// foundWhites are the places of bare white about the marks that show the marked white.
// Where a place was not decoded there is none.
func foundWhites(p *photo.Photo, placed charts.Placed, samples calib.Photo) []calib.White {
	plan := bare.NewPlan(placed, p.Width, p.Height)
	return plan.Grow(samples, func(i int) (colorimetry.Sample, bool) {
		s, err := p.SampleInside(plan.Regions[i])
		return s, err == nil
	})
}

// addNotes adds what the file itself and its whole picture tell to the warnings of the
// light, and sorts these by weight, the worst first. No reading is more reliable than
// its light.
func (r *Result) addNotes(p *photo.Photo, whole []calib.Warning) {
	for _, w := range whole {
		r.Light.Warnings = append(r.Light.Warnings, w)
		r.Light.Reliability = r.Light.Reliability.Worse(w.Weight)
	}
	for _, n := range p.Notes {
		w := calib.Warning{Code: calib.Code(n.Code), Seen: n.Text, Weight: weight(calib.Code(n.Code)),
			Places: []calib.Place{{Kind: calib.PlacePhoto}}}
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

// weight is the reliability that a note on the file leaves a reading. It is caution
// for all but a missing profile, which alone moves a reading by under 2 % when the
// chart is in the same photo.
func weight(code calib.Code) calib.Reliability {
	switch code {
	case calib.CodeNoProfile:
		return calib.Good
	}
	return calib.Caution
}

// sampleAll measures every placed region. Its error names the white area, pad or
// swatch.
func sampleAll(p *photo.Photo, placed charts.Placed) (calib.Photo, error) {
	out := calib.Photo{Width: p.Width, Height: p.Height}
	var err error
	if out.Whites, err = sampleWhites(p, placed.Whites, "white area"); err != nil {
		return out, err
	}
	if out.WetWhites, err = sampleWhites(p, placed.WetWhites, "wet white"); err != nil {
		return out, err
	}
	for _, a := range placed.Pads {
		pad := calib.Pad{Analyte: a.Analyte}
		parts, err := sampleMarks(p, a.Pad)
		if err != nil {
			return out, fmt.Errorf("%s, pad%w", a.Analyte.Name, err)
		}
		for k := range parts {
			parts[k].Beside = p.Beside(a.Pad[k].Region, parts[k].XYZ)
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

// sampleWhites measures white areas, which its error calls by the given name.
func sampleWhites(p *photo.Photo, marks []charts.Mark, name string) (out []calib.White, err error) {
	for i, m := range marks {
		s, err := p.Sample(m.Region)
		if err != nil {
			return out, fmt.Errorf("%s %d: %w", name, i+1, err)
		}
		out = append(out, calib.White{Material: m.Material, Sample: s})
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
