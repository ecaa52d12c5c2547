// Package paper makes the report of a reading that is shown and printed: one HTML page
// of sheets with its pictures and drawings in it. Start at [Page]. A record holds one
// such page, so the same input gives the same bytes, and [Form] counts the forms that
// these bytes have had. Package words writes the sentences, package sheet measures the
// sheets, and this package reads no files.
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

// Input is what a report is made from. All but Source may be empty; a part that is
// empty is left out or said to be missing.
type Input struct {
	report.Source
	Subject  string                          // what was tested, such as "kitchen, tap"
	Crop     func(colorimetry.Region) string // see [Crops]
	Preview  Picture                         // see [Preview]
	Facts    []words.Entry                   // the facts of sample, kit and making, in order
	Missing  []string                        // the facts that nobody gave
	Hashes   []words.Entry                   // a file's name in the record, its SHA-256 in hexadecimal
	Attached []string                        // names of the files kept with it
	Signer   string                          // the key that signs, as ssh-keygen -l names it
	Seal     *Seal                           // nil in a report that is itself part of the record
	Shots    []Shot                          // the photos of a source of one strip, in its order; Crop and Preview are then empty
}

// Shot is one of several photos of a strip.
type Shot struct {
	Crop    func(colorimetry.Region) string // see [Crops]
	Preview Picture                         // see [Preview]
}

// Seal holds what can be said only of a finished record.
type Seal struct {
	Fingerprint string   // as it is printed when a record is kept
	Findings    []string // what its verification found, a sentence each
	Faults      int      // how many of them are faults
}

// Page returns the report as one HTML page for screens and for print on A4 and Letter.
// Its style, its drawings and its pictures are in it, so it loads nothing from any
// other place. The page is set out on sheets here, by heights that hold for wide
// letters too, so that the number of sheets does not depend on the fonts of the
// machine that prints: two for three analytes of six swatches, one of them read from
// four pads, with two limits each and warnings.
//
// The same input gives the same bytes. A report is itself a file of the record, so it
// cannot hold the record's fingerprint, which covers the report. Without a Seal it
// shows the hashes of photo, chart, marks and reading, and leaves a line to write the
// fingerprint on. With a Seal it prints the fingerprint and what the verification
// found.
//
// There is no PDF, because no kept-up library in Go alone lays out HTML. Each browser
// prints this page to a PDF with its text, drawings and fonts whole.
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

// paperSheet is one sheet of the page. A part that stands on another sheet is empty
// here.
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
	Found    []string // what the check of the record found, a sentence each
	Day      *day
}

// about is the photo with its marks, and the facts. On is true when the facts go on
// from an earlier sheet; Shot names one of several photos, and then the facts are its.
type about struct {
	On       bool
	Shot     string
	View     *view
	Facts    []words.Entry
	Missing  string
	Unknown  []report.Warning
	Attached string
	Light    *lightWords
}

// limitWords say what the page shows and what it cannot show.
type limitWords struct{ Shows []string }

// check says how to check the record by hand.
type check struct {
	Signer string
	Hashes []words.Entry
}

// day is the part that is written on by hand on the day.
type day struct{ Seal *Seal }

// answer is one analyte's reading in words. Who asked for the sheet asked about the
// water, so that comes first, then what it means, and then the strip.
type answer struct {
	Analyte, Reliability string
	Head, Word, Doubt    string
	Water                []string
	Judged               []words.Against
	Strip, Further       []string
	Next                 []string
}

// part is the drawing, the pictures and the warnings of one analyte. A warning that
// the photo or an earlier analyte has in the same words is shortened.
type part struct {
	report.Section
	Again string
}

// lightWords say what there is to say of the photo's light and file.
type lightWords struct {
	Grade    calib.Reliability
	Warnings []report.Warning
	Facts    string
}

// patches are one analyte's figures.
type patches struct {
	Head string
	Of   string // the file, of several photos
	report.Figures
}

// newPart makes the part of a section, and shortens the warnings that were given
// before.
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

// sentenceOf puts figures together on one line.
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

// eachLower returns texts with a small first letter, to stand within a sentence.
func eachLower(in []string) (out []string) {
	for _, s := range in {
		out = append(out, lines.LowerFirst(lines.OneLine(s)))
	}
	return out
}

// Form numbers the forms that a report's sheets have had. It rises whenever the same
// record would give other bytes of them, so that a record made before is checked by
// its own form. Records that name no form have form 1.
const Form = 4
