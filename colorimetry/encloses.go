package colorimetry

import "slices"

// touching is how far, in pixels, rounding may put the edge of a region past
// that of the one which encloses it.
const touching = 1e-6

// Encloses reports whether the whole of another region lies in this one, edges
// included: a region encloses itself. A region that is not well formed encloses
// nothing and lies in none.
func (r Region) Encloses(s Region) bool {
	switch {
	case !r.wellFormed() || !s.wellFormed():
		return false
	case r.Shape == s.Shape && r.Radius == s.Radius && slices.Equal(r.Points, s.Points):
		return true
	case s.Shape == Circle:
		return r.DistanceInside(s.Points[0]) >= s.Radius-touching
	}
	corners := s.Outline()
	for i, b := range corners {
		if !r.holdsLine(corners[(i+len(corners)-1)%len(corners)], b) {
			return false
		}
	}
	return true
}

// holdsLine reports whether the line from a to b lies in the region, edges
// included: both ends do and, between the places where it meets the edge of a
// polygon, so does the middle of each piece.
func (r Region) holdsLine(a, b Point) bool {
	at := func(t float64) Point { return Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)} }
	holds := func(t float64) bool { return r.DistanceInside(at(t)) >= -touching }
	if !holds(0) || !holds(1) {
		return false
	}
	if r.Shape == Circle {
		return true
	}
	meets := []float64{0, 1}
	corners := r.Outline()
	for i, d := range corners {
		if t, ok := meeting(a, b, corners[(i+len(corners)-1)%len(corners)], d); ok {
			meets = append(meets, t)
		}
	}
	slices.Sort(meets)
	for i, t := range meets[1:] {
		if !holds((meets[i] + t) / 2) {
			return false
		}
	}
	return true
}

// meeting is the share of the way from a to b at which it meets the segment from
// c to d. Lines side by side meet nowhere: what they share begins and ends where
// other edges meet them.
func meeting(a, b, c, d Point) (t float64, ok bool) {
	turn := (b.X-a.X)*(d.Y-c.Y) - (b.Y-a.Y)*(d.X-c.X)
	if turn == 0 {
		return 0, false
	}
	t = ((c.X-a.X)*(d.Y-c.Y) - (c.Y-a.Y)*(d.X-c.X)) / turn
	u := ((c.X-a.X)*(b.Y-a.Y) - (c.Y-a.Y)*(b.X-a.X)) / turn
	const near = 1e-9
	return t, t > 0 && t < 1 && u >= -near && u <= 1+near
}
