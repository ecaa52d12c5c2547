package report

import (
	"bytes"
	_ "embed"
	"html/template"
	"slices"
	"strings"

	"padband/calib"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/colorimetry"
)

var (
	//go:embed paper.html
	paperHTML string
	//go:embed paper.css
	paperCSS string
)

var sheets = template.Must(template.Must(fragment.Clone()).Parse(paperHTML))

// Entry is a label with what stands for it, as it is printed.
type Entry struct{ Label, Value string }

// PaperInput is what a report made to be shown is made from. All but Source may
// be empty; what is empty is left out or said to be missing.
type PaperInput struct {
	Source
	Subject  string                          // what was tested, such as "kitchen, tap"
	Crop     func(colorimetry.Region) string // see [Crops]
	Preview  Picture                         // see [Preview]
	Facts    []Entry                         // of sample, kit and making, in order
	Missing  []string                        // the facts that nobody gave
	Hashes   []Entry                         // a file's name in the record, its SHA-256 in hexadecimal
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

// Paper returns the report made to be shown: one HTML page with its style, its
// drawings and its pictures in it, which asks nothing of any other place, for
// screens and for print on A4 and Letter, on two sheets at most for three
// analytes of six swatches with the usual facts and few warnings.
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
func Paper(in PaperInput) ([]byte, error) { return execute("paper", newPaper(in)) }

func style() template.CSS { return template.CSS(paperCSS) }

func execute(name string, data any) ([]byte, error) {
	var b bytes.Buffer
	if err := sheets.ExecuteTemplate(&b, name, data); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// paper is what the page shows.
type paper struct {
	head
	Answers  []answer
	Sums     []summed
	View     *view
	Facts    []Entry
	Missing  string
	Unknown  []warning
	Sections []part
	Light    lightWords
	Numbers  []patches
	Shows    []string
	Notes    []string
	Hashes   []Entry
	Attached string
	Signer   string
	Seal     *Seal
	Faults   string
}

// head is how every page of paper begins.
type head struct {
	Style          template.CSS
	Title, Subject string
	Under          []string
}

// answer is one analyte's reading in words.
type answer struct {
	Index                int
	Analyte, Reliability string
	Head, Word, Doubt    string
	Says, Further        []string
	Judged               []against
	Next                 []string
}

// part is one analyte's drawing, pictures and warnings. What is said of the photo
// or of an earlier analyte in the same words is said in short.
type part struct {
	section
	Again string
}

// lightWords are what the photo's light and file leave to say.
type lightWords struct {
	Word     string
	Warnings []warning
	Facts    string
}

// patches are one analyte's figures.
type patches struct {
	Head string
	figures
}

func newPaper(in PaperInput) paper {
	p := paper{
		head: newHead(in), Sums: sumsOf(in.Source), View: newView(in), Facts: printed(in.Facts), Missing: lines.List(eachLower(in.Missing)), Unknown: unknownWarnings(in.Readings),
		Light: lightWords{lines.UpperFirst(string(in.Light.Reliability)), lightWarnings(in.Light), sentenceOf(photoFacts(in.Source))},
		Shows: shows(in.Readings), Notes: charts.NoteTexts(in.Notes), Hashes: printed(in.Hashes), Attached: lines.List(lines.EachOneLine(in.Attached)), Signer: lines.OneLine(in.Signer), Seal: in.Seal,
	}
	var before []string // what was said, in the same words
	for _, w := range p.Light.Warnings {
		before = append(before, w.Text)
	}
	for i, r := range in.Readings {
		s := newSection(i+1, r, in.Source, in.Crop)
		p.Sections = append(p.Sections, newPart(s, before))
		for _, w := range s.Warnings {
			before = append(before, w.Text)
		}
		p.Answers = append(p.Answers, answer{s.Index, s.Analyte, s.Reliability, s.Head, s.Word, s.Doubt, s.First, s.Then, s.Judged, s.Next})
		p.Numbers = append(p.Numbers, patches{s.Head, s.Figures})
	}
	if in.Seal != nil && in.Seal.Faults > 0 {
		p.Faults = lines.Count(in.Seal.Faults, "fault")
	}
	return p
}

// newPart shortens the warnings of a section that were said before.
func newPart(s section, earlier []string) part {
	p := part{section: s}
	p.Warnings = nil
	var again []string
	for _, w := range s.Warnings {
		if slices.Contains(earlier, w.Text) {
			again = append(again, strings.TrimSuffix(lines.OneLine(w.Seen), "."))
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
func sentenceOf(facts []fact) string {
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

func newHead(in PaperInput) head {
	chart := in.Chart.Title
	if chart == "" {
		chart = in.Chart.Name
	}
	h := head{Style: style(), Title: "Water-test strip read from a photo", Subject: lines.OneLine(in.Subject)}
	if in.Photo.Taken != "" {
		h.Under = append(h.Under, "photo taken "+moment(in.Photo.Taken))
	}
	return head{h.Style, h.Title, h.Subject, append(h.Under, lines.OneLine(in.File)+`, read against "`+lines.OneLine(chart)+`"`, "padband "+lines.OneLine(in.Version))}
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

func printed(in []Entry) (out []Entry) {
	for _, e := range in {
		out = append(out, Entry{lines.OneLine(e.Label), lines.OneLine(e.Value)})
	}
	return out
}

func eachLower(in []string) (out []string) {
	for _, s := range in {
		out = append(out, lines.LowerFirst(lines.OneLine(s)))
	}
	return out
}
