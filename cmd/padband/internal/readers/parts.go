package readers

import (
	"fmt"
	"math"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/lines"
)

// screens says whose calls were made from a picture on a screen and not at the
// strip, or from whatever else the rows name.
func screens(c agreement.Comparison) (out []string) {
	for k, from := range c.Sources {
		var names []string
		screen := ""
		for _, s := range from {
			names = append(names, readerName(s))
			if s == "screen" {
				screen = " A screen shows colours otherwise than the strip in the hand."
			}
		}
		if len(names) > 0 {
			out = append(out, fmt.Sprintf("%s called from: %s.%s", readerName(c.Readers[k]), lines.List(names), screen))
		}
	}
	return out
}

// sidesPart is about the limit: how many samples the two call on opposite sides of
// it, and which.
func sidesPart(c agreement.Comparison) topic {
	if c.Limit == nil || len(c.Pairs) == 0 {
		return topic{}
	}
	p := topic{Head: "Against the limit, " + lines.OneLine(c.Limit.Name)}
	if c.Limit.Whose != "" {
		p.Head += " (" + lines.OneLine(c.Limit.Whose) + ")"
	}
	p.Rows = append(p.Rows, named{"on opposite sides", share(c.Opposite)})
	if c.Undecided > 0 {
		p.Rows = append(p.Rows, named{"cannot be told", fmt.Sprintf("%d: a range or an open end reaches over the limit", c.Undecided)})
	}
	a, b := readers(c)
	const most = 20
	listed := 0
	for _, q := range c.Pairs {
		if !q.Opposite() {
			continue
		}
		if listed++; listed <= most {
			p.Lines = append(p.Lines, fmt.Sprintf("%s: %s %s, %s %s", pairName(q), a, called(q.Calls[0]), b, called(q.Calls[1])))
		}
	}
	if listed > most {
		p.Lines = append(p.Lines, fmt.Sprintf("and %d more", listed-most))
	}
	return p
}

// called are a reader's calls of a sample as they were written.
func called(calls []*agreement.Call) string {
	var out []string
	for _, c := range calls {
		out = append(out, c.Value.String())
	}
	return lines.List(out)
}

// stepsPart is about swatch steps: how many samples are called within one step, and
// where on the chart the two part most.
func stepsPart(c agreement.Comparison) topic {
	if !c.Within.Defined() {
		return topic{}
	}
	f := inStepsFigurer()
	p := topic{Head: "How far apart, in swatch steps"}
	p.Rows = []named{
		{"up to one", share(c.Within) + "; to be expected"},
		{"over one, up to two", fmt.Sprintf("%d; an error", c.Apart[1])},
		{"over two", fmt.Sprintf("%d; a gross error", c.Apart[2])},
		{"bias", f.estimate(c.Steps.Bias)},
		{"95 in 100 between", f.estimate(c.Steps.Low) + " and " + f.estimate(c.Steps.High)},
	}
	if i := c.Parting(); i >= 0 {
		r := c.Regions[i]
		p.Lines = append(p.Lines, fmt.Sprintf("They part most near %s: over one step apart in %d of the %d "+
			"samples there.", lines.Plain(r.Swatch), r.Apart, r.Pairs))
	}
	return p
}

// differencesPart is about the differences in the calls' unit: their middle, and
// between which limits 95 in 100 of them lie.
func differencesPart(c agreement.Comparison) topic {
	if len(c.Pairs) == 0 {
		return topic{}
	}
	a, b := readers(c)
	f := newFigurer(c)
	p := topic{Head: "Differences, " + a + " minus " + b}
	if u := unitOf(c); u != "" && u != "pH" {
		p.Head += ", " + u
	}
	if f.ratio {
		p.Head = "Differences as ratios, " + a + " over " + b
	}
	d := c.Differences
	p.Rows = []named{{biasName(c), f.estimate(d.Bias)}, {"95 in 100 between", between95(f, d)}}
	if d.Spread > 0 && !f.ratio {
		p.Rows = append(p.Rows, named{"standard deviation", f.num(d.Spread)})
	}
	p.Lines = append(p.Lines, howTaken(c))
	if s := moreSamples(c, f); s != "" {
		p.Lines = append(p.Lines, s)
	}
	return p
}

// biasName names the middle of the differences: by ranks it is their median, on a log
// scale the mean ratio.
func biasName(c agreement.Comparison) string {
	switch {
	case c.Method.Ranks:
		return "median"
	case c.Method.Log:
		return "mean ratio"
	}
	return "bias (mean)"
}

// between95 are the limits of agreement; one reason where both have the same.
func between95(f figurer, d agreement.LimitsOfAgreement) string {
	if !d.Low.Defined() {
		return d.Low.Why
	}
	return f.estimate(d.Low) + " and " + f.estimate(d.High)
}

// howTaken says how the limits of agreement are made: of differences or ratios, and
// from their spread or by their ranks.
func howTaken(c agreement.Comparison) string {
	m := c.Method
	text := ""
	if m.Log {
		text = fmt.Sprintf("On a log scale, because the readers differ more where the values are higher (rank correlation "+
			"%.2f): a ratio of 1.10 is 10 %% higher. ", m.Growth)
	}
	switch {
	case m.Ranks:
		text += fmt.Sprintf("By ranks, because the differences are far from normal (squared correlation with a normal's "+
			"%.2f): the median, and the points that leave out 2.5 %% at each end.", m.Straight)
	case c.Differences.Low.Defined():
		text += fmt.Sprintf("Limits of agreement: bias ± %.2f standard deviations (Bland and Altman 1986, 1999); their "+
			"intervals join those of both (Zou 2013).", agreement.Factor)
	}
	if c.Differences.Low.Defined() && !c.Differences.Low.Bounded() && c.Differences.Low.Why != "" {
		text += " " + lines.UpperFirst(c.Differences.Low.Why) + "."
	}
	return text
}

