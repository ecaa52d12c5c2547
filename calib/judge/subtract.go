package judge

import (
	"math"
	"slices"

	"padband/calib"
)

// differences is the distribution of a difference, twice: as low and as high as the
// places past a chart's end allow. Without such places both are the same.
type differences struct{ low, high mixture }

// mixture is a sum of trapezoids, with the probability that lies at either infinity.
type mixture struct {
	parts       []trapezoid
	under, over float64
}

// trapezoid is the difference of two pieces. It is flat about its middle, up to the
// half width flat, and falls off evenly from there to the half width half.
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

// end is the end of a piece on the other side: of its upper end the lower one, and of
// its lower end the upper one. A piece past a chart, whose spread is unknown, gives
// the same end again.
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

// add adds the difference y - x of two pieces, each given by its two ends. Both ends
// are the same for a piece that is a single value, which may be infinite.
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

// under is the part of a trapezoid that lies below v, 0 to 1.
func (t trapezoid) under(v float64) float64 {
	u := v - t.middle
	switch {
	case u <= -t.half:
		if u == 0 { // with no width, half of it counts as below
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
		sum += t.mass * t.under(v)
	}
	return sum
}

// above is the probability of more than v.
func (m mixture) above(v float64) float64 { return math.Max(0, 1-m.below(v)) }

// quantile is the value below which the probability q lies. It is found by halving,
// exact to a part in 10^12 of the reach, and infinite when it lies past a chart's end.
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

// median is the middle of the differences, NaN when what lies past a chart's end moves
// it by more than a twentieth of the band.
func (d differences) median(b calib.Band) float64 {
	low, high := d.low.quantile(0.5), d.high.quantile(0.5)
	if high-low <= 0.05*(b.High.Value-b.Low.Value) { // fails for infinities
		return (low + high) / 2
	}
	return math.NaN()
}

// band is the interval that has at least the coverage of a band, whatever lies past
// the charts' ends. An open end has the least or greatest difference of the charts as
// its value, for drawing.
func (d differences) band() calib.Band {
	lo, hi := d.low.quantile((1-calib.Coverage)/2), d.high.quantile((1+calib.Coverage)/2)
	b := calib.Band{Coverage: calib.Coverage, Low: calib.Bound{Value: lo}, High: calib.Bound{Value: hi}}
	if math.IsInf(lo, -1) {
		b.Low = calib.Bound{Value: d.least(), Open: true}
	}
	if math.IsInf(hi, 1) {
		b.High = calib.Bound{Value: d.greatest(), Open: true}
	}
	return b
}

// least is the least finite difference of the charts; 0 where there is none.
func (d differences) least() float64 {
	least := math.Inf(1)
	for _, t := range d.finite() {
		least = math.Min(least, t.middle-t.half)
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// greatest is the greatest finite difference of the charts; 0 where there is none.
func (d differences) greatest() float64 {
	greatest := math.Inf(-1)
	for _, t := range d.finite() {
		greatest = math.Max(greatest, t.middle+t.half)
	}
	if math.IsInf(greatest, -1) {
		return 0
	}
	return greatest
}

// finite are the parts of both mixtures, none of them past a chart's end.
func (d differences) finite() []trapezoid { return slices.Concat(d.low.parts, d.high.parts) }
