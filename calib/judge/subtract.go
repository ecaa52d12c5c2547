package judge

import (
	"math"

	"padband/calib"
)

// differences is the distribution of a difference, as low and as high as what
// lies past a chart's end lets it be. Without such both are the same.
type differences struct{ low, high mixture }

// mixture is a sum of trapezoids, and what lies at either infinity.
type mixture struct {
	parts       []trapezoid
	under, over float64
}

// trapezoid is the difference of two pieces: from its middle it falls off
// evenly between the flat part's half width and its own.
type trapezoid struct{ middle, flat, half, mass float64 }

// subtract gives the distribution of b - a for independent a and b.
func subtract(a, b []piece) differences {
	var d differences
	for _, x := range a {
		for _, y := range b {
			d.low.add(x.to, x.end(true), y.from, y.end(false), x.mass*y.mass)
			d.high.add(x.from, x.end(false), y.to, y.end(true), x.mass*y.mass)
		}
	}
	return d
}

// end is the other end of a piece, seen from its upper or its lower one: for one
// past a chart, whose spread is unknown, the same end.
func (p piece) end(upper bool) float64 {
	switch {
	case math.IsInf(p.from, 0) || math.IsInf(p.to, 0):
		if upper {
			return p.to
		}
		return p.from
	case upper:
		return p.from
	}
	return p.to
}

// add adds the difference y - x of two pieces, each given by its two ends; both
// ends are alike for one that is a single, perhaps infinite, value.
func (m *mixture) add(x1, x2, y1, y2, mass float64) {
	middle := (y1+y2)/2 - (x1+x2)/2
	switch {
	case math.IsInf(middle, -1):
		m.under += mass
	case math.IsInf(middle, 1):
		m.over += mass
	default:
		wx, wy := math.Abs(x2-x1)/2, math.Abs(y2-y1)/2
		m.parts = append(m.parts, trapezoid{middle, math.Abs(wx - wy), wx + wy, mass})
	}
}

// share is the part of a trapezoid that lies below v, 0 to 1.
func (t trapezoid) share(v float64) float64 {
	u := v - t.middle
	switch {
	case u <= -t.half:
		if u == 0 { // no width: half of it counts as below
			return 0.5
		}
		return 0
	case u >= t.half:
		return 1
	}
	height := 1 / (t.flat + t.half)
	slope := t.half - t.flat
	tail := func(reach float64) float64 { return height * reach * reach / (2 * slope) } // the area beyond a place on the slope
	switch {
	case u < -t.flat:
		return tail(u + t.half)
	case u > t.flat:
		return 1 - tail(t.half-u)
	}
	return 0.5 + u*height
}

// below is the probability of less than v.
func (m mixture) below(v float64) float64 {
	sum := m.under
	for _, t := range m.parts {
		sum += t.mass * t.share(v)
	}
	return sum
}

// above is the probability of more than v.
func (m mixture) above(v float64) float64 { return math.Max(0, 1-m.below(v)) }

// quantile is the value below which the probability q lies, by halving: exact to
// a part in 10^12 of the reach; infinite when it lies past a chart's end.
func (m mixture) quantile(q float64) float64 {
	if m.under >= q {
		return math.Inf(-1)
	}
	if 1-m.over <= q {
		return math.Inf(1)
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, t := range m.parts {
		lo, hi = math.Min(lo, t.middle-t.half), math.Max(hi, t.middle+t.half)
	}
	for range 40 {
		mid := (lo + hi) / 2
		if m.below(mid) < q {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// median is NaN when what lies past a chart's end moves it by more than a
// twentieth of the band.
func (d differences) median(b calib.Band) float64 {
	low, high := d.low.quantile(0.5), d.high.quantile(0.5)
	if high-low <= 0.05*(b.High.Value-b.Low.Value) { // fails for infinities
		return (low + high) / 2
	}
	return math.NaN()
}

// band is the interval that covers at least what a band is made for, whatever
// lies past the charts' ends. The value of an open end is the least or greatest
// difference of the charts, for drawing.
func (d differences) band() calib.Band {
	lo, hi := d.low.quantile((1-calib.Coverage)/2), d.high.quantile((1+calib.Coverage)/2)
	b := calib.Band{Coverage: calib.Coverage, Low: calib.Bound{Value: lo}, High: calib.Bound{Value: hi}}
	if math.IsInf(lo, -1) {
		b.Low = calib.Bound{Value: d.end(-1), Open: true}
	}
	if math.IsInf(hi, 1) {
		b.High = calib.Bound{Value: d.end(1), Open: true}
	}
	return b
}

// end is the least (-1) or greatest (1) finite difference.
func (d differences) end(sign float64) float64 {
	most := math.Inf(-1)
	for _, m := range []mixture{d.low, d.high} {
		for _, t := range m.parts {
			most = math.Max(most, sign*t.middle+t.half)
		}
	}
	if math.IsInf(most, -1) {
		return 0
	}
	return sign * most
}
