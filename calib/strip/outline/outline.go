// Package outline finds where strip, chart and white lie in a photo: it matches the
// flat patches of the photo to what its chart says there is, and asks where it is not
// sure. Start at [Find]. It sees a picture and no file, and decides nothing about the
// colours that it finds.
package outline

import (
	"image"

	"padband/charts"
	"padband/colorimetry/patches"
)

// Outline is what was found in one photo. Without a question the program is sure.
type Outline struct {
	// Marks are the best guess, with every swatch as a region of its own, or with the
	// corners of a chart whose layout is known, in pixels of the whole photo, and not
	// looked at by anybody; nil where nothing was found.
	Marks     *charts.Marks
	Questions []Question
	Why       Why // why nothing was found, or one part of it; its code is empty where all was
}

// Code names what a question asks.
type Code string

// The questions.
const (
	// AskDirection: which end of a row (of all rows) is the lowest value.
	AskDirection Code = "direction"
	// AskRows: which row belongs to which analyte.
	AskRows Code = "rows"
	// AskStripEnd: which end of the strip was dipped.
	AskStripEnd Code = "strip-end"
	// AskStrip: no strip was found; the swatches stand alone.
	AskStrip Code = "strip-missing"
	// AskPatch: a patch that the chart promises was not seen; it is put where it should be.
	AskPatch Code = "patch-missing"
	// AskPlace: the whole might lie elsewhere, as where two groups of patches fit the chart.
	AskPlace Code = "place"
)

// Question is one doubt, with at most three answers. The first answer is the best
// guess, as [Outline.Marks] has it.
type Question struct {
	Code     Code
	Analytes []string // that it is about; none: all
	Answers  []Answer
}

// Choice names what an answer says.
type Choice string

// The answers.
const (
	ChoiceAsShown Choice = "as-shown"
	ChoiceTurned  Choice = "turned"      // the row or the strip the other way round
	ChoiceOther   Choice = "other"       // another row, another order, another place
	ChoiceWithout Choice = "without"     // without the strip, or without that patch
	ChoiceNone    Choice = "none-of-all" // none of the answers: mark by hand
)

// Answer is one answer to a question, with the marks as they would be then: whole, and
// with the best guess for every other doubt.
type Answer struct {
	Choice Choice
	Marks  charts.Marks
}

// WhyCode names why something was not found.
type WhyCode string

// Why something was not found.
const (
	WhyNoPatches WhyCode = "no-patches" // no flat patches that could be a chart
	WhyRows      WhyCode = "rows"       // other numbers of rows or patches than the chart has
	WhyNoStrip   WhyCode = "no-strip"   // the chart without a strip
)

// Why says why something was not found, with the figures that show it.
type Why struct {
	Code                  WhyCode
	Found, Wanted         int // rows seen, and rows that the chart has
	FoundEach, WantedEach int // patches in the longest row seen, and in the chart's longest
}

// Longest is the size to which a picture is reduced before it is looked at: points of
// its longer side.
const Longest = 1000

// Find looks for the strip, the chart's swatches and bare white in the picture of a
// whole photo, upright, in sRGB, and made as small as is wanted; [Longest] pixels on
// its longer side are enough. Width and height are those of the photo itself, in whose
// pixels the marks come.
func Find(seen image.Image, width, height int, chart charts.Chart) Outline {
	return newSearch(patches.Reduce(seen, Longest)).outline(width, height, chart, linesOf(chart))
}

// outline looks for the chart where the arrangement of its swatches is known by it, and
// else row by row.
func (s *search) outline(width, height int, chart charts.Chart, lines []line) Outline {
	if s.before != nil {
		s.known = &s.before.known
	} else if k, ok := ofLayout(chart, lines); ok {
		s.known = &k
	}
	d := drawing{s: s, chart: chart, lines: lines, width: width, height: height, last: &drawn{}}
	all := d.possible(s.guesses(chart, lines))
	if len(all) == 0 || all[0].worth() < leastWorth {
		return Outline{Why: s.why(lines)}
	}
	best := d.marks(all[0])
	o := Outline{Marks: &best, Questions: d.questions(all)}
	if all[0].strip == nil {
		o.Why = Why{Code: WhyNoStrip}
	}
	return o
}
