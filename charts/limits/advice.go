package limits

import (
	"embed"
	"slices"
	"strings"
	"unicode"

	"padband/charts/strict"
)

// Outcome says how a reading stands to its limit, for advice.
type Outcome string

// Outcomes.
const (
	OutcomeAbove Outcome = "above"
	OutcomeNear  Outcome = "near"  // it cannot be told on which side
	OutcomeBelow Outcome = "below" // under a limit, or between two
	OutcomeUnder Outcome = "under" // under the lower of two limits
	OutcomeNone  Outcome = "none"  // no limit, or no verdict
)

// NextStep is one piece of advice with its source, or "common practice, no source".
type NextStep struct {
	Text   string
	Source string
}

// adviceFile holds the pieces in order of use.
//
//go:embed advice.json
var adviceFile embed.FS

// advised is one entry of the file: for which analytes (words of the name; none
// for all), outcomes and sets (none for all).
type advised struct {
	step     NextStep
	analytes []string
	outcomes []string
	sets     []string
}

// Advice returns what to do next, in short sentences, for an analyte and how it
// stands to its limit; set names the limit's set, empty for a typed one.
func Advice(analyte string, o Outcome, set string) []string {
	var out []string
	for _, s := range NextSteps(analyte, o, set) {
		out = append(out, s.Text)
	}
	return out
}

// NextSteps is [Advice] with its sources.
func NextSteps(analyte string, o Outcome, set string) []NextStep {
	var out []NextStep
	for _, a := range allAdvice() {
		if a.fits(analyte, o, set) {
			out = append(out, a.step)
		}
	}
	return out
}

func (a advised) fits(analyte string, o Outcome, set string) bool {
	name := " " + strings.Join(strings.FieldsFunc(strings.ToLower(analyte), notLetter), " ") + " "
	about := func(word string) bool { return strings.Contains(name, " "+word+" ") }
	return (len(a.analytes) == 0 || slices.ContainsFunc(a.analytes, about)) &&
		(len(a.outcomes) == 0 || slices.Contains(a.outcomes, string(o))) &&
		(len(a.sets) == 0 || slices.Contains(a.sets, set))
}

func notLetter(r rune) bool { return !unicode.IsLetter(r) }

// allAdvice reads the file; a test holds that it can be read.
func allAdvice() []advised {
	data, _ := adviceFile.ReadFile("advice.json")
	out, _ := parseAdvice(data)
	return out
}

func parseAdvice(data []byte) ([]advised, error) {
	root, err := strict.Parse(data)
	if err != nil {
		return nil, err
	}
	d := &strict.Decoder{}
	f, _ := d.File(root, "advice")
	var out []advised
	for _, item := range f.List("advice", 256) {
		o := d.Object(item, "analytes", "outcomes", "sets", "text", "source")
		out = append(out, advised{
			step:     NextStep{Text: d.Text(o.Need("text"), strict.MaxLine), Source: d.Text(o.Need("source"), strict.MaxLine)},
			analytes: o.Words("analytes"), outcomes: o.Words("outcomes"), sets: o.Words("sets"),
		})
	}
	if d.Err != nil {
		return nil, d.Err
	}
	return out, nil
}
