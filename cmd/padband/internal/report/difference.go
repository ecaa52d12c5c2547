package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/lines"
)

// Side is one of two readings compared: its source with the facts of its sample.
type Side struct {
	Source
	Subject     string   // what was tested, such as "kitchen, tap"
	Facts       []Entry  // of sample and kit, in order
	Missing     []string // the labels of facts that nobody gave
	Fingerprint string   // of its record; empty when it is not in one
}

// Pair is one analyte read twice, and what lies between.
type Pair struct {
	Before, After calib.Reading
	Change        judge.Change // of [calib.Difference]
}

// DifferenceInput is what a report of two readings is made from. The caller
// finds the pairs and their differences.
type DifferenceInput struct {
	Subject       string // what was done between, such as "softener put in"
	Before, After Side
	Pairs         []Pair
	NotCompared   []string // sentences: which analytes have no difference, and why
	Doubts        []string // sentences: what keeps the two from being relied on, such as a record that was changed
}

// Difference returns one HTML page, made as that of [Paper] is, that sets two
// readings beside each other: what changed and what is not shown to have
// changed, each with its figure and bands, and the two samples with their places
// and times. It fits one sheet for three analytes. The error means a fault of
// this program.
func Difference(in DifferenceInput) ([]byte, error) {
	d := difference{folio: folio{
		Title: "Two readings compared", Subject: lines.OneLine(in.Subject),
		Under: []string{in.Before.named("before"), in.After.named("after"), "padband " + lines.OneLine(in.After.Version)},
	}}
	h := head{folio: &d.folio}
	first, further := h.highs()
	d.Sheets = headed(h, spread(first, further, differenceItems(in)), func(s *differenceSheet, h head) { s.head = h })
	return onSheets(d.folio, each(d.Sheets, differenceSheet.piece))
}

// difference is what the page shows.
type difference struct {
	folio
	Sheets []differenceSheet
}

// differenceSheet is one sheet of it: what is on another is empty here.
type differenceSheet struct {
	head
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
func differenceItems(in DifferenceInput) (out []item[differenceSheet]) {
	add := func(high float64, put func(*differenceSheet)) { out = append(out, item[differenceSheet]{high, put}) }
	for _, one := range lines.EachOneLine(in.Doubts) {
		add(faultHigh(one), func(s *differenceSheet) { s.Doubts = append(s.Doubts, one) })
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
	Figure          drawing
}

// sideOf is one of the two readings in its part.
type sideOf struct {
	Name, Word, Doubt string
	First             []string
	Rule              *drawing
}

func newCompared(i int, p Pair, in DifferenceInput) compared {
	before, after := say(p.Before, in.Before.Light), say(p.After, in.After.Light)
	out := compared{Head: after.head, Direction: string(p.Change.Direction), Figure: drawDifference(3*i+3, p)}
	out.First, out.Says = changeWords(p)
	for k, s := range []said{before, after} {
		r := []calib.Reading{p.Before, p.After}[k]
		rule := draw(3*i+k+1, r)
		water := lines.UpperFirst(bandText("water band", r, r.WaterBand, digits(r))) + "."
		one := sideOf{Name: []string{"Before", "After"}[k], Word: s.word, First: []string{s.lead(), water}, Rule: &rule}
		if r.Reliability == calib.Unreliable {
			one.Doubt = "Do not rely on this reading; its own report says why."
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
		parts = append(parts, "photo taken "+moment(s.Photo.Taken))
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

func (s Side) entries() []Entry {
	out := printed(s.Facts)
	for _, m := range lines.EachOneLine(s.Missing) {
		out = append(out, Entry{Label: m})
	}
	chart := lines.OneLine(strings.TrimSpace(s.Chart.Name + " " + s.Chart.Version))
	return append(out, Entry{"Chart and its version", chart},
		Entry{"SHA-256 of the photo", lines.OneLine(s.Photo.SHA256)}, Entry{"Fingerprint of the record", lines.OneLine(s.Fingerprint)})
}

const notGiven = "not given"

// valueOf says of a fact that nobody gave that it was not given.
func valueOf(in []Entry, label string) string {
	for _, e := range in {
		if e.Label == label && e.Value != "" {
			return e.Value
		}
	}
	return notGiven
}

// changeWords puts a difference in words: the answer, and its bands.
func changeWords(p Pair) (first string, says []string) {
	c := p.Change
	d := digits(calib.Reading{Band: c.Band, Bracket: p.After.Bracket})
	errors := "with the strips' own errors as the charts give them"
	if c.KitAssumed {
		errors = "with the strips' own errors, assumed in part: half a step"
	}
	in := " " + unit(p.After)
	switch c.Direction {
	case judge.Rose:
		return "Changed: it rose by " + amount(c, 1, d) + in + ".", []string{"Band " + extentOf(c.Band, 1, d) + "; water band " + extentOf(c.WaterBand, 1, d) + ", " + errors + "."}
	case judge.Fell:
		return "Changed: it fell by " + amount(c, -1, d) + in + ".", []string{"Band " + extentOf(c.Band, -1, d) + "; water band " + extentOf(c.WaterBand, -1, d) + ", " + errors + "."}
	}
	reads := ""
	if !math.IsNaN(c.Value) {
		reads = "The difference reads " + lines.Signed(c.Value, d) + in + "; "
	}
	says = []string{lines.UpperFirst(reads + "band " + signedSpan(c.Band, d) + "; water band " + signedSpan(c.WaterBand, d) + ", " + errors + ".")}
	if c.Direction == judge.CannotTell {
		return "Cannot tell whether it changed: one of the readings is not to be relied on.", says
	}
	return "Not shown to have changed: zero lies within the water band.", says
}

// amount is how far it rose (sign 1) or fell (-1), when that is known.
func amount(c judge.Change, sign float64, d int) string {
	if !math.IsNaN(c.Value) {
		return lines.Figure(sign*c.Value, d)
	}
	return extentOf(c.WaterBand, sign, d)
}

// extentOf is a band of a rise (sign 1) or a fall (-1), which leaves zero out,
// without signs.
func extentOf(b calib.Band, sign float64, d int) string {
	low, high := b.Low, b.High
	if sign < 0 {
		low, high = calib.Bound{Value: -high.Value, Open: high.Open}, calib.Bound{Value: -low.Value, Open: low.Open}
	}
	return Span(calib.Band{Low: low, High: high}, d)
}

// signedSpan is a band whose ends carry their signs.
func signedSpan(b calib.Band, d int) string {
	switch {
	case b.Low.Open && b.High.Open:
		return "open on both sides"
	case b.High.Open:
		return "at least " + lines.Signed(b.Low.Value, d)
	case b.Low.Open:
		return "at most " + lines.Signed(b.High.Value, d)
	}
	return lines.Signed(b.Low.Value, d) + " to " + lines.Signed(b.High.Value, d)
}

// describeDifference is the figure in words.
func describeDifference(p Pair) string {
	first, says := changeWords(p)
	return fmt.Sprintf("A line marked in differences, with zero on it. %s %s", first, strings.Join(says, " "))
}
