package judge

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"padband/calib"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
)

// finish puts the judgement in words and adds what to do.
func (j *Judgement) finish(r calib.Reading) {
	j.Words = append(j.Words, j.first(r))
	if j.Verdict != VerdictNone && r.Reliability != calib.Unreliable && len(j.Limit.Sum) == 0 && j.Limit.Unit != r.Analyte.Measure() &&
		!math.IsNaN(j.Value) {
		j.Words = append(j.Words, "In that unit the strip reads "+j.Figure(r)+".")
	}
	if j.Reason != "" {
		j.Words = append(j.Words, j.Reason)
	}
	if j.Verdict != VerdictNone && r.Reliability != calib.Unreliable && !j.unlooked {
		j.Words = append(j.Words, j.ends(r)...)
		j.Words = append(j.Words, j.grounds(r))
	}
	if j.Limit.PublicSupply {
		j.Words = append(j.Words, "The figure is set for public supplies; for a private well it is a yardstick.")
	}
	for _, u := range []units.Unit{r.Analyte.Measure(), j.Limit.Unit} {
		if n := u.Note(); n != "" {
			j.Words = append(j.Words, capital(n)+".")
			break
		}
	}
	j.Words = append(j.Words, counted(r.Analyte)...)
	if j.Verdict == VerdictCannotTell && j.Limit.Kind == limits.LimitHealth && !j.unlooked {
		j.Words = append(j.Words, settles(r, j.Limit)...)
	}
	if j.unlooked {
		j.Next = []string{"Look at the outlines over the photo: each must lie on its own pad or swatch."}
	} else {
		j.Next = limits.Advice(r.Analyte.Name, j.outcome(), j.Limit.Set)
	}
	if byColour(r) || j.unlooked {
		j.forget()
	}
}

// forget drops the chances, which rest on a strip's own error that does not hold, or on
// a reading that may be of something else.
func (j *Judgement) forget() {
	unknown := Chance{0, 1}
	j.Probability, j.Over, j.Under, j.Above = math.NaN(), unknown, unknown, unknown
	for i := range j.Classes {
		j.Classes[i].Chance = unknown
	}
}

// grounds says which errors the verdict counts.
func (j Judgement) grounds(r calib.Reading) string {
	counts := "This counts"
	if len(j.Limit.Sum) > 0 {
		counts = "This takes the errors of both pads as independent and counts"
	}
	switch {
	case spoilt(r):
		return counts + " the strip's own error as it is for a kit in date and a photo in time."
	case j.kitAssumed:
		return counts + " the strip's own error as half a step, which is only assumed."
	}
	return counts + " the strip's own error as the chart gives it."
}

// outcome sorts the judgement into the cases that advice is written for.
func (j Judgement) outcome() limits.Outcome {
	switch {
	case j.Verdict == VerdictCannotTell && !j.ReadsBelow:
		return limits.OutcomeNear // an unreliable reading too: it may be over
	case !j.Over.Known() && j.Over.AtLeast == 0 && j.Over.AtMost == 1:
		return limits.OutcomeNone // nothing was told of it
	case j.Verdict == VerdictAbove:
		return limits.OutcomeAbove
	case j.Verdict == VerdictBelow && j.Limit.TwoSided():
		return limits.OutcomeUnder
	case j.Verdict == VerdictBelow, j.Verdict == VerdictWithin, j.ReadsBelow:
		return limits.OutcomeBelow
	case j.Verdict == VerdictCannotTell:
		return limits.OutcomeNear
	}
	return limits.OutcomeNone
}

