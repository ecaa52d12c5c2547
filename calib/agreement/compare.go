package agreement

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"padband/charts"
	"padband/charts/units"
)

// mostReaders is how many readers are compared pair by pair without being named.
const mostReaders = 8

// Options are what a comparison rests on besides the calls.
type Options struct {
	// Chart gives the steps and the classes; nil when there is none.
	Chart *charts.Chart
	// LimitFor returns what an analyte's calls are held against, in their unit;
	// nil when there is none. An error stops the comparison.
	LimitFor func(analyte string, unit units.Unit) (*Limit, error)
	// Readers are the two to compare; empty for all that the file has.
	Readers [2]string
	// Wanted is how close, in the calls' unit, the limits of agreement are wanted to
	// be known; 0 for half of what they are known to.
	Wanted float64
}

// Comparison is two readers compared on one analyte.
type Comparison struct {
	Readers           [2]string
	Analyte, Unit, As string
	Scale             *charts.Analyte // nil without a chart
	Limit             *Limit          // nil without a limit
	Pairs             []Pair
	Left              []LeftOut // at most 1,000; LeftCount counts them all
	LeftCount         int
	// Open counts the pairs with an open-ended call: they are in the table and in
	// the count of sides as far as they can be told, not in the differences.
	Open int

	Opposite  Share // pairs on opposite sides of the limit, of those where it can be told
	Undecided int   // pairs where it cannot be told

	Higher      [2]int // pairs where the first reader is higher, and the second
	Differences Limits // in the unit, or ratios
	Method      Method
	Steps       Limits // in swatch steps
	StepMethod  Method
	Within      Share  // pairs within one step
	Apart       [3]int // pairs up to one step apart, up to two, more
	Regions     []Region

	Table                    Table
	Raw                      Share // pairs in one class
	Kappa, Linear, Quadratic Estimate

	Repeats [2]Repeat
	Errors  [2]Limits // against the reference
	Need    Need

	// OtherStrip and OtherTime count the pairs where the readers called different
	// strips, or at different times; Alike is what the other pairs say, nil
	// when there are no such pairs or no others.
	OtherStrip, OtherTime int
	Alike                 *Alike

	// Sources are what each reader looked at, as far as the rows say, in the
	// order of the samples: "screen" for calls made from a picture.
	Sources [2][]string

	Verdict Verdict
}

// Alike sums up the pairs of one strip at one time.
type Alike struct {
	Pairs            int
	Opposite, Within Share
	Bias             Estimate
	Log              bool // Bias is a ratio
}

// Compare compares the readers, analyte by analyte in the order of the file.
// The error names what the calls lack.
func (c *Calls) Compare(o Options) ([]Comparison, error) {
	groups, err := c.groups(o)
	if err != nil {
		return nil, err
	}
	var out []Comparison
	for _, g := range groups {
		pairs, err := readerPairs(g.rows, o.Readers)
		if err != nil {
			return nil, fmt.Errorf("%w%s", err, c.firstLeft())
		}
		for _, readers := range pairs {
			c, err := g.compare(readers, o)
			if err != nil {
				return nil, err
			}
			out = append(out, c)
		}
	}
	return out, nil
}

// UnitText is a unit with what it is expressed as: "mg/L as N", "no unit".
func UnitText(unit, as string) string {
	switch {
	case unit == "" && as == "":
		return "no unit"
	case as == "":
		return unit
	}
	return unit + " as " + as
}

// firstLeft names the first row that was left out, for when too few remain.
func (c *Calls) firstLeft() string {
	if len(c.Left) == 0 {
		return ""
	}
	return fmt.Sprintf("; %d rows were left out, the first in line %d: %s", c.LeftCount, c.Left[0].Row, c.Left[0].Why)
}

// readerPairs are the pairs of readers in the order of their first rows.
func readerPairs(rows []*Call, want [2]string) ([][2]string, error) {
	var names []string
	for _, r := range rows {
		if !slices.Contains(names, r.Reader) {
			names = append(names, r.Reader)
			if len(names) > 1000 {
				break
			}
		}
	}
	if want[0] != "" {
		for _, w := range want {
			if !slices.Contains(names, w) {
				return nil, fmt.Errorf("there is no call by %q; the readers are %s", w, clip(strings.Join(names, ", ")))
			}
		}
		return [][2]string{want}, nil
	}
	switch {
	case len(names) < 2:
		return nil, fmt.Errorf("all calls that can be used are by %s; a comparison needs two readers", clip(names[0]))
	case len(names) > mostReaders:
		return nil, fmt.Errorf("there are over %d readers; name the two to compare", mostReaders)
	}
	var out [][2]string
	for i := range names {
		for j := i + 1; j < len(names); j++ {
			out = append(out, [2]string{names[i], names[j]})
		}
	}
	return out, nil
}

