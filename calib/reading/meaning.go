package reading

import (
	"math"

	"padband/calib/judge"
	"padband/calib/strip"
	"padband/charts/limits"
)

// NoLimit is said where limits were asked for and none is for the pad.
const NoLimit = "Not set against a limit: none of those asked for is for this pad."

// meaning adds to a reading what it means.
func (r Reading) meaning(m strip.Meaning) Reading {
	for _, c := range m.Standards {
		x := c.Reading
		r.Standards = append(r.Standards, Standard{c.Photo, Figure(c.Value), r.Unit, r.As, Figure(x.Value), BandOf(x.Band), BandOf(x.WaterBand), string(x.Reliability), c.Holds})
	}
	if m.NoLimit {
		r.NoLimit = NoLimit
	}
	if m.Dilution != "" {
		r.Undiluted = &Undiluted{Dilution: m.Dilution, Value: Missing, Refused: m.Refused}
	}
	if u := m.Undiluted; u != nil {
		r.Undiluted.Value, r.Undiluted.Band, r.Undiluted.WaterBand = Figure(u.Value), BandOf(u.Band), BandOf(u.WaterBand)
	}
	for _, c := range m.Converted {
		r.InUnits = append(r.InUnits, Converted{c.Unit.Name, c.Unit.As, Figure(c.Value), BandOf(c.Band), BandOf(c.WaterBand)})
	}
	for i, j := range m.Judgements {
		one := judgement(j)
		if i == 0 {
			r.Judgement = &one
			continue
		}
		r.Further = append(r.Further, one)
	}
	return r
}

func judgement(j judge.Judgement) Judgement {
	out := Judgement{Limit: limitOf(j.Limit), Value: Figure(j.Value), Guard: Figure(j.Guard), Reason: j.Reason, RestsOn: j.RestsOn, Words: j.Words, Next: j.Next}
	if out.Next == nil {
		out.Next = []string{}
	}
	if j.Verdict != judge.VerdictNone {
		v := string(j.Verdict)
		out.Verdict = &v
	}
	if j.ReadsBelow {
		out.ReadsOnly = "below"
	}
	for _, c := range j.Classes {
		out.Classes = append(out.Classes, ClassShare{c.Name, [2]Figure{Figure(c.Chance.AtLeast), Figure(c.Chance.AtMost)}})
	}
	if len(j.Classes) > 0 {
		return out
	}
	if j.Limit.TwoSided() {
		out.Outside = given(j.Probability)
	} else {
		out.Over = given(j.Probability)
	}
	if math.IsNaN(j.Probability) && j.Verdict != judge.VerdictNone && j.Over != (judge.Chance{AtLeast: 0, AtMost: 1}) {
		out.Between = &[2]Figure{Figure(j.Over.AtLeast), Figure(j.Over.AtMost)}
	}
	return out
}

func limitOf(l limits.Limit) Limit {
	out := Limit{Authority: l.Authority, Year: l.Year, Clause: l.Clause, Unit: l.Unit.Name, As: l.Unit.As, Kind: l.Kind, Basis: l.Basis, Yardstick: l.PublicSupply}
	switch {
	case l.TwoSided():
		out.Low, out.High = given(l.Low), given(l.High)
	case len(l.Classes) == 0:
		out.Value = given(l.Value)
	}
	return out
}
