// Package judge says what readings mean. Start at [Against] for a reading and a limit;
// [Sum] is for a rule about two analytes together, [Difference] for two readings,
// [MannKendall] for a series over time. The package rests on the probabilities that
// readings carry, and makes no reading itself.
//
// A verdict needs a probability of at least the guard g. With C the water's content
// and L the limit, the verdict is above where P(C > L) ≥ g, below where P(C > L) ≤ 1 -
// g, and cannot tell in between (JCGM 106:2012, clauses 7 and 8). A doubtful reading
// never says below a health limit: uncleared lists what makes it so, by what codes.go
// in package calib says that a warning spoils. Where a strip is known to be spoilt, no
// limit of any kind gets below or a percentage. Where nobody has made sure that a
// reading is of the pad at all, it says neither that it is below a health limit nor by
// what chance.
package judge

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"padband/calib"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
)

// Verdict is the one word of a judgement; empty when none is given.
type Verdict string

// Verdicts. For a limit with two sides, below and above say on which side of both the
// water lies, and within says that it lies between them.
const (
	VerdictNone       Verdict = ""
	VerdictBelow      Verdict = "below"
	VerdictAbove      Verdict = "above"
	VerdictWithin     Verdict = "within"
	VerdictCannotTell Verdict = "cannot tell"
)

// DefaultGuard is the least probability for a verdict when nobody asks for another.
const DefaultGuard = 0.95

// Judgement says what a reading means against a limit.
type Judgement struct {
	Limit limits.Limit
	// Value is the reading's value and Low and High are the ends of its water band, in
	// the limit's unit. They are NaN where the reading cannot be set against the
	// limit. An open end lies past the chart.
	Value     float64
	Low, High calib.Bound
	// Over is the chance that the water is over the limit. For a limit with two sides
	// it is the chance of lying outside, and Under and Above are its two parts. It
	// runs from 0 to 1 where nothing is known of it, as with a spoilt strip.
	Over         Chance
	Under, Above Chance
	// Probability is Over as one figure, NaN where its bounds differ.
	Probability float64
	Guard       float64
	Verdict     Verdict
	// ReadsBelow is true where the verdict would be below, or within, but for one of two
	// rules: a strip alone is no reason to drink the water, and a spoilt one clears none.
	ReadsBelow bool
	// Reason says why there is no verdict, or why it cannot be told; one sentence or empty.
	Reason  string
	RestsOn string
	Words   []string // the judgement in sentences, the verdict first
	Next    []string // what to do
	Classes []ClassChance

	unlooked   bool   // it would be below, or within, but nobody has made sure what was read
	bands      string // what it rests on, but for the strip's own error
	kitAssumed bool
}

// rests says in a reading file what a judgement rests on.
func (j Judgement) rests() string {
	if j.kitAssumed {
		return j.bands + ", kit error assumed"
	}
	return j.bands + ", kit error as the chart gives it"
}

// ClassChance is the probability of one class.
type ClassChance struct {
	Name   string
	Chance Chance
}

// ParseGuard reads the probability that a verdict needs: "0.95", "95" or
// "95 %"; over a half and under one.
func ParseGuard(text string) (float64, error) {
	digits := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	v, err := strconv.ParseFloat(digits, 64)
	if err == nil && (v > 1 || digits != strings.TrimSpace(text)) {
		v /= 100
	}
	if err != nil || !(v > 0.5 && v < 1) {
		return 0, errors.New(strconv.Quote(text) + " is no probability to ask of a verdict; write a percentage over 50 and under 100, " +
			"such as 95")
	}
	return v, nil
}