// compare makes one comparison.
func (g group) compare(readers [2]string, o Options) (c Comparison, err error) {
	c = Comparison{Readers: readers, Analyte: g.analyte, Unit: g.unit, As: g.as, Scale: g.scale}
	left := &Calls{Left: slices.Clone(g.left.Left), LeftCount: g.left.LeftCount}
	p := pairing{readers: readers, scale: g.scale, calls: left}
	p.collect(g.rows)
	slices.SortStableFunc(left.Left, func(a, b LeftOut) int { return a.Row - b.Row })
	c.Pairs, c.Left, c.LeftCount = p.pairs, left.Left, left.LeftCount
	if o.LimitFor != nil {
		if c.Limit, err = o.LimitFor(c.Analyte, units.Unit{Name: c.Unit, As: c.As}); err != nil {
			return c, err
		}
	}
	c.sum()
	c.Need = need(c, o.Wanted)
	c.Verdict = c.verdict()
	return c, nil
}

// sum fills in the figures of the pairs.
func (c *Comparison) sum() {
	c.Opposite = noShare("not defined: no limit was given")
	if c.Limit != nil {
		c.Opposite, c.Undecided = c.Limit.sides(c.Pairs)
	}
	c.Differences, c.Method = inUnit(c.Pairs, c.Scale)
	c.bySteps()
	c.byClass()
	c.Repeats = repeatability(c.Pairs, c.Scale)
	for k := range 2 {
		c.Errors[k] = errorsOf(c.Pairs, k)
	}
	c.alike()
	c.sources()
}

// sources gathers what each reader looked at.
func (c *Comparison) sources() {
	for _, p := range c.Pairs {
		for k := range 2 {
			for _, call := range p.Calls[k] {
				if call.Source != "" && !slices.Contains(c.Sources[k], call.Source) && len(c.Sources[k]) < mostSources {
					c.Sources[k] = append(c.Sources[k], call.Source)
				}
			}
		}
	}
}

// mostSources is how many different sources of a reader are told.
const mostSources = 5

// whyNoChart says why there are no figures in steps.
const whyNoChart = "not defined: steps need the chart"

func (c *Comparison) bySteps() {
	if c.Scale == nil {
		c.Within = noShare(whyNoChart)
		c.Steps = Limits{undefined(whyNoChart), math.NaN(), undefined(whyNoChart), undefined(whyNoChart), 0}
		return
	}
	c.Steps, c.StepMethod = inSteps(c.Pairs, c.Scale)
	c.Within, c.Apart = countSteps(c.Pairs)
	c.Regions = regions(c.Pairs, c.Scale)
}

// stepSlack keeps rounding from making two calls one step apart more than that.
const stepSlack = 1e-9

// countSteps counts the pairs up to one step apart, up to two, and more.
func countSteps(pairs []Pair) (within Share, apart [3]int) {
	for _, p := range pairs {
		switch d := math.Abs(p.Steps()); {
		case d <= 1+stepSlack:
			apart[0]++
		case d <= 2+stepSlack:
			apart[1]++
		case d > 2:
			apart[2]++
		}
	}
	return newShare(apart[0], apart[0]+apart[1]+apart[2]), apart
}

func (c *Comparison) byClass() {
	t, why := classify(c.Pairs, c.Scale)
	c.Table = t
	if why != "" {
		c.Raw = noShare(why)
		c.Kappa, c.Linear, c.Quadratic = undefined(why), undefined(why), undefined(why)
		return
	}
	c.Raw = newShare(t.Same(), t.Total())
	c.Kappa, c.Linear, c.Quadratic = t.Kappa(Unweighted), t.Kappa(Linear), t.Kappa(Quadratic)
}

// alike counts the pairs of other strips and times, and sums up the others.
func (c *Comparison) alike() {
	apart := 0
	for _, p := range c.Pairs {
		if p.Open() {
			c.Open++
		}
		switch d := p.Difference(); {
		case d > 0:
			c.Higher[0]++
		case d < 0:
			c.Higher[1]++
		}
		if p.OtherStrip {
			c.OtherStrip++
		}
		if p.OtherTime {
			c.OtherTime++
		}
		if p.OtherStrip || p.OtherTime {
			apart++
		}
	}
	if apart == 0 || apart == len(c.Pairs) {
		return
	}
	var same []Pair
	for _, p := range c.Pairs {
		if !p.OtherStrip && !p.OtherTime {
			same = append(same, p)
		}
	}
	c.Alike = &Alike{Pairs: len(same), Opposite: c.Opposite, Within: c.Within}
	if c.Limit != nil {
		c.Alike.Opposite, _ = countSides(same)
	}
	if c.Scale != nil {
		c.Alike.Within, _ = countSteps(same)
	}
	l, m := inUnit(same, c.Scale)
	c.Alike.Bias, c.Alike.Log = l.Bias, m.Log
}
