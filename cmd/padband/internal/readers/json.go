package readers

import (
	"encoding/json"

	"padband/calib/agreement"
	"padband/calib/reading"
)

// comparison is two readers compared as the JSON holds them.
type comparison struct {
	Format       int       `json:"format"`
	Readers      [2]string `json:"readers"`
	Analyte      string    `json:"analyte"`
	Unit         string    `json:"unit"`
	As           string    `json:"as,omitempty"`
	Pairs        int       `json:"pairs"`
	LeftOut      []leftOut `json:"left_out"`
	LeftOutCount int       `json:"left_out_count"`
	// What limits the figures.
	OpenEnded  int `json:"open_ended"`
	OtherStrip int `json:"other_strip"`
	OtherTime  int `json:"other_time"`
	// Against the limit; null without one.
	Limit     *comparedLimit `json:"limit"`
	Opposite  *shareJSON     `json:"opposite_sides_of_limit"`
	Undecided int            `json:"side_of_limit_unknown"`
	Higher    [2]int         `json:"higher"`
	// The differences, in the calls' unit.
	Method methodJSON     `json:"method"`
	Bias   *interval      `json:"bias"`
	Spread reading.Figure `json:"spread"`
	Limits *limitsJSON    `json:"limits_of_agreement"`
	// Swatch steps and classes; null without a chart.
	Steps     *stepsJSON   `json:"steps"`
	WithinOne *shareJSON   `json:"within_one_step"`
	Table     *tableJSON   `json:"table"`
	Raw       *shareJSON   `json:"raw_agreement"`
	Kappa     *interval    `json:"kappa"`
	Weighted  weightedJSON `json:"weighted_kappa"`
	// What only some files of calls can tell; null in the others.
	Repeat    [2]*repeatJSON `json:"repeatability"`
	Reference [2]*errorJSON  `json:"reference_errors"`
	More      *needJSON      `json:"samples_needed"`
	Alike     *alikeJSON     `json:"one_strip_one_time"`
	Sources   [2][]string    `json:"sources"`
	// The decision, and the reasons for what is null.
	Code       string            `json:"verdict_code"`
	Verdict    string            `json:"verdict"`
	NotDefined map[string]string `json:"not_defined"`
	Program    reading.Program   `json:"program"`
}

// leftOut is a row of the files that no figure uses, and why.
type leftOut struct {
	Row int    `json:"row"`
	Why string `json:"why"`
}

// comparedLimit is the limit that the calls were held against.
type comparedLimit struct {
	Text string         `json:"text"`
	By   string         `json:"authority,omitempty"`
	Low  reading.Figure `json:"low"`
	High reading.Figure `json:"high"`
}

// shareJSON is a count of samples out of all, with the interval of its share.
type shareJSON struct {
	Count int            `json:"count"`
	Of    int            `json:"of"`
	Low   reading.Figure `json:"low"`
	High  reading.Figure `json:"high"`
}

// interval is a figure with its interval; a null end is open or not defined.
type interval struct {
	Value reading.Figure `json:"value"`
	Low   reading.Figure `json:"low"`
	High  reading.Figure `json:"high"`
	Error reading.Figure `json:"standard_error"`
}

// methodJSON says how the differences were taken and the limits of agreement found.
type methodJSON struct {
	Differences string `json:"differences"` // "difference" or "ratio"
	Limits      string `json:"limits"`      // "normal" or "ranks"
	Why         string `json:"why"`
}

// limitsJSON are the limits of agreement.
type limitsJSON struct {
	Factor reading.Figure `json:"factor"` // null by ranks
	Low    *interval      `json:"low"`
	High   *interval      `json:"high"`
}

// stepsJSON are the differences in swatch steps, which need a chart.
type stepsJSON struct {
	Bias   *interval      `json:"bias"`
	Limits *limitsJSON    `json:"limits_of_agreement"`
	Apart  [3]int         `json:"up_to_one_two_more"`
	Parts  reading.Figure `json:"part_most_near"`
}

// tableJSON counts how often each pair of classes was called; empty classes are left out.
type tableJSON struct {
	Labels []string `json:"labels"`
	Counts [][]int  `json:"counts"`
}

// weightedJSON are the weighted kappas.
type weightedJSON struct {
	Linear    *interval `json:"linear"`
	Quadratic *interval `json:"quadratic"`
}

// repeatJSON is how near one reader's calls of one sample are to each other.
type repeatJSON struct {
	Samples int            `json:"samples"`
	Spread  reading.Figure `json:"spread"`
	Within  *interval      `json:"coefficient"`
}

// errorJSON is how far a reader is from the reference values.
type errorJSON struct {
	Samples int         `json:"samples"`
	Bias    *interval   `json:"bias"`
	Limits  *limitsJSON `json:"limits"`
}

// needJSON is how many samples would tell the limits of agreement as well as was asked.
type needJSON struct {
	Known  reading.Figure `json:"known_to"`
	Wanted reading.Figure `json:"wanted"`
	Total  int            `json:"samples"`
	More   int            `json:"more"`
}

// alikeJSON is what holds of those samples that both called on one strip at one time.
type alikeJSON struct {
	Pairs     int        `json:"pairs"`
	Opposite  *shareJSON `json:"opposite_sides_of_limit"`
	WithinOne *shareJSON `json:"within_one_step"`
	Bias      *interval  `json:"bias"`
}

// notDefined gathers why figures are null, by their names.
type notDefined map[string]string

