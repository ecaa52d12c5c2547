package colorimetry

// Point is a place in a photo, in pixels of the upright picture: origin at the
// top left corner, X right, Y down, fractions allowed. Pixel (i, j) covers the
// square from (i, j) to (i+1, j+1).
type Point struct{ X, Y float64 }

// Shape names the three kinds of region.
type Shape int

const (
	Polygon Shape = iota + 1 // Points, three or more
	Rect                     // Points[0] the top left corner, Points[1] the size
	Circle                   // Points[0] the centre, Radius
)

// Region is an area of a photo. The zero Region is empty.
type Region struct {
	Shape  Shape
	Points []Point
	Radius float64
}
