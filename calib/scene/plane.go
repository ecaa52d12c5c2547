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

// perspective is a projective map of the plane.
type perspective [9]float64

// from turns by an angle about the centre, then moves the corners of a photo
// of w by h by the shares in k.
func seenFrom(l *Layout, w, h float64) perspective {
	corners := box(0, 0, w, h)
	cos, sin := math.Cos(l.Turn), math.Sin(l.Turn)
	var to quad
	for i, p := range corners {
		x, y := p.X-w/2, p.Y-h/2
		to[i] = point{X: w/2 + x*cos - y*sin + l.Keystone[2*i]*w, Y: h/2 + x*sin + y*cos + l.Keystone[2*i+1]*w}
	}
	return ontoQuad(to, w, h)
}

// ontoQuad maps the rectangle 0,0,w,h onto a quadrangle.
// Source: P. S. Heckbert, Fundamentals of texture mapping and image warping (1989), 2.2.3.
func ontoQuad(q quad, w, h float64) perspective {
	dx1, dy1 := q[1].X-q[2].X, q[1].Y-q[2].Y
	dx2, dy2 := q[3].X-q[2].X, q[3].Y-q[2].Y
	sx, sy := q[0].X-q[1].X+q[2].X-q[3].X, q[0].Y-q[1].Y+q[2].Y-q[3].Y
	den := dx1*dy2 - dx2*dy1
	g, k := (sx*dy2-dx2*sy)/den, (dx1*sy-sx*dy1)/den
	return perspective{
		(q[1].X - q[0].X + g*q[1].X) / w, (q[3].X - q[0].X + k*q[3].X) / h, q[0].X,
		(q[1].Y - q[0].Y + g*q[1].Y) / w, (q[3].Y - q[0].Y + k*q[3].Y) / h, q[0].Y,
		g / w, k / h, 1,
	}
}

// to maps a point of the plane into the photo.
func (m *perspective) to(p point) point {
	z := m[6]*p.X + m[7]*p.Y + m[8]
	return point{X: (m[0]*p.X + m[1]*p.Y + m[2]) / z, Y: (m[3]*p.X + m[4]*p.Y + m[5]) / z}
}

// inverse is the map back, from the photo to the plane.
func (m *perspective) inverse() perspective {
	return perspective{
		m[4]*m[8] - m[5]*m[7], m[2]*m[7] - m[1]*m[8], m[1]*m[5] - m[2]*m[4],
		m[5]*m[6] - m[3]*m[8], m[0]*m[8] - m[2]*m[6], m[2]*m[3] - m[0]*m[5],
		m[3]*m[7] - m[4]*m[6], m[1]*m[6] - m[0]*m[7], m[0]*m[4] - m[1]*m[3],
	}
}

// through maps a quadrangle.
func (q quad) through(m *perspective) quad {
	for i := range q {
		q[i] = m.to(q[i])
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
