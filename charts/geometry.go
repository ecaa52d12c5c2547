package charts

import (
	"errors"
	"math"

	"padband/colorimetry"
)

type pt = colorimetry.Point

func newRect(x, y, w, h float64) (colorimetry.Region, error) {
	if !(w > 0) || !(h > 0) {
		return colorimetry.Region{}, errors.New("has no area")
	}
	return colorimetry.Region{Shape: colorimetry.Rect, Points: []pt{{X: x, Y: y}, {X: w, Y: h}}}, nil
}

func newCircle(c pt, r float64) (colorimetry.Region, error) {
	if !(r > 0) {
		return colorimetry.Region{}, errors.New("has no area")
	}
	return colorimetry.Region{Shape: colorimetry.Circle, Points: []pt{c}, Radius: r}, nil
}

func newPolygon(p []pt) (colorimetry.Region, error) {
	if len(p) < 3 {
		return colorimetry.Region{}, errors.New("has under 3 points")
	}
	area := 0.0
	for i := range p {
		j := (i + 1) % len(p)
		area += p[i].X*p[j].Y - p[j].X*p[i].Y
		for k := i + 2; k < len(p); k++ {
			if l := (k + 1) % len(p); l != i && cut(p[i], p[j], p[k], p[l]) {
				return colorimetry.Region{}, errors.New("crosses itself")
			}
		}
	}
	if math.Abs(area) < 1e-12 {
		return colorimetry.Region{}, errors.New("has no area")
	}
	return colorimetry.Region{Shape: colorimetry.Polygon, Points: p}, nil
}

func side(a, b, c pt) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

func cut(a, b, c, d pt) bool {
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// outline returns the region's corners, of a circle 32 points on it.
func outline(r colorimetry.Region) []pt {
	switch r.Shape {
	case colorimetry.Rect:
		a, s := r.Points[0], r.Points[1]
		return []pt{a, {X: a.X + s.X, Y: a.Y}, {X: a.X + s.X, Y: a.Y + s.Y}, {X: a.X, Y: a.Y + s.Y}}
	case colorimetry.Circle:
		var all []pt
		for i := range 32 {
			s, c := math.Sincos(float64(i) * math.Pi / 16)
			all = append(all, pt{X: r.Points[0].X + r.Radius*c, Y: r.Points[0].Y + r.Radius*s})
		}
		return all
	}
	return r.Points
}

func within(r colorimetry.Region, width, height float64) bool {
	for _, p := range outline(r) {
		if !(p.X >= 0 && p.X <= width && p.Y >= 0 && p.Y <= height) {
			return false
		}
	}
	return true
}

// fromUnitSquare returns the projective map that takes the unit square's
// corners, clockwise from (0, 0), to the four given.
func fromUnitSquare(q []pt) (func(pt) pt, error) {
	dx1, dx2, sx := q[1].X-q[2].X, q[3].X-q[2].X, q[0].X-q[1].X+q[2].X-q[3].X
	dy1, dy2, sy := q[1].Y-q[2].Y, q[3].Y-q[2].Y, q[0].Y-q[1].Y+q[2].Y-q[3].Y
	det := dx1*dy2 - dx2*dy1
	if det == 0 {
		return nil, errors.New("lie on a line")
	}
	g, h := (sx*dy2-dx2*sy)/det, (dx1*sy-sx*dy1)/det
	a, b := q[1].X-q[0].X+g*q[1].X, q[3].X-q[0].X+h*q[3].X
	d, e := q[1].Y-q[0].Y+g*q[1].Y, q[3].Y-q[0].Y+h*q[3].Y
	return func(p pt) pt {
		w := g*p.X + h*p.Y + 1
		return pt{X: (a*p.X + b*p.Y + q[0].X) / w, Y: (d*p.X + e*p.Y + q[0].Y) / w}
	}, nil
}

func mapRegion(r colorimetry.Region, to func(pt) pt) colorimetry.Region {
	var all []pt
	for _, p := range outline(r) {
		all = append(all, to(p))
	}
	return colorimetry.Region{Shape: colorimetry.Polygon, Points: all}
}

func centre(r colorimetry.Region) pt {
	var c pt
	o := outline(r)
	for _, p := range o {
		c.X += p.X / float64(len(o))
		c.Y += p.Y / float64(len(o))
	}
	return c
}

func contains(r colorimetry.Region, p pt) bool {
	in := false
	o := outline(r)
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)*(b.X-a.X)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}