// estimate is a figure with its interval; nil, and the reason kept, when it is not defined.
func (n notDefined) estimate(name string, e agreement.Estimate) *interval {
	if !e.Defined() {
		n[name] = e.Why
		return nil
	}
	if e.Why != "" {
		n[name+" interval"] = e.Why
	}
	se := reading.Missing
	if e.Error > 0 {
		se = reading.Figure(e.Error)
	}
	return &interval{reading.Figure(e.Value), reading.Figure(e.Low), reading.Figure(e.High), se}
}

// share is a count with its interval; nil, and the reason kept, when it is not defined.
func (n notDefined) share(name string, s agreement.Proportion) *shareJSON {
	if !s.Defined() {
		n[name] = s.Why
		return nil
	}
	return &shareJSON{s.Count, s.Of, reading.Figure(s.Low), reading.Figure(s.High)}
}

// limits are limits of agreement; nil, and one reason kept, when neither is defined.
func (n notDefined) limits(name string, l agreement.LimitsOfAgreement, ranks bool) *limitsJSON {
	out := limitsJSON{reading.Figure(agreement.Factor), n.estimate(name+".low", l.Low), n.estimate(name+".high", l.High)}
	if ranks {
		out.Factor = reading.Missing
	}
	if out.Low == nil && out.High == nil {
		n[name] = l.Low.Why
		delete(n, name+".low")
		delete(n, name+".high")
		return nil
	}
	return &out
}

// JSON returns two readers compared as one line of JSON without its line
// break. Differences are the first reader minus the second, or, on a log scale,
// ratios. A figure that is not defined is null, with its reason in not_defined.
// The error means a fault of this program.
func JSON(c agreement.Comparison, version string) ([]byte, error) {
	return json.Marshal(newComparison(c, version))
}

// newComparison is the document of a comparison, with a reason for each null in it.
func newComparison(c agreement.Comparison, version string) comparison {
	n := notDefined{}
	out := comparison{
		Format: reading.Format, Readers: c.Readers, Analyte: c.Analyte, Unit: c.Unit, As: c.As, Pairs: len(c.Pairs),
		LeftOut: []leftOut{}, LeftOutCount: c.LeftCount,
		OpenEnded: c.Open, OtherStrip: c.OtherStrip, OtherTime: c.OtherTime,
		Opposite: n.share("opposite_sides_of_limit", c.Opposite), Undecided: c.Undecided, Higher: c.Higher,
		Method: newMethod(c), Bias: n.estimate("bias", c.Differences.Bias), Spread: reading.Figure(c.Differences.Spread),
		Limits: n.limits("limits_of_agreement", c.Differences, c.Method.Ranks), Steps: newStepsJSON(n, c),
		WithinOne: n.share("within_one_step", c.Within),
		Raw:       n.share("raw_agreement", c.Raw), Kappa: n.estimate("kappa", c.Kappa),
		Weighted: weightedJSON{n.estimate("weighted_kappa.linear", c.Linear), n.estimate("weighted_kappa.quadratic", c.Quadratic)},
		Code:     string(c.Verdict), Verdict: decide(c)[0], NotDefined: n, Program: reading.ProgramOf(version),
	}
	for _, l := range c.Left {
		out.LeftOut = append(out.LeftOut, leftOut{l.Row, l.Why})
	}
	if c.Limit != nil {
		out.Limit = &comparedLimit{c.Limit.Name, c.Limit.Whose, reading.Figure(c.Limit.Low), reading.Figure(c.Limit.High)}
	}
	if s := newSquare(c.Table); s != nil {
		out.Table = &tableJSON{s.Labels, s.Counts}
	}
	out.further(n, c)
	for k := range 2 {
		out.Sources[k] = append([]string{}, c.Sources[k]...)
	}
	return out
}

// further adds what only some comparisons have.
func (out *comparison) further(n notDefined, c agreement.Comparison) {
	for k := range 2 {
		if r := c.Repeats[k]; r.Samples > 0 {
			out.Repeat[k] = &repeatJSON{r.Samples, reading.Figure(r.Spread), n.estimate("repeatability", r.Within)}
		}
		if e := c.Errors[k]; e.N > 0 {
			out.Reference[k] = &errorJSON{e.N, n.estimate("reference_errors.bias", e.Bias), n.limits("reference_errors.limits", e, false)}
		}
	}
	if c.Need.Total > 0 {
		out.More = &needJSON{reading.Figure(c.Need.Known), reading.Figure(c.Need.Wanted), c.Need.Total, c.Need.More}
	}
	if a := c.Alike; a != nil {
		out.Alike = &alikeJSON{a.Pairs, n.share("opposite_sides_of_limit", a.Opposite),
			n.share("within_one_step", a.Within), n.estimate("one_strip_one_time.bias", a.Bias)}
	}
}

// newMethod says in fixed words which method was taken, and in a sentence why.
func newMethod(c agreement.Comparison) methodJSON {
	m := methodJSON{Differences: "difference", Limits: "normal", Why: howTaken(c)}
	if c.Method.Log {
		m.Differences = "ratio"
	}
	if c.Method.Ranks {
		m.Limits = "ranks"
	}
	return m
}

// newStepsJSON are the differences in steps; nil, and the reason kept, without a chart.
func newStepsJSON(n notDefined, c agreement.Comparison) *stepsJSON {
	if c.Scale == nil {
		n["steps"] = c.Steps.Bias.Why
		return nil
	}
	s := &stepsJSON{Bias: n.estimate("steps.bias", c.Steps.Bias), Limits: n.limits("steps.limits_of_agreement", c.Steps,
		c.StepMethod.Ranks), Apart: c.Apart, Parts: reading.Missing}
	if i := c.Parting(); i >= 0 {
		s.Parts = reading.Figure(c.Regions[i].Swatch)
	}
	return s
}
