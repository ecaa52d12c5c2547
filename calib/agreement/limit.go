package agreement

import (
	"math"
	"slices"
)

// Allowed is what a limit lets the water hold: from Low to High, both allowed, in
// the calls' unit; a side without a limit is infinite.
type Allowed struct {
	Low, High float64
	Name      string // as it is printed: "10 mg/L as N"
	Whose     string // who set it and where; empty when it was typed
}

// Side is where a call puts the water against a limit.
type Side int

// Sides. Unknown is a range or an open-ended call that reaches over the limit.
const (
	Unknown Side = iota
	Under        // below the limit's low end
	Inside
	Over // above its high end
)

// Side returns the side of a call. What equals the limit keeps to it.
func (l Allowed) Side(v Value) Side {
	over := v.Low > l.High || v.Low == l.High && math.IsInf(v.High, 1) && !v.Reached
	under := v.High < l.Low || v.High == l.Low && math.IsInf(v.Low, -1) && !v.Reached
	switch {
	case over:
		return Over
	case under:
		return Under
	case v.Low >= l.Low && v.High <= l.High:
		return Inside
	}
	return Unknown
}

// sideOf is the side that all of a reader's calls agree on.
func (l Allowed) sideOf(calls []*Call) Side {
	s := l.Side(calls[0].Value)
	if slices.ContainsFunc(calls, func(c *Call) bool { return l.Side(c.Value) != s }) {
		return Unknown
	}
	return s
}

// sides puts the sides into the pairs, and counts those on opposite ones and
// those that cannot be told.
func (l Allowed) sides(pairs []Pair) (opposite Proportion, undecided int) {
	for i := range pairs {
		for k := range 2 {
			pairs[i].Side[k] = l.sideOf(pairs[i].Calls[k])
		}
	}
	return countSides(pairs)
}

// Opposite reports whether the readers put the sample on different sides.
func (p Pair) Opposite() bool {
	return p.Side[0] != Unknown && p.Side[1] != Unknown && p.Side[0] != p.Side[1]
}

func countSides(pairs []Pair) (opposite Proportion, undecided int) {
	n := 0
	for _, p := range pairs {
		switch {
		case p.Opposite():
			n++
		case p.Side[0] == Unknown || p.Side[1] == Unknown:
			undecided++
		}
	}
	return newShare(n, len(pairs)-undecided), undecided
}