// Against sets a reading against a limit by probability, from the posterior with the
// kit's error in it. guard is the least probability for a verdict (0.5 to 1; out of
// that range [DefaultGuard] is taken), as in the decision rules of JCGM 106:2012,
// clauses 7 and 8. There is no verdict where the limit is not about one sample, where
// figures cannot be converted, and for a yes-or-no pad.
func Against(r calib.Reading, l limits.Limit, guard float64) Judgement {
	j := newJudgement(l, guard)
	factor, reason := comparableTo(r, l)
	if reason != "" {
		return j.without(r.Analyte.Name, reason)
	}
	j.compare(r, factor)
	switch {
	case stopped(r):
		j.Verdict, j.Reason = VerdictCannotTell, "The diluted strip and the strip of the water itself disagree, so nothing can be told "+
			"from them."
	case r.Reliability == calib.Unreliable:
		j.Verdict, j.Reason = VerdictCannotTell, "The reading is not to be used."
	case len(l.Classes) > 0:
		j.classes(r, factor)
	case l.Basis != limits.BasisSample && l.Basis != "":
		j.Reason = "It is compared with the " + string(l.Basis) + ", so one sample gives no verdict."
	default:
		j.decide(r, factor)
	}
	j.finish(r)
	return j
}

func newJudgement(l limits.Limit, guard float64) Judgement {
	if !(guard > 0.5 && guard < 1) {
		guard = DefaultGuard
	}
	nan := math.NaN()
	return Judgement{Limit: l, Guard: guard, Value: nan, Low: calib.Bound{Value: nan}, High: calib.Bound{Value: nan}, Probability: nan,
		Over: Chance{0, 1}}
}

// comparableTo returns the factor from the reading's unit to the limit's, or why
// the two cannot be compared.
func comparableTo(r calib.Reading, l limits.Limit) (units.Ratio, string) {
	if r.Analyte.Kind == charts.KindPresence {
		return units.Ratio{}, "A yes-or-no pad gives no figure to set against a limit."
	}
	if len(l.Sum) > 0 && l.Unit.Name == "" {
		return units.Ratio{}, "The rule is about several analytes together."
	}
	f, err := units.Factor(r.Analyte.Name, r.Analyte.Measure(), l.Unit)
	if err != nil {
		return units.Ratio{}, "Not judged: " + err.Error() + "."
	}
	return f, ""
}

// without is the judgement without a verdict, and with the reason for that.
func (j Judgement) without(analyte, reason string) Judgement {
	j.Reason = reason
	j.Words = []string{reason}
	j.Next = limits.Advice(analyte, limits.OutcomeNone, j.Limit.Set)
	return j
}

// compare fills in the reading's figures in the limit's unit.
func (j *Judgement) compare(r calib.Reading, f units.Ratio) {
	j.Value = f.Of(r.Value)
	j.Low = calib.Bound{Value: f.Of(r.WaterBand.Low.Value), Open: r.WaterBand.Low.Open}
	j.High = calib.Bound{Value: f.Of(r.WaterBand.High.Value), Open: r.WaterBand.High.Open}
	j.bands, j.kitAssumed = "water band", r.KitAssumed
	j.RestsOn = j.rests()
}

// decide finds the chances and the verdict.
func (j *Judgement) decide(r calib.Reading, f units.Ratio) {
	a := r.Analyte.Scaled(f)
	if j.Limit.TwoSided() {
		j.Under, j.Above = outsideOf(r.Water, a, j.Limit.Low, j.Limit.High)
		j.Over = j.Under.plus(j.Above)
	} else {
		j.Over = overOn(r.Water, a, j.Limit.Value)
	}
	j.rule(r)
}

// spoilt reports whether a warning says that the strip's own error may differ from
// what the chart gives.
func spoilt(r calib.Reading) bool {
	return slices.ContainsFunc(r.Warnings, func(w calib.Warning) bool { return factsOf(w).Spoils != "" })
}

// factsOf are the facts of a warning's code; they are zero for an unknown code.
func factsOf(w calib.Warning) calib.CodeFacts {
	f, _ := w.Code.Facts()
	return f
}

// stopped reports whether a warning rules out every verdict.
func stopped(r calib.Reading) bool {
	return slices.ContainsFunc(r.Warnings, func(w calib.Warning) bool { return factsOf(w).Stops })
}