// first is the sentence that gives the verdict and its figure.
func (j Judgement) first(r calib.Reading) string {
	limit := fmt.Sprintf("%s (%s)", j.Limit.Text(), j.Limit.Whose())
	if len(j.Limit.Sum) > 0 {
		limit = fmt.Sprintf("%s for %s (%s)", j.Limit.Text(), j.Limit.SumsBy(), j.Limit.Whose())
	}
	switch {
	case r.Reliability == calib.Unreliable, j.unlooked, j.Verdict == VerdictCannotTell && !j.anyTold() && !byColour(r):
		return j.untold(limit)
	case len(j.Classes) > 0 && byColour(r):
		return "By its colour alone " + strings.Join(j.likelyClasses(""), " or ") + ", in the classes of " + j.Limit.Authority + "."
	case len(j.Classes) > 0:
		return j.classWords()
	case j.Verdict == VerdictNone:
		return j.beside(r, limit)
	case byColour(r):
		return j.colourWords(limit)
	case j.ReadsBelow && j.Limit.TwoSided():
		return fmt.Sprintf("Reads within %s: %s that the water is outside it.", limit, j.chance(j.Over))
	case j.ReadsBelow && spoilt(r):
		return fmt.Sprintf("Reads below %s by its colour alone.", limit)
	case j.ReadsBelow:
		return fmt.Sprintf("Reads below %s: %s that the water is over it.", limit, j.chance(j.Over))
	case j.Limit.TwoSided():
		return j.sides(limit)
	}
	switch j.Verdict {
	case VerdictAbove:
		return fmt.Sprintf("Above %s: %s that the water is over it.", limit, j.chance(j.Over))
	case VerdictBelow:
		return fmt.Sprintf("Below %s: %s that the water is over it.", limit, j.chance(j.Over))
	}
	return fmt.Sprintf("Cannot tell: %s that the water is over %s.", j.chance(j.Over), limit)
}

// anyTold reports whether anything is known of the chance to be over the limit.
func (j Judgement) anyTold() bool { return j.Over.AtLeast > 0 || j.Over.AtMost < 1 }

// untold is that sentence where nothing can be told.
func (j Judgement) untold(limit string) string {
	switch {
	case len(j.Limit.Classes) > 0:
		return fmt.Sprintf("Cannot tell in which of the %s of %s the water is.", j.Limit.Text(), j.Limit.Authority)
	case j.Limit.TwoSided():
		return "Cannot tell if it is outside " + limit + "."
	}
	return "Cannot tell if it is over " + limit + "."
}

// beside is that sentence for a limit that one sample gives no verdict about. It says
// when the figure is over the limit, and never that it is not.
func (j Judgement) beside(r calib.Reading, limit string) string {
	if j.Value > j.Limit.Value && !j.Limit.TwoSided() {
		return fmt.Sprintf("Reads %s, which is more than %s.", j.Figure(r), limit)
	}
	return fmt.Sprintf("Reads %s; the limit is %s.", j.Figure(r), limit)
}

// sides is that sentence for a limit with two sides.
func (j Judgement) sides(limit string) string {
	switch j.Verdict {
	case VerdictBelow:
		return fmt.Sprintf("Outside %s, too low: %s that the water is under it.", limit, j.chance(j.Under))
	case VerdictAbove:
		return fmt.Sprintf("Outside %s, too high: %s that the water is over it.", limit, j.chance(j.Above))
	case VerdictWithin:
		return fmt.Sprintf("Within %s: %s that the water is outside it.", limit, j.chance(j.Over))
	}
	return fmt.Sprintf("Cannot tell: %s that the water is outside %s.", j.chance(j.Over), limit)
}

// colourWords is that sentence for a strip whose own error does not hold, without a
// percentage.
func (j Judgement) colourWords(limit string) string {
	side := ""
	switch {
	case j.ReadsBelow && j.Limit.TwoSided():
		side = "within"
	case j.ReadsBelow, j.Verdict == VerdictBelow:
		side = "below"
	case j.Verdict == VerdictAbove:
		side = "above"
	default:
		return "Cannot tell by its colour against " + limit + "."
	}
	return fmt.Sprintf("Reads %s %s by its colour alone.", side, limit)
}

func (j Judgement) classWords() string {
	return capital(strings.Join(j.likelyClasses(" (%s)"), ", ")) + ", in the classes of " + j.Limit.Authority + "."
}

// likelyClasses are the classes that the water may be in; shown is how a chance is
// written behind its name, empty where it is not.
func (j Judgement) likelyClasses(shown string) (out []string) {
	for _, c := range j.Classes {
		switch {
		case c.Chance.AtMost < 0.01:
		case shown == "":
			out = append(out, c.Name)
		default:
			out = append(out, c.Name+fmt.Sprintf(shown, j.chance(c.Chance)))
		}
	}
	return out
}

// counted names the other analytes that a pad counts in besides the one it is named
// for.
func counted(a charts.Analyte) []string {
	var others []string
	self := false
	for _, to := range a.RespondsTo {
		if strings.EqualFold(to, a.Name) {
			self = true
		} else {
			others = append(others, to)
		}
	}
	if !self || len(others) == 0 {
		return nil
	}
	return []string{"The pad answers to " + strings.Join(others, " and ") + " too and counts it in."}
}

