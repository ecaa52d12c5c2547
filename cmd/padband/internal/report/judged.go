package report

import (
	"math"
	"strings"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// Judgement is what a reading means against a limit, as the JSON file holds it.
type Judgement struct {
	Limit Limit  `json:"limit"`
	Value number `json:"value"` // the reading in the limit's unit
	// Over, or Outside of a limit with two sides, is null where the chart's end
	// leaves it open; Between then holds its least and its most.
	Over      *number      `json:"probability_over,omitempty"`
	Outside   *number      `json:"probability_outside,omitempty"`
	Between   *[2]number   `json:"probability_between,omitempty"`
	Guard     number       `json:"guard"`
	Verdict   *string      `json:"verdict"` // null where none is given
	ReadsOnly string       `json:"reads,omitempty"`
	Reason    string       `json:"reason,omitempty"`
	RestsOn   string       `json:"rests_on,omitempty"`
	Classes   []ClassShare `json:"classes,omitempty"`
	Words     []string     `json:"words"`
	Next      []string     `json:"next"`

	limitText string
}

// Limit is the limit of a judgement.
type Limit struct {
	Authority string  `json:"authority"`
	Year      int     `json:"year,omitempty"`
	Clause    string  `json:"clause,omitempty"`
	Value     *number `json:"value,omitempty"`
	Low       *number `json:"low,omitempty"`
	High      *number `json:"high,omitempty"`
	Unit      string  `json:"unit"`
	As        string  `json:"as,omitempty"`
	Kind      string  `json:"kind"`
	Basis     string  `json:"basis"`
	Yardstick bool    `json:"yardstick_on_private_well,omitempty"`
}

// ClassShare is the probability of a class.
type ClassShare struct {
	Class   string    `json:"class"`
	Between [2]number `json:"probability_between"`
}

// Converted is a reading in another unit.
type Converted struct {
	Unit      string `json:"unit"`
	As        string `json:"as,omitempty"`
	Value     number `json:"value"`
	Band      *Band  `json:"band"`
	WaterBand *Band  `json:"water_band"`
}

// noLimit is said where limits were asked for and none is for the pad.
const noLimit = "Not set against a limit: none of those asked for is for this pad."

// Undiluted is a reading of mixed water as one of the water before; without
// figures where mixing says nothing of it, and then the reason.
type Undiluted struct {
	Dilution  string `json:"dilution"`
	Value     number `json:"value"`
	Band      *Band  `json:"band"`
	WaterBand *Band  `json:"water_band"`
	Refused   string `json:"refused,omitempty"`
}

// Standard is a strip of known water beside a reading.
type Standard struct {
	Photo       string `json:"photo"`
	Known       number `json:"known"`
	Unit        string `json:"unit"`
	As          string `json:"as,omitempty"`
	Value       number `json:"value"`
	Band        *Band  `json:"band"`
	WaterBand   *Band  `json:"water_band"`
	Reliability string `json:"reliability"`
	Holds       bool   `json:"water_band_holds_it"`
}

// Sum is the judgement by a rule about several analytes together.
type Sum struct {
	Sum       string    `json:"sum"`
	Judgement Judgement `json:"judgement"`
}

// sumName names what a rule adds: "nitrate + nitrite".
func sumName(j calib.Judgement) string {
	var names []string
	for _, s := range j.Limit.Sum {
		names = append(names, s.Analyte)
	}
	return strings.Join(names, " + ")
}

// meaning adds to a reading what it means.
func (r Reading) meaning(m strip.Meaning) Reading {
	for _, c := range m.Standards {
		x := c.Reading
		r.Standards = append(r.Standards, Standard{c.Photo, number(c.Value), r.Unit, r.As, number(x.Value), band(x.Band), band(x.WaterBand), string(x.Reliability), c.Holds})
	}
	if m.NoLimit {
		r.NoLimit = noLimit
	}
	if m.Dilution != "" {
		r.Undiluted = &Undiluted{Dilution: m.Dilution, Value: lines.Missing, Refused: m.Refused}
	}
	if u := m.Undiluted; u != nil {
		r.Undiluted.Value, r.Undiluted.Band, r.Undiluted.WaterBand = number(u.Value), band(u.Band), band(u.WaterBand)
	}
	for _, c := range m.Converted {
		r.InUnits = append(r.InUnits, Converted{c.Unit.Name, c.Unit.As, number(c.Value), band(c.Band), band(c.WaterBand)})
	}
	for i, j := range m.Judgements {
		one := newJudgement(j)
		if i == 0 {
			r.Judgement = &one
			continue
		}
		r.Further = append(r.Further, one)
	}
	return r
}

func newJudgement(j calib.Judgement) Judgement {
	out := Judgement{limitText: j.Limit.Text() + " (" + j.Limit.Whose() + ")", Limit: newLimit(j.Limit), Value: number(j.Value), Guard: number(j.Guard), Reason: j.Reason, RestsOn: j.RestsOn, Words: j.Words, Next: j.Next}
	if out.Next == nil {
		out.Next = []string{}
	}
	if j.Verdict != calib.VerdictNone {
		v := string(j.Verdict)
		out.Verdict = &v
	}
	if j.ReadsBelow {
		out.ReadsOnly = "below"
	}
	for _, c := range j.Classes {
		out.Classes = append(out.Classes, ClassShare{c.Name, [2]number{number(c.Chance.AtLeast), number(c.Chance.AtMost)}})
	}
	if len(j.Classes) > 0 {
		return out
	}
	p := number(j.Probability)
	if j.Limit.TwoSided() {
		out.Outside = &p
	} else {
		out.Over = &p
	}
	if math.IsNaN(j.Probability) && j.Verdict != calib.VerdictNone && j.Over != (calib.Chance{AtLeast: 0, AtMost: 1}) {
		out.Between = &[2]number{number(j.Over.AtLeast), number(j.Over.AtMost)}
	}
	return out
}

func newLimit(l charts.Limit) Limit {
	out := Limit{Authority: l.Authority, Year: l.Year, Clause: l.Clause, Unit: l.Unit.Name, As: l.Unit.As, Kind: string(l.Kind), Basis: string(l.Basis), Yardstick: l.PublicSupply}
	value := func(v float64) *number { n := number(v); return &n }
	switch {
	case l.TwoSided():
		out.Low, out.High = value(l.Low), value(l.High)
	case len(l.Classes) == 0:
		out.Value = value(l.Value)
	}
	return out
}

// summed is what several analytes mean together, in words.
type summed struct {
	Head   string
	Judged []against
	Next   []string
}

func sumsOf(s Source) (out []summed) {
	for _, j := range s.Sums {
		js := judgedWords([]calib.Judgement{j})
		out = append(out, summed{lines.UpperFirst(lines.OneLine(sumName(j))) + ", together", js, nextOf(js)})
	}
	return out
}

// against is one judgement in words: what it says, and what to do.
type against struct {
	Verdict string // the sentence with the verdict
	Grounds string // what it rests on, and what would settle it; may be empty
	Next    []string
}

// judgedWords puts judgements in words. What to do is said once, with the first
// that says it.
func judgedWords(js []calib.Judgement) (out []against) {
	seen := map[string]bool{}
	for _, j := range js {
		var a against
		if len(j.Words) > 0 {
			a.Verdict, a.Grounds = lines.OneLine(j.Words[0]), lines.OneLine(strings.Join(j.Words[1:], " "))
		}
		for _, n := range j.Next {
			if !seen[n] {
				seen[n] = true
				a.Next = append(a.Next, lines.OneLine(n))
			}
		}
		out = append(out, a)
	}
	return out
}

// nextOf is all that is to be done.
func nextOf(as []against) (out []string) {
	for _, a := range as {
		out = append(out, a.Next...)
	}
	return out
}
