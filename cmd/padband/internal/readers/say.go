// Package readers compares two readers, by their calls in files or by two readings of
// one sample, and says, draws and writes the result. Start at [ReadFiles] for calls
// and at [Two] for readings. The figures themselves come from package agreement.
package readers

import (
	"fmt"
	"math"
	"strings"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/lines"
)

// told is a comparison in words, the same for the terminal and the page. Both begin
// with the decision, so that who reads no further has it.
type told struct {
	Decision []string // three sentences: what holds, who is higher, what to do
	Notes    []string // what limits them
	Head     string   // who, what, how many
	Parts    []topic
}

// topic is one subject of a comparison.
type topic struct {
	Head  string
	Lines []string
	Rows  []named // figures with their names
	Table *square
}

// named is a figure with its name.
type named struct{ Name, Figure string }

// tell puts a comparison in words.
func tell(c agreement.Comparison) told {
	t := told{Decision: decide(c), Notes: caveats(c), Head: headOf(c)}
	for _, p := range []topic{sidesPart(c), stepsPart(c), differencesPart(c), classesPart(c), repeatsPart(c),
		referencePart(c), leftPart(c)} {
		if len(p.Lines) > 0 || len(p.Rows) > 0 || p.Table != nil {
			t.Parts = append(t.Parts, p)
		}
	}
	return t
}

// readerName is a reader's name as it stands in a sentence: on one line, and cut where
// it is long.
func readerName(s string) string {
	s = lines.OneLine(s)
	if r := []rune(s); len(r) > 24 {
		return string(r[:24]) + "..."
	}
	return s
}

// readers are the names of both as they stand in a sentence.
func readers(c agreement.Comparison) (a, b string) {
	return readerName(c.Readers[0]), readerName(c.Readers[1])
}

// headOf says who and what was compared, how many samples, and how many rows were left out.
func headOf(c agreement.Comparison) string {
	a, b := readers(c)
	what := c.Analyte
	if u := unitOf(c); u != "" {
		what = strings.TrimPrefix(lines.WithUnit(what, u), ", ")
	}
	if what != "" {
		what = ", " + what
	}
	text := fmt.Sprintf("%s and %s%s: %s called by both", a, b, lines.OneLine(what), lines.Count(len(c.Pairs), "sample"))
	if c.LeftCount > 0 {
		text += ", " + lines.Count(c.LeftCount, "row") + " left out"
	}
	return text + "."
}

// unitOf is the calls' unit; empty when they have none.
func unitOf(c agreement.Comparison) string {
	if c.Unit == "" {
		return ""
	}
	return lines.OneLine(agreement.UnitText(c.Unit, c.As))
}

// decide says in three sentences what holds, who is higher and what to do.
func decide(c agreement.Comparison) []string {
	if c.Verdict == agreement.NoPairs {
		a, b := readers(c)
		return []string{
			fmt.Sprintf("Nothing can be compared: no sample has a call of both %s and %s.", a, b),
			"Neither is known to be higher.",
			"Write the same sample name in both readers' rows; see below what is left out.",
		}
	}
	return []string{holds(c), higher(c), advise(c)}
}

