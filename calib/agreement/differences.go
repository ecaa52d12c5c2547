package agreement

import (
	"math"

	"padband/charts"
)

// Method says how the differences were taken and summed up.
type Method struct {
	// Log: the figures are ratios, first reader over second, because the spread
	// of the differences grows with the level and that of their logarithms does not.
	Log bool
	// Ranks: the figures are the median and the 2.5 and 97.5 % points, because the
	// differences are far from normal.
	Ranks bool
	// Growth is the rank correlation between the size of the differences and the
	// level; Straight the squared correlation of the differences with a normal's.
	Growth, Straight float64
	// Zeros: the spread grows with the level, but ratios cannot be taken because a
	// call is 0.
	Zeros bool
}

// observed are the calls of one pair as numbers.
type observed [2][]float64

// numbers are the calls of the pairs that have numbers.
func numbers(pairs []Pair, f func(*Call) float64) (out []observed) {
	for _, p := range pairs {
		var o observed
		for k := range 2 {
			for _, c := range p.Calls[k] {
				o[k] = append(o[k], f(c))
			}
		}
		if !math.IsNaN(sumOf(o[0]) + sumOf(o[1])) {
			out = append(out, o)
		}
	}
	return out
}

func sumOf(x []float64) (s float64) {
	for _, v := range x {
		s += v
	}
	return s
}

// inUnit sums the differences up in the calls' own unit, choosing the method.
func inUnit(pairs []Pair, a *charts.Analyte) (LimitsOfAgreement, Method) {
	o := numbers(pairs, func(c *Call) float64 { return number(c.Value, a) })
	d, level, r := summed(o)
	m := Method{Straight: 1}
	rho, p := growth(d, level)
	m.Growth = rho
	if p < doubtful {
		if logs, ok := logarithms(o); ok {
			dl, ll, rl := summed(logs)
			if _, pl := growth(dl, ll); pl >= doubtful {
				m.Log = true
				d, r = dl, rl
			}
		} else {
			m.Zeros = true
		}
	}
	l := m.limits(d, r)
	if m.Log {
		l = l.ratios()
	}
	return l, m
}

// inSteps is the same in swatch steps, without logarithms: a chart's steps
// already grow with the level.
func inSteps(pairs []Pair, a *charts.Analyte) (LimitsOfAgreement, Method) {
	d, _, r := summed(numbers(pairs, func(c *Call) float64 { return step(c.Value, a) }))
	m := Method{Straight: 1}
	return m.limits(d, r), m
}

// limits sums differences up by the normal or by ranks.
func (m *Method) limits(d []float64, r repeats) LimitsOfAgreement {
	m.Straight, _ = straightness(d)
	m.Ranks = farFromNormal(d)
	if m.Ranks {
		return rankLimits(d)
	}
	return normalLimits(d, r)
}

// logarithms are the natural logarithms of all calls, if all are over 0.
func logarithms(in []observed) (out []observed, ok bool) {
	for _, o := range in {
		var l observed
		for k := range 2 {
			for _, v := range o[k] {
				if !(v > 0) {
					return nil, false
				}
				l[k] = append(l[k], math.Log(v))
			}
		}
		out = append(out, l)
	}
	return out, true
}

// ratios turns figures of logarithms into ratios.
func (l LimitsOfAgreement) ratios() LimitsOfAgreement {
	for _, e := range []*Estimate{&l.Bias, &l.Low, &l.High} {
		e.Value, e.Low, e.High = math.Exp(e.Value), math.Exp(e.Low), math.Exp(e.High)
	}
	l.Spread = math.Exp(l.Spread)
	return l
}

// summed returns the differences of the readers' means, the level of each pair,
// and what the repeated calls tell.
func summed(o []observed) (d, level []float64, r repeats) {
	for _, x := range o {
		var m [2]float64
		for k := range 2 {
			n := float64(len(x[k]))
			m[k] = sumOf(x[k]) / n
			r.inverse[k] += 1 / n / float64(len(o))
			r.freedom[k] += n - 1
			for _, v := range x[k] {
				r.variance[k] += (v - m[k]) * (v - m[k])
			}
		}
		d, level = append(d, m[0]-m[1]), append(level, (m[0]+m[1])/2)
	}
	for k := range 2 {
		r.variance[k] /= r.freedom[k] // NaN without repeats, and not used then
	}
	return d, level, r
}

// Repeat is how well a reader repeats a call of one sample.
type Repeat struct {
	Spread  float64 // standard deviation within a sample; NaN where no sample is repeated
	Samples int     // with two calls or more
	// Within is the repeatability coefficient, 1.96 √2 times Spread, which 95 in 100
	// differences of two calls stay within (Bland and Altman 1999, section 5).
	Within Estimate
}

// repeatability is each reader's, in the calls' unit.
func repeatability(pairs []Pair, a *charts.Analyte) (out [2]Repeat) {
	o := numbers(pairs, func(c *Call) float64 { return number(c.Value, a) })
	_, _, r := summed(o)
	for k := range 2 {
		for _, x := range o {
			if len(x[k]) > 1 {
				out[k].Samples++
			}
		}
		out[k].Spread = math.Sqrt(r.variance[k])
		out[k].Within = repeatInterval(out[k].Spread, r.freedom[k])
	}
	return out
}

func repeatInterval(spread, freedom float64) Estimate {
	at := Factor * math.Sqrt2 * spread
	switch {
	case !(freedom > 0):
		return undefined("not defined: no sample is called twice by this reader")
	case spread == 0:
		return bare(0, "no interval: every call is repeated exactly")
	}
	low, high := spreadReach(freedom)
	return Estimate{Value: at, Low: at * low, High: at * high}
}

// errorsOf are a reader's errors where the true value is known.
func errorsOf(pairs []Pair, k int) LimitsOfAgreement {
	var d []float64
	for _, p := range pairs {
		if e := p.Value[k] - p.Reference; !math.IsNaN(e) {
			d = append(d, e)
		}
	}
	if len(d) == 0 {
		return normalLimits(nil, repeats{})
	}
	m := Method{}
	return m.limits(d, repeats{})
}
