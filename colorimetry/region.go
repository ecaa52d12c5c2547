package colorimetry

import (
	"fmt"
	"math"
)

// Point is a place in a photo, in pixels of the upright picture: origin at the
// top left corner, X right, Y down, fractions allowed. Pixel (i, j) covers the
// square from (i, j) to (i+1, j+1).
type Point struct{ X, Y float64 }

// Finite reports whether neither coordinate is NaN or infinite.
func (p Point) Finite() bool { return finite(p.X, p.Y) }

// Distance is the distance between two places, in pixels.
func (p Point) Distance(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// Shape names the three kinds of region.
type Shape int

const (
	Polygon Shape = iota + 1 // Points, three or more
	Rect                     // Points[0] the top left corner, Points[1] the size
	Circle                   // Points[0] the centre, Radius
)

// String returns the name the shape has in files: polygon, rect or circle.
func (s Shape) String() string {
	switch s {
	case Polygon:
		return "polygon"
	case Rect:
		return "rect"
	case Circle:
		return "circle"
	}
	return "region"
}

// Region is an area of a photo. The zero Region is empty. The edge of a
// polygon does not cross or touch itself; [NewPolygon], [NewRect] and
// [NewCircle] make sure of it, and [Region.Check] does for one made by hand.
type Region struct {
	Shape  Shape
	Points []Point
	Radius float64
}

// Bounds on what a region may be, so that no later sum overflows or takes for ever.
const (
	MaxCoordinate = 1e7  // pixels, either way from the corner of the photo
	MaxPoints     = 1000 // of one polygon
	minShare      = 1e-9 // of the square of a polygon's extent: anything less is a line
)

// RegionError says what is wrong with a region and what to do about it.
type RegionError struct {
	Shape    Shape
	What, Do string
}

// Error returns "shape: what; do" on one line.
func (e *RegionError) Error() string { return e.Shape.String() + ": " + e.What + "; " + e.Do }

// NewPolygon returns the area inside the points, taken in order either way
// round. The error is a [*RegionError]: fewer than 3 points, more than
// [MaxPoints], one beyond [MaxCoordinate] or not a number, no area, or an edge
// that crosses or touches another.
func NewPolygon(points ...Point) (Region, error) {
	r := Region{Shape: Polygon, Points: append([]Point(nil), points...)}
	return checked(r)
}

// NewRect returns the upright rectangle with its top left corner at (x, y).
// The error is a [*RegionError]: a size that is not positive, or a number out
// of range.
func NewRect(x, y, width, height float64) (Region, error) {
	return checked(Region{Shape: Rect, Points: []Point{{x, y}, {width, height}}})
}

// NewCircle returns a circle. The error is a [*RegionError]: a radius that is
// not positive, or a number out of range.
func NewCircle(centre Point, radius float64) (Region, error) {
	return checked(Region{Shape: Circle, Points: []Point{centre}, Radius: radius})
}

func checked(r Region) (Region, error) {
	if err := r.Check(); err != nil {
		return Region{}, err
	}
	return r, nil
}

// Check returns a [*RegionError] when the region breaks a rule of its
// constructor, and nil when it does not. The zero Region is refused.
func (r Region) Check() error {
	if fault := r.fault(); fault != nil {
		fault.Shape = r.Shape
		return fault
	}
	return nil
}

// fault is the first rule that the region breaks, or nil.
func (r Region) fault() *RegionError {
	if !r.wellFormed() {
		return &RegionError{
			What: fmt.Sprintf("has %d points", len(r.Points)),
			Do:   "a polygon has 3 to 1000, a rect a corner and a size, a circle a centre and a radius",
		}
	}
	for _, p := range append([]Point{{r.Radius, 0}}, r.Points...) {
		if !(math.Abs(p.X) <= MaxCoordinate && math.Abs(p.Y) <= MaxCoordinate) {
			return &RegionError{What: "has a number that is not finite or far too large", Do: "give pixels of the photo"}
		}
	}
	switch {
	case r.Shape == Rect && !(r.Points[1].X > 0 && r.Points[1].Y > 0):
		return &RegionError{What: fmt.Sprintf("is %g by %g pixels", r.Points[1].X, r.Points[1].Y), Do: "give a width and a height above 0"}
	case r.Shape == Circle && !(r.Radius > 0):
		return &RegionError{What: fmt.Sprintf("has radius %g", r.Radius), Do: "give a radius above 0"}
	case r.Shape == Polygon && crossesItself(r.Points):
		return &RegionError{What: "crosses or touches itself", Do: "go once round the area and name each corner once"}
	case r.flat():
		return &RegionError{What: "has no area", Do: "mark an area, not a line"}
	}
	return nil
}

// flat reports whether the area is nothing beside the extent.
func (r Region) flat() bool {
	least, most := r.Bounds()
	if r.Shape != Polygon {
		return !(r.Area() > 0)
	}
	return !(r.Area() >= minShare*sq(most.Distance(least))) || most == least
}

// wellFormed reports whether the shape is known and has the points it needs.
func (r Region) wellFormed() bool {
	n := len(r.Points)
	switch r.Shape {
	case Polygon:
		return n >= 3 && n <= MaxPoints
	case Rect:
		return n == 2
	case Circle:
		return n == 1
	}
	return false
}

// Area returns the area in square pixels; 0 for a region that is not well formed.
func (r Region) Area() float64 {
	if !r.wellFormed() {
		return 0
	}
	switch r.Shape {
	case Rect:
		return r.Points[1].X * r.Points[1].Y
	case Circle:
		return math.Pi * sq(r.Radius)
	}
	area, _, _ := moments(r.Points)
	return math.Abs(area)
}

// Centroid returns the centre of the area; that of a hollow polygon may lie
// outside it. The zero Region's is the origin.
func (r Region) Centroid() Point {
	if !r.wellFormed() {
		return Point{}
	}
	p := r.Points[0]
	switch r.Shape {
	case Rect:
		return Point{p.X + r.Points[1].X/2, p.Y + r.Points[1].Y/2}
	case Circle:
		return p
	}
	area, mx, my := moments(r.Points)
	if area == 0 {
		return p
	}
	return Point{p.X + mx/area, p.Y + my/area}
}

// moments returns the signed area and the first moments about points[0].
func moments(points []Point) (area, mx, my float64) {
	o := points[0]
	for i := 1; i+1 < len(points); i++ {
		p, q := Point{points[i].X - o.X, points[i].Y - o.Y}, Point{points[i+1].X - o.X, points[i+1].Y - o.Y}
		a := (p.X*q.Y - p.Y*q.X) / 2
		area += a
		mx += a * (p.X + q.X) / 3
		my += a * (p.Y + q.Y) / 3
	}
	return area, mx, my
}

// Bounds returns the corners of the smallest upright rectangle that holds the
// region; two origins for a region that is not well formed.
func (r Region) Bounds() (least, most Point) {
	if !r.wellFormed() {
		return Point{}, Point{}
	}
	p := r.Points[0]
	switch r.Shape {
	case Rect:
		return p, Point{p.X + r.Points[1].X, p.Y + r.Points[1].Y}
	case Circle:
		return Point{p.X - r.Radius, p.Y - r.Radius}, Point{p.X + r.Radius, p.Y + r.Radius}
	}
	least, most = p, p
	for _, q := range r.Points[1:] {
		least = Point{math.Min(least.X, q.X), math.Min(least.Y, q.Y)}
		most = Point{math.Max(most.X, q.X), math.Max(most.Y, q.Y)}
	}
	return least, most
}

// Inside reports whether the whole region lies in a photo of that size, its
// edges included. A region that is not well formed does not.
func (r Region) Inside(width, height int) bool {
	least, most := r.Bounds()
	return r.wellFormed() && least.X >= 0 && least.Y >= 0 && most.X <= float64(width) && most.Y <= float64(height)
}

// circleSides is how many corners stand for a circle where a polygon is
// needed: the area is 0.16 % too small.
const circleSides = 64

// Outline returns the corners of the region for drawing it: a rectangle's
// four from the top left on, 64 for a circle, none for the zero Region.
func (r Region) Outline() []Point {
	if !r.wellFormed() {
		return nil
	}
	p := r.Points[0]
	switch r.Shape {
	case Rect:
		x, y := p.X+r.Points[1].X, p.Y+r.Points[1].Y
		return []Point{p, {x, p.Y}, {x, y}, {p.X, y}}
	case Circle:
		out := make([]Point, circleSides)
		for i := range out {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / circleSides)
			out[i] = Point{p.X + r.Radius*cos, p.Y + r.Radius*sin}
		}
		return out
	}
	return append([]Point(nil), r.Points...)
}

// Map returns the polygon whose corners are f of this region's [Region.Outline],
// for turning a region or carrying it through a homography. [Region.Check]
// tells whether the result is still a region; f may fold it.
func (r Region) Map(f func(Point) Point) Region {
	points := r.Outline()
	if points == nil {
		return Region{}
	}
	for i, p := range points {
		points[i] = f(p)
	}
	return Region{Shape: Polygon, Points: points}
}
