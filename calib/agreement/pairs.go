package agreement

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"padband/charts"
)

// apartSeconds is how far apart, in seconds after the dip, two calls may be
// made and still count as made at the same time. Common practice, no source.
const apartSeconds = 10

// Pair is one sample that both readers called.
type Pair struct {
	Sample, Strip string
	// Calls are each reader's, more than one where the call was repeated.
	Calls [2][]*Call
	// Value is the mean of each reader's calls as numbers, a range standing for
	// its middle; NaN where one is open-ended.
	Value [2]float64
	// Step is the same in swatch steps from the lowest swatch; an open-ended call
	// at or past the chart's end is at that end. NaN without a chart.
	Step [2]float64
	// Class is the place in the table of each reader's first call; -1 where it has none.
	Class [2]int
	Side  [2]Side
	// Reference is the sample's true value; NaN where it is not known.
	Reference float64
	// OtherStrip says that the readers called different strips, OtherTime that
	// they called at different times after the dip.
	OtherStrip, OtherTime bool
}

// Open reports whether a call of the pair is open-ended, so that there is no
// difference in numbers.
func (p Pair) Open() bool { return math.IsNaN(p.Value[0] + p.Value[1]) }

// Steps is the difference in swatch steps, first reader minus second; NaN where
// it is not known.
func (p Pair) Steps() float64 { return p.Step[0] - p.Step[1] }

// Difference is the difference in the calls' unit, first reader minus second.
func (p Pair) Difference() float64 { return p.Value[0] - p.Value[1] }

// pairing collects the pairs of two readers for one analyte.
type pairing struct {
	readers [2]string
	scale   *charts.Analyte
	calls   *Calls // gathers what is left out
	pairs   []Pair
}

// collect makes the pairs of the rows, which are of one analyte and unit, in
// the order of the samples' first rows.
func (g *pairing) collect(rows []*Call) {
	var order []string
	bySample := map[string]*[2][]*Call{}
	for _, c := range rows {
		i := slices.Index(g.readers[:], c.Reader)
		if i < 0 {
			continue
		}
		both := bySample[c.Sample]
		if both == nil {
			both = &[2][]*Call{}
			bySample[c.Sample] = both
			order = append(order, c.Sample)
		}
		both[i] = append(both[i], c)
	}
	for _, s := range order {
		g.sample(*bySample[s])
	}
}

// sample makes the pair of one sample, or one for each strip that both readers
// called; calls that the other reader has none for are left out.
func (g *pairing) sample(both [2][]*Call) {
	shared := sharedStrips(both)
	if len(shared) == 0 {
		g.pair(both, "")
		return
	}
	for _, strip := range shared {
		var of [2][]*Call
		for i := range both {
			for _, c := range both[i] {
				if c.Strip == strip {
					of[i] = append(of[i], c)
				}
			}
		}
		g.pair(of, strip)
	}
	for i := range both {
		for _, c := range both[i] {
			if !slices.Contains(shared, c.Strip) {
				g.leave(c, "no call of strip "+clip(c.Strip)+" by "+clip(g.readers[1-i]))
			}
		}
	}
}

// sharedStrips are the strips that both readers called, in the first's order;
// none where a call names no strip.
func sharedStrips(both [2][]*Call) (shared []string) {
	for _, c := range both[0] {
		if c.Strip == "" {
			return nil
		}
		if !slices.Contains(shared, c.Strip) && slices.ContainsFunc(both[1], func(o *Call) bool { return o.Strip == c.Strip }) {
			shared = append(shared, c.Strip)
		}
	}
	if slices.ContainsFunc(both[1], func(o *Call) bool { return o.Strip == "" }) {
		return nil
	}
	return shared
}

func (g *pairing) leave(c *Call, why string) {
	g.calls.leave(LeftOut{c.Row, fmt.Sprintf("sample %s, %s: %s", clip(c.Sample), clip(c.Reader), why)})
}

