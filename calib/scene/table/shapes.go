package table

import (
	"cmp"
	"math"
	"slices"
)

// box is an upright rectangle.
func box(x, y, w, h float64) path {
	return path{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
}

// rounded is an upright rectangle with corners rounded by radius r.
func rounded(x, y, w, h, r float64) path {
	if r == 0 {
		return box(x, y, w, h)
	}
	r = math.Min(r, math.Min(w, h)/2)
	const steps = 4
	var out path
	for k, c := range []point{{X: x + w - r, Y: y + h - r}, {X: x + r, Y: y + h - r}, {X: x + r, Y: y + r}, {X: x + w - r, Y: y + r}} {
		for i := range steps + 1 {
			sin, cos := math.Sincos((float64(k) + float64(i)/steps) * math.Pi / 2)
			out = append(out, point{X: c.X + r*cos, Y: c.Y + r*sin})
		}
	}
	return out
}

// ellipse has half axes rx and ry.
func ellipse(x, y, rx, ry float64) path {
	const steps = 32
	var out path
	for i := range steps {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / steps)
		out = append(out, point{X: x + rx*cos, Y: y + ry*sin})
	}
	return out
}

// star has n points between the radii.
func star(x, y, inner, outer float64, n int) path {
	var out path
	for i := range 2 * n {
		r := outer
		if i%2 == 1 {
			r = inner
		}
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(n))
		out = append(out, point{X: x + r*sin, Y: y - r*cos})
	}
	return out
}

// leaf is a pointed oval along x from the point, with a bend.
func leaf(x, y, long, wide, bend float64) path {
	const steps = 12
	var out path
	edge := func(i int, side float64) {
		t := float64(i) / steps
		half := wide / 2 * math.Sin(math.Pi*math.Pow(t, 0.8))
		out = append(out, point{X: x + long*t, Y: y + bend*4*t*(1-t) + side*half})
	}
	for i := range steps {
		edge(i, -1)
	}
	for i := steps; i > 0; i-- {
		edge(i, 1)
	}
	return out
}

// line is a thin stroke along the points.
func line(width float64, points ...point) path {
	var left, right path
	for i, q := range points {
		a, b := points[max(0, i-1)], points[min(len(points)-1, i+1)]
		l := math.Max(1e-9, a.Distance(b))
		nx, ny := -(b.Y-a.Y)/l*width/2, (b.X-a.X)/l*width/2
		left = append(left, point{X: q.X + nx, Y: q.Y + ny})
		right = append(path{{X: q.X - nx, Y: q.Y - ny}}, right...)
	}
	return append(left, right...)
}

// moved turns the outline about the origin, then shifts it.
func (o path) moved(turn, x, y float64) path {
	sin, cos := math.Sincos(turn)
	out := make(path, len(o))
	for i, q := range o {
		out[i] = point{X: q.X*cos - q.Y*sin + x, Y: q.X*sin + q.Y*cos + y}
	}
	return out
}

// centre is the mean of the corners.
func (o path) centre() (c point) {
	for _, q := range o {
		c.X += q.X / float64(len(o))
		c.Y += q.Y / float64(len(o))
	}
	return c
}

// finer divides each side longer than step.
func (o path) finer(step float64) path {
	var out path
	for i, a := range o {
		b := o[(i+1)%len(o)]
		n := max(1, int(math.Ceil(a.Distance(b)/step)))
		for k := range n {
			f := float64(k) / float64(n)
			out = append(out, point{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)})
		}
	}
	return out
}

// clear reports whether two convex outlines lie apart: one has a side with
// all of the other beyond it (separating axis).
func (o path) clear(q path) bool { return o.parts(q) || q.parts(o) }

func (o path) parts(q path) bool {
	c := o.centre()
	for i, a := range o {
		b := o[(i+1)%len(o)]
		side := func(p point) float64 { return (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X) }
		own, apart := side(c), true
		for _, p := range q {
			apart = apart && side(p)*own < 0
		}
		if apart {
			return true
		}
	}
	return false
}

// sortPoints orders points by x, then y.
func sortPoints(all path) {
	slices.SortFunc(all, func(a, b point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
}