// byColour reports whether a warning says that the strip's own error does not hold, not
// only that nobody said so. A judgement then says no percentage, because all of them
// rest on that error: it goes by the pad's colour alone.
func byColour(r calib.Reading) bool {
	return slices.ContainsFunc(r.Warnings, func(w calib.Warning) bool { f := factsOf(w); return f.Spoils != "" && !f.Unsaid })
}

// undergrown reports whether the pad's colour was still growing.
func undergrown(r calib.Reading) bool {
	return slices.ContainsFunc(r.Warnings, func(w calib.Warning) bool { return factsOf(w).Undergrown })
}

// unlooked reports whether a warning says that nobody has made sure that the reading is
// of the pad.
func unlooked(r calib.Reading) bool {
	return slices.ContainsFunc(r.Warnings, func(w calib.Warning) bool { return factsOf(w).Unlooked })
}

// uncleared says why a reading cannot clear water against a limit for health, without a
// full stop, or is empty where the strip's own error is known to hold.
func uncleared(r calib.Reading) string {
	var because []string
	for _, w := range r.Warnings {
		if why := factsOf(w).Spoils; why != "" {
			because = append(because, why)
		}
	}
	if len(because) > 0 {
		return capital(strings.Join(slices.Compact(because), " and ")) + ", so the strip's own error is not known"
	}
	if r.KitAssumed {
		return "The strip's own error is only assumed"
	}
	return ""
}

// rule turns the chances into a verdict.
func (j *Judgement) rule(r calib.Reading) {
	if j.Over.Known() {
		j.Probability = j.Over.AtLeast
	}
	j.Verdict = verdict(j.Over, j.Guard)
	if j.Limit.TwoSided() {
		j.Verdict = twoSided(j.Under, j.Above, j.Over, j.Guard)
	}
	health := j.Limit.Kind == limits.LimitHealth
	cleared := j.Verdict == VerdictWithin || j.Verdict == VerdictBelow && !j.Limit.TwoSided()
	why := uncleared(r)
	switch {
	case cleared && health && unlooked(r):
		j.Verdict, j.unlooked, j.Reason = VerdictCannotTell, true, "Nobody has looked at the outlines that the program found, so the "+
			"reading may be of something else than the pad."
	case undergrown(r) && (cleared || j.Verdict == VerdictBelow):
		j.Verdict, j.Reason = VerdictCannotTell, "The photo was taken before the pad is read, while its colour was still growing, so "+
			"the water may hold more."
	case cleared && why != "" && health:
		j.Verdict, j.ReadsBelow, j.Reason = VerdictCannotTell, true, why+"; this strip alone is no reason to drink the water."
	case cleared && byColour(r):
		j.Verdict, j.ReadsBelow, j.Reason = VerdictCannotTell, true, why+"."
	}
}

// verdict is the decision rule for a limit with one side: above and below need the
// guard's probability.
func verdict(over Chance, guard float64) Verdict {
	switch {
	case over.AtLeast >= guard:
		return VerdictAbove
	case over.AtMost <= 1-guard:
		return VerdictBelow
	}
	return VerdictCannotTell
}

// twoSided is the decision rule for a limit with a low and a high side.
func twoSided(under, above, outside Chance, guard float64) Verdict {
	switch {
	case under.AtLeast >= guard:
		return VerdictBelow
	case above.AtLeast >= guard:
		return VerdictAbove
	case outside.AtMost <= 1-guard:
		return VerdictWithin
	}
	return VerdictCannotTell
}

// classes finds the chance of each class of the limit. Classes are names, not
// verdicts.
func (j *Judgement) classes(r calib.Reading, f units.Ratio) {
	a := r.Analyte.Scaled(f)
	before := Chance{1, 1} // over the class before
	for _, c := range j.Limit.Classes {
		over := Chance{}
		if c.UpTo > 0 {
			over = overOn(r.Water, a, c.UpTo)
		}
		in := Chance{math.Max(0, before.AtLeast-over.AtMost), before.AtMost - over.AtLeast}
		j.Classes = append(j.Classes, ClassChance{c.Name, in})
		before = over
	}
}
