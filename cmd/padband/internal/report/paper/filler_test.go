package paper

import (
	"fmt"

	"padband/calib"
	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/words"
)

// filler puts a text into fields, each time told apart, and keeps what it put.
type Filler struct {
	Text string
	Put  []string
}

func (f *Filler) Next() string {
	f.Put = append(f.Put, fmt.Sprintf("«%d %s»", len(f.Put), f.Text))
	return f.Put[len(f.Put)-1]
}

func (f *Filler) Entry() words.Entry { return words.Entry{Label: f.Next(), Value: f.Next()} }

// paper is an invented report with the text in every field that holds one.
func (f *Filler) Paper() Input {
	in := Invented()
	in.Readings = append(in.Readings, reporttest.PresencePad(0.3))
	for i := range in.Readings {
		r := &in.Readings[i]
		r.Analyte.Name, r.Analyte.Unit = f.Next(), f.Next()
		r.Swatches[len(r.Swatches)/2].Label = f.Text // it may begin with the value
		r.Warnings = []calib.Warning{{Code: calib.Code(f.Next()), Seen: f.Next(), Then: f.Next(), Weight: calib.Caution}}
	}
	in.Placed.Pads[1].Analyte.Name = in.Readings[0].Analyte.Name
	in.Light.Reliability, in.Light.Warnings = calib.Caution, []calib.Warning{{Code: calib.Code(f.Next()), Seen: f.Next(), Then: f.Next()}}
	in.Meanings = []strip.Meaning{{Judgements: []judge.Judgement{{Words: []string{f.Next(), f.Next()},
		Next: []string{f.Next(), f.Next()}}}}}
	in.Sums = []judge.Judgement{{Words: []string{f.Next()}, Next: []string{f.Next()}}}
	in.Photo.Profile = f.Next()
	in.Notes = []charts.Note{{Text: f.Next()}}
	return in
}

// around adds what the page has and the fragment has not.
func (f *Filler) Around(in Input) Input {
	in.Readings[0].Analyte.RespondsTo = []string{f.Next(), f.Next()}
	in.Subject, in.File, in.Version, in.Chart.Title, in.Signer = f.Next(), f.Next(), f.Next(), f.Next(), f.Next()
	in.Facts, in.Hashes = []words.Entry{f.Entry(), f.Entry()}, []words.Entry{f.Entry()}
	in.Missing, in.Attached = []string{f.Next(), f.Next()}, []string{f.Next()}
	in.Seal = &Seal{Fingerprint: f.Next(), Findings: []string{f.Next(), f.Next()}, Faults: 1}
	return in
}
