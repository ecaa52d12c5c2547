// Package difference sets two records beside each other, one from before something was
// done and one from after it. It says what changed, what is not shown to have changed,
// and how the two samples differ. Start at [Of], which finds the pairs; [Page] makes
// one page of sheets. The package verifies no record.
package difference

import (
	"slices"
	"strings"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/rule"
	"padband/cmd/padband/internal/report/sheet"
	"padband/cmd/padband/internal/words"
)

// Side is one of two readings compared: its source with the facts of its sample.
type Side struct {
	report.Source
	Subject     string        // what was tested, such as "kitchen, tap"
	Facts       []words.Entry // of sample and kit, in order
	Missing     []string      // the labels of facts that nobody gave
	Fingerprint string        // of its record; empty when it is not in one
}

// Pair is one analyte read twice, and what lies between.
type Pair struct {
	Before, After calib.Reading
	Lights        [2]calib.LightReport // over the photo that each is from
	Change        judge.Change         // of [judge.Difference]
}

// Input is what a report of two readings is made from. The caller
// finds the pairs and their differences.
type Input struct {
	Subject       string // what was done between, such as "softener put in"
	Before, After Side
	Pairs         []Pair
	NotCompared   []string // sentences: which analytes have no difference, and why
	Doubts        []string // sentences: what keeps the two from being relied on, such as a record that was changed
}

// Page returns one HTML page, made of sheets as the report of a record is, that sets two
// readings beside each other: what changed and what is not shown to have
// changed, each with its figure and ranges, and the two samples with their places
// and times. It fits one sheet for three analytes. The error means a fault of
// this program.
func Page(in Input) ([]byte, error) {
	d := difference{Folio: sheet.Folio{
		Title: "Two readings compared", Subject: lines.OneLine(in.Subject),
		Under: []string{in.Before.named("before"), in.After.named("after"), "padband " + lines.OneLine(in.After.Version)},
	}}
	h := sheet.Head{Folio: &d.Folio}
	first, further := h.Highs()
	d.Sheets = sheet.Headed(h, sheet.Spread(first, further, differenceItems(in)), func(s *differenceSheet, h sheet.Head) { s.Head = h })
	return sheet.Page(d.Folio, markup.Each(d.Sheets, differenceSheet.piece))
}

// difference is what the page shows.
type difference struct {
	sheet.Folio
	Sheets []differenceSheet
}

// differenceSheet is one sheet of it: what is on another is empty here.
type differenceSheet struct {
	sheet.Head
	Doubts []string
	Pairs  []compared
	Left   []string
	Sides  *sides
	Meant  bool
}

// sides are the facts of both samples, and the labels of those that neither gives.
type sides struct {
	Rows    []sideRow
	Missing string
}

// differenceItems are the pieces of the page, in order.
func differenceItems(in Input) (out []sheet.Item[differenceSheet]) {
	add := func(high float64, put func(*differenceSheet)) {
		out = append(out, sheet.Item[differenceSheet]{High: high, Put: put})
	}
	for _, one := range lines.EachOneLine(in.Doubts) {
		add(sheet.FaultHigh(one), func(s *differenceSheet) { s.Doubts = append(s.Doubts, one) })
	}
	for i, p := range in.Pairs {
		c := newCompared(i, p, in)
		add(c.high(), func(s *differenceSheet) { s.Pairs = append(s.Pairs, c) })
	}
	left := lines.EachOneLine(in.NotCompared)
	add(leftHigh(left), func(s *differenceSheet) { s.Left = left })
	rows, missing := sideRows(in.Before, in.After)
	both := sides{rows, lines.List(missing)}
	add(both.high(), func(s *differenceSheet) { s.Sides = &both })
	add(meantHigh(), func(s *differenceSheet) { s.Meant = true })
	return out
}

// sideRow is a fact of both samples.
type sideRow struct{ Label, Before, After string }

// compared is one analyte's part of the page.
type compared struct {
	Head, Direction string
	First           string
	Says            []string
	Sides           []sideOf
	Figure          rule.Drawing
}

// sideOf is one of the two readings in its part.
type sideOf struct {
	Name, Word, Doubt string
	Reliability       calib.Reliability
	First             []string
	Rule              *rule.Drawing
}

// newCompared puts a pair in words and draws it. Drawings are numbered through the
// page, three a pair.
func newCompared(i int, p Pair, in Input) compared {
	before, after := words.Say(p.Before, p.Lights[0]), words.Say(p.After, p.Lights[1])
	out := compared{Head: after.Head, Direction: string(p.Change.Direction), Figure: rule.DrawChange(3*i+3, p.After, p.Change)}
	out.First, out.Says = words.Change(p.After, p.Change)
	for k, s := range []words.Said{before, after} {
		r := []calib.Reading{p.Before, p.After}[k]
		drawn := rule.Draw(3*i+k+1, r)
		one := sideOf{Name: []string{"Before", "After"}[k], Reliability: r.Reliability, Word: s.Word, First: s.Both(), Rule: &drawn}
		if r.Reliability == calib.Unreliable {
			one.Doubt = "Its own report says why."
		}
		out.Sides = append(out.Sides, one)
	}
	return out
}

// named is when and where a side's water was, in a phrase.
func (s Side) named(side string) string {
	parts := []string{}
	if s.Subject != "" {
		parts = append(parts, lines.OneLine(s.Subject))
	}
	if s.Photo.Taken != "" {
		parts = append(parts, "photo taken "+words.Moment(s.Photo.Taken))
	}
	return side + ": " + strings.Join(append(parts, lines.OneLine(s.File)), ", ")
}

// sideRows are the facts of both sides, in the order of the first and then the
// second, and the labels of those that neither gives.
func sideRows(a, b Side) (rows []sideRow, missing []string) {
	x, y := a.entries(), b.entries()
	seen := map[string]bool{}
	for _, e := range append(slices.Clone(x), y...) {
		if seen[e.Label] {
			continue
		}
		seen[e.Label] = true
		row := sideRow{e.Label, valueOf(x, e.Label), valueOf(y, e.Label)}
		if row.Before == notGiven && row.After == notGiven {
			missing = append(missing, e.Label)
			continue
		}
		rows = append(rows, row)
	}
	return rows, missing
}

// entries are all facts of a side: those given, those missing, and what it was made from.
func (s Side) entries() []words.Entry {
	out := words.Printed(s.Facts)
	for _, m := range lines.EachOneLine(s.Missing) {
		out = append(out, words.Entry{Label: m})
	}
	chart := lines.OneLine(strings.TrimSpace(s.Chart.Name + " " + s.Chart.Version))
	return append(out, words.Entry{Label: "Chart and its version", Value: chart},
		words.Entry{Label: "SHA-256 of the photo", Value: lines.OneLine(strings.Join(s.SHA256s(), ", "))},
		words.Entry{Label: "Fingerprint of the record", Value: lines.OneLine(s.Fingerprint)})
}

// notGiven stands for a fact that nobody gave.
const notGiven = "not given"

// valueOf says of a fact that nobody gave that it was not given.
func valueOf(in []words.Entry, label string) string {
	for _, e := range in {
		if e.Label == label && e.Value != "" {
			return e.Value
		}
	}
	return notGiven
}