// ends says that the strip tells nothing past the chart's end, where the limit lies
// past it.
func (j Judgement) ends(r calib.Reading) []string {
	f, reason := comparableTo(r, j.Limit)
	if reason != "" || j.Limit.TwoSided() || len(j.Limit.Sum) > 0 {
		return nil
	}
	a := r.Analyte.Scaled(f)
	end := func(v float64) string { return units.Quantity{Value: rounded(v), Unit: j.Limit.Unit}.String() }
	lowest, highest := a.Swatches[0].Value, a.Swatches[len(a.Swatches)-1].Value
	switch {
	case j.Limit.Value > highest:
		return []string{"The chart ends at " + end(highest) + ", which is less than the limit: the strip cannot show how much more " +
			"than that is in the water."}
	case j.Limit.Value < lowest:
		return []string{"The chart begins at " + end(lowest) + ", which is more than the limit: the strip cannot show how much less " +
			"than that is in the water."}
	}
	return nil
}

// settles says what would settle a health limit and what would not.
func settles(r calib.Reading, l limits.Limit) []string {
	out := []string{"A certified laboratory settles it."}
	if r.Reliability == calib.Unreliable {
		return append(out, "A better photo of a fresh strip may tell more.")
	}
	if spoilt(r) {
		return append(out, "A strip of a kit in date, photographed in time, may tell more.")
	}
	out = append(out, "A second strip of the same bottle does not settle it, because strips of one bottle tend to be wrong in the "+
		"same way.")
	if r.Range != calib.Above {
		out = append(out, "Diluting the water does not settle it either: that helps only when the reading is at the chart's top.")
	}
	return out
}

// rounded is a figure to four digits, for a sentence.
func rounded(v float64) float64 {
	x, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	return x
}

// Figure prints the reading's value in the limit's unit so that it stands on
// its own side of the limit: 0.4999 beside 0.5 is "just under 0.5". Past an
// end of the chart it is that end "or more" or "or less".
func (j Judgement) Figure(r calib.Reading) string {
	unit := " " + j.Limit.Unit.String()
	switch r.Range {
	case calib.Above:
		return plainFigure(rounded(j.Value)) + unit + " or more"
	case calib.Below:
		return plainFigure(rounded(j.Value)) + unit + " or less"
	}
	printed := fixed(j.Value, j.decimals())
	for _, edge := range []float64{j.Limit.Value, j.Limit.Low, j.Limit.High} {
		switch {
		case edge > 0 && j.Value < edge && printed >= edge:
			return "just under " + plainFigure(edge) + unit
		case edge > 0 && j.Value > edge && printed <= edge:
			return "just over " + plainFigure(edge) + unit
		}
	}
	return plainFigure(printed) + unit
}

// decimals is how many decimals a figure is printed with: enough to see an eighth of
// the band.
func (j Judgement) decimals() int {
	width := j.High.Value - j.Low.Value
	if !(width > 0) {
		return 2
	}
	return min(max(int(math.Ceil(-math.Log10(width/8))), 0), 6)
}

// fixed is a figure rounded to so many decimals.
func fixed(v float64, decimals int) float64 {
	x, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
	return x
}

func plainFigure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// chance prints a probability: "41 %", "at most 4 %", "94.9 %". It never prints
// certainty, and rounding never lifts a figure to the guard.
func (j Judgement) chance(c Chance) string {
	if c.Known() {
		return j.percent(c.AtLeast)
	}
	switch {
	case c.AtLeast <= 0:
		return "at most " + j.percent(c.AtMost)
	case c.AtMost >= 1:
		return "at least " + j.percent(c.AtLeast)
	}
	low, high := j.percent(c.AtLeast), j.percent(c.AtMost)
	if low == high {
		return low
	}
	return low + " to " + high
}

func (j Judgement) percent(p float64) string {
	switch {
	case p < 0.01:
		return "under 1 %"
	case p > 0.99:
		return "over 99 %"
	}
	for d := 0; d <= 6; d++ {
		text := strconv.FormatFloat(100*p, 'f', d, 64)
		printed, _ := strconv.ParseFloat(text, 64)
		printed /= 100
		// What is printed must lie on the same side of the guard, and of its
		// contrary, as the probability itself.
		if (printed >= j.Guard) == (p >= j.Guard) && (printed <= 1-j.Guard) == (p <= 1-j.Guard) {
			return text + " %"
		}
	}
	return fmt.Sprintf("%g %%", math.Round(100*p))
}

// capital returns a text with a capital first letter, to begin a sentence.
func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
