package agreement

import (
	"math"

	"padband/charts"
)

// Verdict says in one word what to make of two readers.
type Verdict string

// Verdicts. The first that applies is given.
const (
	// NoPairs: no sample has calls of both.
	NoPairs Verdict = "no pairs"
	// Opposite: at least one sample is on opposite sides of the limit.
	Opposite Verdict = "opposite sides of the limit"
	// StepsApart: over 5 in 100 pairs are more than one step apart.
	StepsApart Verdict = "more than a step apart"
	// Steady: one reads higher than the other, by half a step or more, and the
	// interval of the bias leaves 0 out; without a chart the interval alone decides.
	Steady Verdict = "one reads higher"
	// Few: nothing speaks against agreement, with too few pairs to show it.
	Few Verdict = "too few to tell"
	// NoMeasure: without chart and limit nothing says how much matters.
	NoMeasure Verdict = "no measure"
	// Agree: none of these.
	Agree Verdict = "agree"
)

// Fewest is how many pairs can show that two readers agree: with 10 of 10
// within a step, it may still be otherwise in 31 of 100. Common practice, no source.
const Fewest = 10

// steadySteps is the bias, in steps, from which one reader is called higher.
const steadySteps = 0.5

func (c Comparison) verdict() Verdict {
	switch {
	case len(c.Pairs) == 0:
		return NoPairs
	case c.Opposite.Defined() && c.Opposite.Count > 0:
		return Opposite
	case c.Within.Defined() && float64(c.Within.Count) < Coverage*float64(c.Within.Of):
		return StepsApart
	case c.steady():
		return Steady
	case c.Scale == nil && c.Limit == nil:
		return NoMeasure
	case c.Shown() < Fewest:
		return Few
	}
	return Agree
}

// Shown is the number of samples that can show agreement: those with a place on
// the chart or, without one, a side of the limit.
func (c Comparison) Shown() int {
	if c.Scale != nil {
		return c.Within.Of
	}
	return c.Opposite.Of
}

// steady reports whether one reader reads higher throughout.
func (c Comparison) steady() bool {
	if c.Scale != nil {
		return c.Steps.Bias.Excludes(0) && math.Abs(c.Steps.Bias.Value) >= steadySteps
	}
	none := 0.0
	if c.Method.Log {
		none = 1
	}
	return c.Differences.Bias.Excludes(none)
}

// Excludes reports whether a value is outside the interval; false where there
// is no interval.
func (e Estimate) Excludes(v float64) bool { return e.Low > v || e.High < v }

// Region is a stretch of the chart about one swatch.
type Region struct {
	Swatch float64
	Pairs  int     // whose middle is nearest to the swatch
	Apart  int     // of them, over one step apart
	Steps  float64 // mean difference in steps
}

// regions sorts the pairs by the swatch nearest to their middle.
func regions(pairs []Pair, a *charts.Analyte) []Region {
	out := make([]Region, len(a.Swatches))
	for i := range out {
		out[i].Swatch = a.Swatches[i].Value
	}
	for _, p := range pairs {
		middle := (p.Step[0] + p.Step[1]) / 2
		if math.IsNaN(middle) {
			continue
		}
		r := &out[int(math.Round(middle))]
		r.Pairs++
		r.Steps += p.Steps()
		if math.Abs(p.Steps()) > 1+stepSlack {
			r.Apart++
		}
	}
	for i := range out {
		out[i].Steps /= float64(out[i].Pairs) // NaN where there are none
	}
	return out
}

// Parting is the index of the region where most pairs are over one step apart,
// or -1 where none is.
func (c Comparison) Parting() int {
	worst := -1
	for i, r := range c.Regions {
		if r.Apart > 0 && (worst < 0 || r.Apart > c.Regions[worst].Apart) {
			worst = i
		}
	}
	return worst
}

// Need is how many samples limits of a wanted width take. By ranks it is how
// many it takes to bound them at all, and Known and Wanted are NaN.
type Need struct {
	Known, Wanted float64 // how close the limits are known, and are wanted to be
	Total, More   int     // pairs in all, and beyond those there are; 0 when it cannot be said
}

// need sizes the sample for limits known to within wanted, from the spread seen.
func need(c Comparison, wanted float64) Need {
	l := c.Differences
	n := Need{Known: math.NaN(), Wanted: math.NaN()}
	spread := l.Spread
	if c.Method.Log {
		spread = math.Log(spread)
	}
	switch {
	case l.N < 2 || !(spread > 0):
		return n
	case c.Method.Ranks && l.N < leastForRanks:
		n.Total, n.More = leastForRanks, leastForRanks-l.N
		return n
	case c.Method.Ranks:
		return n
	}
	n.Known = student(float64(l.N-1)) * symmetricError(spread, float64(l.N))
	n.Wanted = wanted
	if c.Method.Log || !(wanted > 0) {
		n.Wanted = n.Known / 2
	}
	n.Total = Needed(spread, n.Wanted)
	n.More = max(0, n.Total-l.N)
	if c.Method.Log {
		n.Known, n.Wanted = math.Exp(n.Known), math.Exp(n.Wanted)
	}
	return n
}
