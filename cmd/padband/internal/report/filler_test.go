package report

import (
	"fmt"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
)

// filler puts a text into fields, each time told apart, and keeps what it put.
type filler struct {
	text string
	put  []string
}

func (f *filler) next() string {
	f.put = append(f.put, fmt.Sprintf("«%d %s»", len(f.put), f.text))
	return f.put[len(f.put)-1]
}

func (f *filler) entry() Entry { return Entry{f.next(), f.next()} }

// paper is an invented report with the text in every field that holds one.
func (f *filler) paper() PaperInput {
	in := invented()
	in.Readings = append(in.Readings, presencePad(0.3))
	for i := range in.Readings {
		r := &in.Readings[i]
		r.Analyte.Name, r.Analyte.Unit = f.next(), f.next()
		r.Swatches[len(r.Swatches)/2].Label = f.text // it may begin with the value
		r.Warnings = []calib.Warning{{Code: calib.Code(f.next()), Seen: f.next(), Then: f.next(), Weight: calib.Caution}}
	}
	in.Placed.Pads[1].Analyte.Name = in.Readings[0].Analyte.Name
	in.Light.Reliability, in.Light.Warnings = calib.Caution, []calib.Warning{{Code: calib.Code(f.next()), Seen: f.next(), Then: f.next()}}
	in.Meanings = []strip.Meaning{{Judgements: []calib.Judgement{{Words: []string{f.next(), f.next()}, Next: []string{f.next(), f.next()}}}}}
	in.Sums = []calib.Judgement{{Words: []string{f.next()}, Next: []string{f.next()}}}
	in.Photo.Profile = f.next()
	in.Notes = []charts.Note{{Text: f.next()}}
	return in
}

// around adds what the page has and the fragment has not.
func (f *filler) around(in PaperInput) PaperInput {
	in.Readings[0].Analyte.RespondsTo = []string{f.next(), f.next()}
	in.Subject, in.File, in.Version, in.Chart.Title, in.Signer = f.next(), f.next(), f.next(), f.next(), f.next()
	in.Facts, in.Hashes = []Entry{f.entry(), f.entry()}, []Entry{f.entry()}
	in.Missing, in.Attached = []string{f.next(), f.next()}, []string{f.next()}
	in.Seal = &Seal{Fingerprint: f.next(), Findings: []string{f.next(), f.next()}, Faults: 1}
	return in
}
