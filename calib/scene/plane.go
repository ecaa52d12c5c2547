package scene

import (
	"math"

	"padband/colorimetry"
)

// point is a place on the table's plane or in the photo, in pixels.
type point = colorimetry.Point

// quad is four corners in order.
type quad [4]point

// box is an upright rectangle.
func box(x, y, w, h float64) quad {
	return quad{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
}

// inset draws the corners towards the centre by a share of the size.
func (q quad) inset(share float64) quad {
	c := q.centre()
	for i := range q {
		q[i].X += share * (c.X - q[i].X)
		q[i].Y += share * (c.Y - q[i].Y)
	}
	return q
}

func (q quad) centre() (c point) {
	for _, p := range q {
		c.X += p.X / 4
		c.Y += p.Y / 4
	}
	return c
}

// perspective is the projective map from the plane into the photo.
type perspective = colorimetry.Homography

// seenFrom turns the plane about the photo's centre, then moves the corners
// of a photo of w by h by the layout's keystone.
func seenFrom(l *Layout, w, h float64) (perspective, error) {
	corners := box(0, 0, w, h)
	cos, sin := math.Cos(l.Turn), math.Sin(l.Turn)
	var to quad
	for i, p := range corners {
		x, y := p.X-w/2, p.Y-h/2
		to[i] = point{X: w/2 + x*cos - y*sin + l.Keystone[2*i]*w, Y: h/2 + x*sin + y*cos + l.Keystone[2*i+1]*w}
	}
	return colorimetry.NewHomography(corners, to)
}

// through maps a quadrangle.
func (q quad) through(m *perspective) quad {
	for i := range q {
		q[i] = m.Apply(q[i])
	}
	return q
}

// fill calls span for each row of pixels whose centres lie in the convex quadrangle.
func (q quad) fill(w, h int, span func(y, x0, x1 int)) {
	top, bottom := math.Inf(1), math.Inf(-1)
	for _, p := range q {
		top, bottom = math.Min(top, p.Y), math.Max(bottom, p.Y)
	}
	for y := max(0, int(math.Ceil(top-0.5))); y < min(h, int(math.Ceil(bottom-0.5))); y++ {
		left, right := q.crossings(float64(y) + 0.5)
		x0, x1 := max(0, int(math.Ceil(left-0.5))), min(w, int(math.Ceil(right-0.5)))
		if x0 < x1 {
			span(y, x0, x1)
		}
	}
}

// crossings is where the row at y enters and leaves the quadrangle.
func (q quad) crossings(y float64) (left, right float64) {
	left, right = math.Inf(1), math.Inf(-1)
	for i, a := range q {
		b := q[(i+1)%4]
		if (a.Y <= y) == (b.Y <= y) {
			continue
		}
		x := a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)
		left, right = math.Min(left, x), math.Max(right, x)
	}
	return left, right
}