func (g *pairing) pair(calls [2][]*Call, strip string) {
	for i := range calls {
		if len(calls[i]) == 0 {
			for _, c := range calls[1-i] {
				g.leave(c, "no call by "+clip(g.readers[i]))
			}
			return
		}
	}
	p := Pair{Sample: calls[0][0].Sample, Strip: strip, Calls: calls, Class: [2]int{-1, -1}, Reference: reference(calls)}
	for i := range calls {
		p.Value[i] = meanOf(calls[i], func(c *Call) float64 { return number(c.Value, g.scale) })
		p.Step[i] = meanOf(calls[i], func(c *Call) float64 { return step(c.Value, g.scale) })
	}
	p.OtherStrip = strip == "" && named(calls[0]) && named(calls[1])
	p.OtherTime = g.otherTime(calls[0][0].Seconds, calls[1][0].Seconds)
	g.pairs = append(g.pairs, p)
}

func named(calls []*Call) bool {
	return !slices.ContainsFunc(calls, func(c *Call) bool { return c.Strip == "" })
}

func meanOf(calls []*Call, f func(*Call) float64) float64 {
	sum := 0.0
	for _, c := range calls {
		sum += f(c)
	}
	return sum / float64(len(calls))
}

// reference is the one value that the sample's rows give; NaN where they give
// none or several.
func reference(calls [2][]*Call) float64 {
	r := math.NaN()
	for _, c := range slices.Concat(calls[0], calls[1]) {
		switch {
		case math.IsNaN(c.Reference):
		case math.IsNaN(r):
			r = c.Reference
		case r != c.Reference:
			return math.NaN()
		}
	}
	return r
}

// otherTime reports whether two times after the dip are apart, or only one of
// them is in the chart's read window.
func (g *pairing) otherTime(a, b float64) bool {
	if math.IsNaN(a + b) {
		return false
	}
	if g.scale != nil && g.scale.ReadWindow != nil {
		w := g.scale.ReadWindow
		if (a >= w[0] && a <= w[1]) != (b >= w[0] && b <= w[1]) {
			return true
		}
	}
	return math.Abs(a-b) > apartSeconds
}

// closed replaces the open low end of a call by 0 where the chart begins at 0.
func closed(v Value, a *charts.Analyte) Value {
	if a != nil && math.IsInf(v.Low, -1) && a.Swatches[0].Value == 0 {
		v.Low = 0
	}
	return v
}

// number is the call as one number: a range's middle is taken along the chart's
// scale, or between the two numbers without a chart. NaN when it is open-ended.
func number(v Value, a *charts.Analyte) float64 {
	v = closed(v, a)
	switch {
	case v.Open():
		return math.NaN()
	case v.Exact():
		return v.Low
	case a == nil:
		return (v.Low + v.High) / 2
	}
	return a.ValueAt((a.StepOf(v.Low) + a.StepOf(v.High)) / 2)
}

// step is the call's place on the chart in steps; NaN when there is no chart, or an
// open end leaves it open.
func step(v Value, a *charts.Analyte) float64 {
	if a == nil {
		return math.NaN()
	}
	v = closed(v, a)
	top := len(a.Swatches) - 1
	switch {
	case math.IsInf(v.Low, -1) && v.High <= a.Swatches[0].Value:
		return 0
	case math.IsInf(v.High, 1) && v.Low >= a.Swatches[top].Value:
		return float64(top)
	case v.Open():
		return math.NaN()
	}
	return (a.StepOf(v.Low) + a.StepOf(v.High)) / 2
}

// analyteIn finds the chart's analyte of that name, whatever its case.
func analyteIn(c *charts.Chart, name string) (*charts.Analyte, bool) {
	for i := range c.Analytes {
		if strings.EqualFold(c.Analytes[i].Name, name) {
			return &c.Analytes[i], true
		}
	}
	return nil, false
}