// holds is the first sentence: whether the two agree, by the measure that decides.
// Opposite sides of a limit weigh more than steps of a chart.
func holds(c agreement.Comparison) string {
	a, b := readers(c)
	switch c.Verdict {
	case agreement.Opposite:
		return fmt.Sprintf("Opposite sides of %s in %s%s.", lines.OneLine(c.Limit.Name), ofSamples(c.Opposite), unlike(c, oppositeOf))
	case agreement.StepsApart:
		agree := "do not agree:"
		if unlike(c, apartOf) != "" {
			agree = "are" // which may be the strips' doing
		}
		return fmt.Sprintf("%s and %s %s over one step apart in %d of %d%s.", a, b, agree, c.Within.Of-c.Within.Count,
			c.Within.Of, unlike(c, apartOf))
	case agreement.Steady:
		return fmt.Sprintf("%s and %s read the same water differently, one steadily the higher.", a, b)
	case agreement.Few:
		return fmt.Sprintf("Too few to tell: nothing speaks against it, but %s cannot show agreement.", lines.Count(c.Shown(), "sample"))
	case agreement.NoMeasure:
		return fmt.Sprintf("Whether %s and %s agree cannot be said: nothing tells how much matters.", a, b)
	}
	if c.Within.Defined() {
		return fmt.Sprintf("%s and %s agree: within one step in %s.", a, b, ofSamples(c.Within))
	}
	text := fmt.Sprintf("%s and %s agree: on the same side of %s in all %s", a, b, lines.OneLine(c.Limit.Name),
		lines.Count(c.Opposite.Of, "sample"))
	if c.Undecided > 0 {
		return text + " that can be told."
	}
	return text + "."
}

// ofSamples is a count out of all samples.
func ofSamples(s agreement.Proportion) string {
	return fmt.Sprintf("%d of %s", s.Count, lines.Count(s.Of, "sample"))
}

// oppositeOf and apartOf are what [unlike] can count: samples on opposite sides of
// the limit, and samples more than one step apart.
func oppositeOf(s, within agreement.Proportion) int { return s.Count }
func apartOf(s, within agreement.Proportion) int    { return within.Of - within.Count }

// unlike says how many of those counted were not called on one strip at one
// time, which makes them no disagreement of the readers alone.
func unlike(c agreement.Comparison, count func(opposite, within agreement.Proportion) int) string {
	if c.OtherStrip+c.OtherTime == 0 {
		return ""
	}
	all, same := count(c.Opposite, c.Within), 0
	if c.Alike != nil {
		same = count(c.Alike.Opposite, c.Alike.Within)
	}
	switch n := all - same; {
	case n == 0:
		return ""
	case n == all:
		return " (all with other strip or time)"
	default:
		return fmt.Sprintf(" (%d with other strip or time)", n)
	}
}

// higher is the second sentence: which of the two is higher on average, and whether
// that is shown.
func higher(c agreement.Comparison) string {
	a, b := readers(c)
	e := c.Differences.Bias
	f := newFigurer(c)
	switch {
	case !e.Defined():
		return "How much they differ is not known: no sample has two numbers to compare."
	case c.Higher[0]+c.Higher[1] == 0:
		return "Neither is higher: where both called a number, it was the same."
	case c.Method.Ranks && !e.Excludes(f.none) && 2*(c.Higher[0]+c.Higher[1]) < len(c.Pairs):
		return fmt.Sprintf("Most calls are the same; where they differ, %s is higher in %d, %s in %d.", a, c.Higher[0], b, c.Higher[1])
	case c.Method.Ranks && !e.Excludes(f.none):
		return fmt.Sprintf("Neither is clearly higher: %s is the higher in %d, %s in %d.", a, c.Higher[0], b, c.Higher[1])
	case f.ratio && e.Excludes(1):
		return fmt.Sprintf("%s's calls are %s times %s's%s.", a, f.num(e.Value), b, f.inBrackets(e))
	case f.ratio:
		return fmt.Sprintf("Neither is clearly higher: %s's calls are %s times %s's on average.", a, f.num(e.Value), b)
	case !e.Excludes(0):
		return fmt.Sprintf("Neither is clearly higher: they differ by %s on average.", f.amount(math.Abs(e.Value)))
	}
	who, o := a, e
	if e.Value < 0 {
		who, o.Value, o.Low, o.High = b, -e.Value, -e.High, -e.Low
	}
	return fmt.Sprintf("%s is higher, by %s%s.", who, f.amount(o.Value), f.inBrackets(o))
}

// mostNamed is how many samples on opposite sides are told one by one.
const mostNamed = 8

