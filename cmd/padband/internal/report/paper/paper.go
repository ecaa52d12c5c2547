// Package paper is the report of a reading that is made to be shown and printed:
// one HTML page of sheets with its pictures and drawings in it. [Page] makes it. A
// record holds one, so the same input gives the same bytes, and [Form] counts what
// these bytes were like. What is said comes from words, what is measured from sheet.
package paper

import (
	"slices"
	"strings"

	"padband/calib"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/sheet"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

// Input is what a report made to be shown is made from. All but Source may
// be empty; what is empty is left out or said to be missing.
type Input struct {
	report.Source
	Subject  string                          // what was tested, such as "kitchen, tap"
	Crop     func(colorimetry.Region) string // see [Crops]
	Preview  Picture                         // see [Preview]
	Facts    []words.Entry                   // of sample, kit and making, in order
	Missing  []string                        // the facts that nobody gave
	Hashes   []words.Entry                   // a file's name in the record, its SHA-256 in hexadecimal
	Attached []string                        // names of the files kept with it
	Signer   string                          // the key that signs, as ssh-keygen -l names it
	Seal     *Seal                           // nil in a report that is itself part of the record
}

// Seal is what can be said of a finished record alone.
type Seal struct {
	Fingerprint string   // as it is printed when a record is kept
	Findings    []string // of its verification, a sentence each
	Faults      int      // how many of them are faults
}

// Page returns the report made to be shown: one HTML page with its style, its
// drawings and its pictures in it, which asks nothing of any other place, for
// screens and for print on A4 and Letter. It is set out in sheets here, by
// heights that hold for wide letters too, so that their number does not depend
// on the fonts of the machine that prints: two for three analytes of six
// swatches, one of them read from four pads, with two limits each and warnings.
//
// The same input gives the same bytes. A report is itself a file of the record,
// so it cannot hold the record's fingerprint, which covers it: without a Seal it
// shows the hashes of photo, chart, marks and reading and leaves a line to
// write the fingerprint on; with one it prints the fingerprint and what the
// verification found.
//
// There is no PDF: each browser prints this page to one with its text, drawings
// and fonts whole, for which no kept-up library in Go alone lays out HTML.
//
// The error means a fault of this program.
func Page(in Input) ([]byte, error) {
	p := newPaper(in)
	return sheet.Page(p.Folio, markup.Each(p.Sheets, paperSheet.piece))
}

// paper is what the page shows.
type paper struct {
	sheet.Folio
	Sheets []paperSheet
}

// paperSheet is one sheet of it: what is on another is empty here.
type paperSheet struct {
	sheet.Head
	Faults   string
	Answers  []answer
	Sums     []words.Sum
	Abouts   []about
	Light    *lightWords
	Sections []part
	Notes    []string
	Numbers  []patches
	Limits   *limitWords
	Check    *check
	Found    []string // of the check of the record, a sentence each
	Day      *day
}

// about is the photo with its marks, and the facts; On when facts go on from an
// earlier one.
type about struct {
	On       bool
	View     *view
	Facts    []words.Entry
	Missing  string
	Unknown  []report.Warning
	Attached string
	Light    *lightWords
}

// limitWords are what the page says of what it shows and cannot show.
type limitWords struct{ Shows []string }

// check is how to check the record by hand.
type check struct {
	Signer string
	Hashes []words.Entry
}

// day is what is written down on the day.
type day struct{ Seal *Seal }

// answer is one analyte's reading in words.
type answer struct {
	Index                int
	Analyte, Reliability string
	Head, Word, Doubt    string
	Says, Further        []string
	Judged               []words.Against
	Next                 []string
}

// part is one analyte's drawing, pictures and warnings. What is said of the photo
// or of an earlier analyte in the same words is said in short.
type part struct {
	report.Section
	Again string
}

// lightWords are what the photo's light and file leave to say.
type lightWords struct {
	Word     string
	Warnings []report.Warning
	Facts    string
}

// patches are one analyte's figures.
type patches struct {
	Head string
	report.Figures
}

// newPart shortens the warnings of a section that were said before.
func newPart(s report.Section, earlier []string) part {
	p := part{Section: s}
	p.Warnings = nil
	var again []string
	for _, w := range s.Warnings {
		if slices.Contains(earlier, w.Text) {
			again = append(again, lines.Clause(w.Seen))
			continue
		}
		p.Warnings = append(p.Warnings, w)
	}
	if len(again) > 0 {
		p.Again = "As said above: " + lines.LowerFirst(strings.Join(again, ". ")) + "."
	}
	return p
}

// sentenceOf puts figures on a line.
func sentenceOf(facts []report.Fact) string {
	var parts []string
	for i, f := range facts {
		name := f.Name
		if i > 0 {
			name = lines.LowerFirst(name)
		}
		parts = append(parts, name+": "+f.Figure)
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, "; ") + "."
}

// shows says for each analyte what its pad answers to.
func shows(readings []calib.Reading) (out []string) {
	for _, r := range readings {
		name := lines.UpperFirst(lines.OneLine(r.Analyte.Name))
		switch to := lines.EachOneLine(r.Analyte.RespondsTo); {
		case len(to) > 1:
			out = append(out, name+": the pad answers to "+lines.List(to)+" together and does not tell them apart.")
		case r.Analyte.Kind == charts.KindPresence:
			out = append(out, name+": the pad says yes or no, not how much.")
		}
	}
	return out
}

// eachLower are texts as they stand within a sentence.
func eachLower(in []string) (out []string) {
	for _, s := range in {
		out = append(out, lines.LowerFirst(lines.OneLine(s)))
	}
	return out
}

// Form is the form of a report's sheets. It is raised whenever the same
// record would give other bytes of them, so that a record made before is known
// by its own form. Records without one have form 1.
const Form = 2
