package colorimetry

import "math"

// Homography carries the places of one flat picture to those of another taken
// from elsewhere: straight lines stay straight.
type Homography struct{ m Matrix3 }

// CornerError says why four corners give no homography.
type CornerError struct{ What string }

// Error returns one line that says what to do.
func (e *CornerError) Error() string {
	return "corners " + e.What + "; give the four corners in order round the chart"
}

// NewHomography returns the homography that carries each of from to the place
// of the same number in to. Both must be the corners of a convex four-sided
// figure in order round it, either way; else the error is a [*CornerError].
func NewHomography(from, to [4]Point) (Homography, error) {
	a, err := fromUnitSquare(from)
	if err != nil {
		return Homography{}, err
	}
	b, err := fromUnitSquare(to)
	if err != nil {
		return Homography{}, err
	}
	back, ok := a.Inverse()
	if !ok {
		return Homography{}, &CornerError{"lie on one line"}
	}
	return Homography{b.Mul(back)}, nil
}

// fromUnitSquare returns the matrix that carries (0,0), (1,0), (1,1), (0,1)
// to the four corners (the closed form for one square: two equations for the
// two perspective terms, the rest follows).
func fromUnitSquare(q [4]Point) (Matrix3, error) {
	if err := checkCorners(q); err != nil {
		return Matrix3{}, err
	}
	d1, d2 := Point{q[1].X - q[2].X, q[1].Y - q[2].Y}, Point{q[3].X - q[2].X, q[3].Y - q[2].Y}
	s := Point{q[0].X - q[1].X + q[2].X - q[3].X, q[0].Y - q[1].Y + q[2].Y - q[3].Y}
	det := d1.X*d2.Y - d2.X*d1.Y
	g, h := (s.X*d2.Y-d2.X*s.Y)/det, (d1.X*s.Y-s.X*d1.Y)/det
	return Matrix3{
		{q[1].X - q[0].X + g*q[1].X, q[3].X - q[0].X + h*q[3].X, q[0].X},
		{q[1].Y - q[0].Y + g*q[1].Y, q[3].Y - q[0].Y + h*q[3].Y, q[0].Y},
		{g, h, 1},
	}, nil
}

// checkCorners refuses corners that are not finite, or not strictly convex:
// each turn must be the same way and at least a millionth of the largest
// side squared.
func checkCorners(q [4]Point) error {
	side := 0.0
	for i, p := range q {
		if !(math.Abs(p.X) <= MaxCoordinate && math.Abs(p.Y) <= MaxCoordinate) {
			return &CornerError{"have a number that is not finite or far too large"}
		}
		side = math.Max(side, p.Distance(q[(i+1)%4]))
	}
	positive := turn(q[0], q[1], q[2]) > 0
	for i := range q {
		t := turn(q[i], q[(i+1)%4], q[(i+2)%4])
		if !(math.Abs(t) > 1e-6*sq(side)) {
			return &CornerError{"lie three on one line, or two on one place"}
		}
		if (t > 0) != positive {
			return &CornerError{"do not go round a four-sided figure without a dent or a crossing"}
		}
	}
	return nil
}

// Apply returns where p goes. Places on the horizon or beyond it go nowhere:
// the result is then NaN, which [Point.Finite] finds. No place inside the
// four corners does.
func (h Homography) Apply(p Point) Point {
	v := h.m.Vec([3]float64{p.X, p.Y, 1})
	if !(v[2] > 0) {
		return Point{math.NaN(), math.NaN()}
	}
	return Point{v[0] / v[2], v[1] / v[2]}
}

// Inverse returns the homography the other way. ok is false only for the zero Homography.
func (h Homography) Inverse() (inverse Homography, ok bool) {
	m, ok := h.m.Inverse()
	return Homography{m}, ok
}

// Mirrors reports whether h turns the picture over, so that clockwise becomes
// anticlockwise.
func (h Homography) Mirrors() bool { return h.m.Det() < 0 }