// advise is the third sentence: what to do. It follows the verdict, and names samples
// and the place on the chart where it can.
func advise(c agreement.Comparison) string {
	switch c.Verdict {
	case agreement.Opposite:
		if c.Opposite.Count > mostNamed {
			return "Settle together how to call near the limit, then test the samples below again."
		}
		return "Test " + oppositeSamples(c, 4) + " again, or send the water to a laboratory."
	case agreement.StepsApart:
		return "Let both call one strip at one time in one light, and settle how to call" + partingPlace(c) + "."
	case agreement.Steady:
		return "Let one reader do a whole series; a known standard shows which of them is right."
	case agreement.Few:
		return fmt.Sprintf("Let both call %s more before you take one for the other.", lines.Count(max(1, agreement.Fewest-c.Shown()), "sample"))
	case agreement.NoMeasure:
		return "Name the chart, or the limit that matters."
	}
	return "Either may call alone. Whether they are right, only a known standard shows."
}

// partingPlace is near which swatch the two differ most; empty without a chart.
func partingPlace(c agreement.Comparison) string {
	i := c.Parting()
	if i < 0 {
		return ""
	}
	return " near " + lines.Plain(c.Regions[i].Swatch)
}

// oppositeSamples names the samples on opposite sides, at most so many.
func oppositeSamples(c agreement.Comparison, most int) string {
	var names []string
	for _, p := range c.Pairs {
		if p.Opposite() {
			names = append(names, pairName(p))
		}
	}
	if more := len(names) - most; more > 0 {
		names = append(names[:most], fmt.Sprintf("%d more", more))
	}
	return lines.List(names)
}

// pairName names a pair by its sample and, where it has one, its strip.
func pairName(p agreement.Pair) string {
	name := readerName(p.Sample)
	if p.Strip != "" {
		name += " (strip " + readerName(p.Strip) + ")"
	}
	return name
}

// caveats are what limits the decision: calls of different strips or at different
// times, calls from a screen, and calls with an open end.
func caveats(c agreement.Comparison) (out []string) {
	n := len(c.Pairs)
	var how []string
	if c.OtherStrip > 0 {
		how = append(how, fmt.Sprintf("different strips in %d", c.OtherStrip))
	}
	if c.OtherTime > 0 {
		how = append(how, fmt.Sprintf("different times after the dip in %d", c.OtherTime))
	}
	if len(how) > 0 {
		out = append(out, fmt.Sprintf("Not the readers alone: they called %s of %s. Strips differ from each other, and "+
			"pads go on darkening.%s", strings.Join(how, " and "), lines.Count(n, "sample"), alikeText(c)))
	}
	out = append(out, screens(c)...)
	if c.Open > 0 {
		out = append(out, fmt.Sprintf("Open-ended calls in %s: they count in the table and for the limit as far as they "+
			"can be told, and not in the differences, which are then of the other samples only.", lines.Count(c.Open, "sample")))
	}
	if c.Method.Zeros {
		out = append(out, "The readers differ more where the values are higher, but a call of 0 keeps the differences "+
			"from being taken as ratios: the limits of agreement are too wide for low values and too narrow for high ones.")
	}
	return out
}

// alikeText is what the other pairs say, of one strip called at one time: these show
// the readers alone. It is empty where all pairs are of that kind.
func alikeText(c agreement.Comparison) string {
	a := c.Alike
	if a == nil {
		return ""
	}
	text := fmt.Sprintf(" In the other %d:", a.Pairs)
	if a.Opposite.Defined() {
		text += fmt.Sprintf(" opposite sides of the limit in %d of %d;", a.Opposite.Count, a.Opposite.Of)
	}
	if a.Within.Defined() {
		text += fmt.Sprintf(" within one step in %d of %d;", a.Within.Count, a.Within.Of)
	}
	f := newFigurer(c)
	if a.Log {
		first, second := readers(c)
		return fmt.Sprintf("%s %s over %s %s.", text, first, second, figurer{decimals: 2, ratio: true}.estimate(a.Bias))
	}
	first, second := readers(c)
	return fmt.Sprintf("%s %s minus %s %s.", text, first, second, f.estimate(a.Bias))
}
