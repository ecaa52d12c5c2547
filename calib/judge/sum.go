package judge

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"padband/calib"
	"padband/charts"
	"padband/charts/limits"
)

// Sum sets several readings together against a rule about their sum (nitrate with
// nitrite). Their posteriors are folded, with the pads' errors taken as independent.
// There is no verdict where one of the pads was not read, says only yes or no, or
// answers to the other analytes too, nor where the chart does not say what it answers
// to.
func Sum(rs []calib.Reading, l limits.Limit, guard float64) Judgement {
	j := newJudgement(l, guard)
	chosen, reason := summands(rs, l)
	if reason != "" {
		return j.without(l.Analyte, reason)
	}
	var parts []worths
	all := chosen[0]
	all.Reliability, all.KitAssumed, all.Warnings = calib.Good, false, nil
	for i, s := range l.Sum {
		a, err := chosen[i].Analyte.In(s.Unit)
		if err != nil {
			return j.without(l.Analyte, "Not judged: "+err.Error()+".")
		}
		parts = append(parts, worthsOf(chosen[i].Water, a, s.Over))
		all.Reliability = all.Reliability.Worse(chosen[i].Reliability)
		all.KitAssumed = all.KitAssumed || chosen[i].KitAssumed
		all.Warnings = append(all.Warnings, chosen[i].Warnings...)
	}
	j.bands, j.kitAssumed = "water bands, the pads' errors taken as independent", all.KitAssumed
	j.RestsOn = j.rests()
	sum := parts[0].plus(parts[1])
	j.spread(sum)
	if all.Reliability == calib.Unreliable {
		j.Verdict, j.Reason = VerdictCannotTell, "One of the readings is not to be used."
	} else {
		j.Over = sum.over(l.Value)
		j.rule(all)
	}
	j.finish(all)
	return j
}

// summands finds the reading of each analyte of a sum, or says why they cannot
// be added.
func summands(rs []calib.Reading, l limits.Limit) ([]calib.Reading, string) {
	if len(l.Sum) != 2 {
		return nil, "The limit is not about a sum of two."
	}
	var out []calib.Reading
	for _, s := range l.Sum {
		i := slices.IndexFunc(rs, func(r calib.Reading) bool { return strings.EqualFold(r.Analyte.Name, s.Analyte) })
		if i < 0 {
			return nil, fmt.Sprintf("The rule adds %s and %s, and %s was not read.", l.Sum[0].Analyte, l.Sum[1].Analyte, s.Analyte)
		}
		r := rs[i]
		both, known := l.HeldBy(r.Analyte)
		switch {
		case r.Analyte.Kind == charts.KindPresence:
			return nil, fmt.Sprintf("The %s pad says yes or no only, which cannot be added.", s.Analyte)
		case both:
			return nil, fmt.Sprintf("The %s pad answers to both already, so adding would count one twice.", s.Analyte)
		case !known:
			return nil, fmt.Sprintf("The chart does not say what the %s pad answers to, so adding might count one twice.", s.Analyte)
		}
		out = append(out, r)
	}
	return out, ""
}

// worth is a share of probability over values: evenly from low to high or, for a place
// past an end of the chart, anywhere beyond that end.
type worth struct {
	low, high, mass float64
	open            bool
}

// worths is the distribution of a value, as the worth of each of its places.
type worths []worth

// worthsOf turns a posterior's places into values of the analyte, divided by a
// divisor.
func worthsOf(p calib.Posterior, a charts.Analyte, divisor float64) (out worths) {
	lowest := a.Swatches[0].Value / divisor
	highest := a.Swatches[len(a.Swatches)-1].Value / divisor
	for i, m := range p.Mass {
		t := p.Step(i)
		from, to := p.Cell(i)
		switch {
		case m < 1e-12:
		case t > p.Top:
			out = append(out, worth{highest, math.Inf(1), m, true})
		case t < 0:
			out = append(out, worth{0, lowest, m, true})
		default:
			out = append(out, worth{a.ValueAt(from) / divisor, a.ValueAt(to) / divisor, m, false})
		}
	}
	return out
}

// plus is the distribution of the sum of two independent values.
func (a worths) plus(b worths) worths {
	out := make(worths, 0, len(a)*len(b))
	for _, x := range a {
		for _, y := range b {
			out = append(out, worth{x.low + y.low, x.high + y.high, x.mass * y.mass, x.open || y.open})
		}
	}
	return out
}

// less is the distribution of the difference of two independent values.
func (a worths) less(b worths) worths {
	taken := make(worths, len(b))
	for i, w := range b {
		taken[i] = worth{-w.high, -w.low, w.mass, w.open}
	}
	return a.plus(taken)
}

// over is the chance that the value is more than a given one.
func (a worths) over(value float64) (c Chance) {
	for _, w := range a {
		share := 0.0
		if w.low >= value {
			share = 1
		} else if w.high > value && !w.open {
			share = (w.high - value) / (w.high - w.low)
		}
		c.AtLeast += w.mass * share
		if w.open && w.high > value {
			share = 1
		}
		c.AtMost += w.mass * share
	}
	return Chance{math.Min(1, c.AtLeast), math.Min(1, c.AtMost)}
}

// spread fills in the median and the 95 % interval of a sum.
func (j *Judgement) spread(all worths) {
	at := func(q float64) calib.Bound {
		sum := 0.0
		for _, w := range all {
			if sum += w.mass; sum >= q {
				if w.open {
					return calib.Bound{Value: w.low, Open: true}
				}
				return calib.Bound{Value: (w.low + w.high) / 2}
			}
		}
		return calib.Bound{Value: math.NaN(), Open: true}
	}
	key := func(w worth) float64 { return w.low + math.Min(w.high, 1e12) }
	sort.Slice(all, func(i, j int) bool { return key(all[i]) < key(all[j]) })
	j.Value, j.Low, j.High = at(0.5).Value, at((1-calib.Coverage)/2), at((1+calib.Coverage)/2)
}
