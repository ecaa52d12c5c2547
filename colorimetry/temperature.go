package colorimetry

import (
	"math"
	"sync"
)

// Where a correlated colour temperature means something.
const (
	MinKelvin = 1000.0
	MaxKelvin = 25000.0
	MaxDuv    = 0.05 // CIE 15:2018, 9.5: farther off, light has no colour temperature
)

// Temperature returns the correlated colour temperature: that of the nearest
// place of the Planckian locus in CIE 1960 u, v (CIE 15:2018, 9.5), found by
// exact search with c2 = 1.4388e-2 m K, and the distance duv from there, above
// zero on the green side of the locus and below zero on the pink. On the 27
// CIE lamps it agrees with sums by 1 nm to 0.1 K and 6e-6 in duv.
// ok is false, and both are then NaN, for a colour beyond [MinKelvin],
// [MaxKelvin] or [MaxDuv], or one that is not finite.
func (c Chromaticity) Temperature() (kelvin, duv float64, ok bool) {
	p := c.UV()
	if !finite(p.U, p.V) {
		return math.NaN(), math.NaN(), false
	}
	mired := nearestMired(p)
	kelvin = 1e6 / mired
	q := Planckian(kelvin)
	duv = math.Copysign(p.distance(q), p.V-q.V)
	const rounding = 1e-6 // the ends of the range belong to it
	if kelvin < MinKelvin*(1-rounding) || kelvin > MaxKelvin*(1+rounding) || math.Abs(duv) > MaxDuv {
		return math.NaN(), math.NaN(), false
	}
	return kelvin, duv, true
}

func (c UV) distance(d UV) float64 { return math.Hypot(c.U-d.U, c.V-d.V) }

// The locus is searched in reciprocal megakelvin, over which it runs evenly,
// from a little beyond one end of the range to a little beyond the other.
const (
	miredFrom = 35.0 // 28571 K
	miredTo   = 1030 // 971 K
	miredStep = 5
)

// locusTable holds the locus at every step of the search, worked out at first use.
var locusTable = sync.OnceValue(func() []UV {
	var table []UV
	for m := miredFrom; m <= miredTo; m += miredStep {
		table = append(table, Planckian(1e6/m))
	}
	return table
})

// nearestMired returns the reciprocal megakelvin of the place of the locus
// nearest to p: the best step of the table, then golden sections between its
// neighbours.
func nearestMired(p UV) float64 {
	best, least := 0, math.Inf(1)
	for i, q := range locusTable() {
		if d := p.distance(q); d < least {
			best, least = i, d
		}
	}
	from := miredFrom + miredStep*float64(best-1)
	to := from + 2*miredStep
	const golden = 0.6180339887498949
	a, b := to-golden*(to-from), from+golden*(to-from)
	fa, fb := p.distance(Planckian(1e6/a)), p.distance(Planckian(1e6/b))
	for to-from > 1e-6 {
		if fa < fb {
			to, b, fb = b, a, fa
			a = to - golden*(to-from)
			fa = p.distance(Planckian(1e6 / a))
		} else {
			from, a, fa = a, b, fb
			b = from + golden*(to-from)
			fb = p.distance(Planckian(1e6 / b))
		}
	}
	return (from + to) / 2
}