// moreSamples says how many more samples it takes to know the limits of agreement as
// closely as was asked.
func moreSamples(c agreement.Comparison, f figurer) string {
	n := c.Need
	switch {
	case n.Total == 0:
		return ""
	case math.IsNaN(n.Known):
		return fmt.Sprintf("To bound these limits, call %s, %d in all.", lines.Count(n.More, "more sample"), n.Total)
	}
	sign := "±"
	if f.ratio {
		sign = "a factor of"
	}
	head := fmt.Sprintf("These limits are known to %s %s.", sign, f.num(n.Known))
	if n.More == 0 {
		return fmt.Sprintf("%s For %s %s no more samples are needed.", head, sign, f.num(n.Wanted))
	}
	return fmt.Sprintf("%s To know them to %s %s, call about %s, %d in all.", head, sign, f.num(n.Wanted),
		lines.Count(n.More, "more sample"), n.Total)
}

// classesPart is about the classes of the calls: how often both name the same one,
// beyond what chance would give.
func classesPart(c agreement.Comparison) topic {
	if len(c.Pairs) == 0 {
		return topic{}
	}
	a, b := readers(c)
	p := topic{Head: "Calls by swatch: " + a + " down, " + b + " across"}
	if c.Scale == nil {
		p.Head = "Calls by value: " + a + " down, " + b + " across"
	}
	p.Table = newSquare(c.Table)
	f := figurer{decimals: 2}
	p.Rows = []named{
		{"the same", share(c.Raw)},
		{"kappa", f.estimate(c.Kappa)},
		{"kappa, linear weights", f.estimate(c.Linear)},
		{"kappa, quadratic", f.estimate(c.Quadratic)},
	}
	if !c.Raw.Defined() && c.Kappa.Why == c.Raw.Why {
		p.Rows = []named{{"the same, and kappa", c.Raw.Why}}
	}
	switch {
	case !c.Kappa.Defined():
	case !c.Kappa.Bounded() && c.Kappa.Why != "":
		p.Lines = append(p.Lines, "Kappa has "+c.Kappa.Why+".")
	default:
		p.Lines = append(p.Lines, "Kappa is agreement beyond chance: 0 is chance, 1 complete. The weighted ones forgive near misses.")
	}
	if n := len(c.Pairs) - c.Table.Total(); n > 0 && c.Table.Counts != nil {
		p.Lines = append(p.Lines, lines.Count(n, "sample")+" with an open-ended call cannot be put to a swatch.")
	}
	return p
}

// repeatsPart is about samples that a reader called more than once: how near these
// calls are to each other.
func repeatsPart(c agreement.Comparison) topic {
	p := topic{Head: "Repeated calls: two of one reader differ by no more, 95 times in 100"}
	f := newFigurer(c)
	if f.ratio {
		f = figurer{decimals: 2}
	}
	for k, r := range c.Repeats {
		if r.Samples > 0 {
			p.Rows = append(p.Rows, named{readerName(c.Readers[k]), fmt.Sprintf("%s, from %s", f.estimate(r.Within),
				lines.Count(r.Samples, "sample"))})
		}
	}
	if len(p.Rows) > 0 {
		p.Lines = append(p.Lines, "The differences above are of single calls, worked out from the readers' means.")
	}
	return p
}

// referencePart is about the true values, where they are known: how far each reader is
// from them, and so which of the two is right.
func referencePart(c agreement.Comparison) topic {
	p := topic{Head: "Against the reference: how far each reader is from it"}
	for k, e := range c.Errors {
		if e.N == 0 {
			continue
		}
		f := figurer{decimals: decimalsOf(e.Spread / 50)}
		text := fmt.Sprintf("off by %s on average", f.estimate(e.Bias))
		if e.Low.Defined() {
			text += fmt.Sprintf("; 95 in 100 between %s and %s", f.num(e.Low.Value), f.num(e.High.Value))
		}
		p.Rows = append(p.Rows, named{readerName(c.Readers[k]), text + "; " + lines.Count(e.N, "sample")})
	}
	return p
}

// mostLeft is how many of the left-out rows are printed.
const mostLeft = 12

// Unlisted is how many of the rows left out a text or a page counts but does not list.
func Unlisted(c agreement.Comparison) int { return c.LeftCount - min(len(c.Left), mostLeft) }

// leftPart names the rows that were left out, and why.
func leftPart(c agreement.Comparison) topic {
	p := topic{Head: "Left out"}
	for i, l := range c.Left {
		if i == mostLeft {
			break
		}
		p.Lines = append(p.Lines, fmt.Sprintf("line %d: %s", l.Row, lines.OneLine(l.Why)))
	}
	if more := Unlisted(c); more > 0 {
		p.Lines = append(p.Lines, fmt.Sprintf("and %d more", more))
	}
	return p
}
