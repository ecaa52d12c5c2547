package colorimetry

import "math"

// crossesItself reports whether two edges of the closed polygon meet anywhere
// but at the corner that neighbours share; a corner named twice is such a place.
func crossesItself(points []Point) bool {
	n := len(points)
	for i := range n {
		a, b := points[i], points[(i+1)%n]
		if spike(a, b, points[(i+2)%n]) {
			return true
		}
		for j := i + 2; j < n; j++ {
			if (j+1)%n != i && segmentsMeet(a, b, points[j], points[(j+1)%n]) {
				return true
			}
		}
	}
	return false
}

// spike reports whether the way from a to b turns straight back at b.
func spike(a, b, c Point) bool {
	return turn(a, b, c) == 0 && (a.X-b.X)*(c.X-b.X)+(a.Y-b.Y)*(c.Y-b.Y) > 0
}

// turn is above 0 where the way a, b, c turns one way, below 0 where it turns
// the other, and 0 where it goes straight.
func turn(a, b, c Point) float64 {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}

// segmentsMeet reports whether the segments from a to b and from c to d have
// a place in common, ends included.
func segmentsMeet(a, b, c, d Point) bool {
	if !overlap(a.X, b.X, c.X, d.X) || !overlap(a.Y, b.Y, c.Y, d.Y) {
		return false
	}
	return opposite(turn(a, b, c), turn(a, b, d)) && opposite(turn(c, d, a), turn(c, d, b))
}

func overlap(a, b, c, d float64) bool {
	return math.Max(a, b) >= math.Min(c, d) && math.Max(c, d) >= math.Min(a, b)
}

func opposite(s, t float64) bool { return (s <= 0 && t >= 0) || (s >= 0 && t <= 0) }
