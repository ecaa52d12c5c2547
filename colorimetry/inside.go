package colorimetry

import (
	"iter"
	"math"
	"slices"
)

// Contains reports whether a place lies in the region. Left and top edges of
// polygons and rectangles belong to it, right and bottom ones do not, so that
// regions that share an edge share no place; a circle's edge belongs to it.
func (r Region) Contains(p Point) bool {
	if !r.wellFormed() {
		return false
	}
	o := r.Points[0]
	switch r.Shape {
	case Rect:
		return p.X >= o.X && p.X < o.X+r.Points[1].X && p.Y >= o.Y && p.Y < o.Y+r.Points[1].Y
	case Circle:
		return p.Distance(o) <= r.Radius
	}
	inside := false
	for i, b := range r.Points {
		if x, ok := crossing(r.Points[(i+len(r.Points)-1)%len(r.Points)], b, p.Y); ok && p.X < x {
			inside = !inside
		}
	}
	return inside
}

// crossing is where the edge from a to b meets the horizontal line at y. The
// upper end belongs to the edge, the lower does not.
func crossing(a, b Point, y float64) (x float64, ok bool) {
	if (a.Y <= y) == (b.Y <= y) {
		return 0, false
	}
	if a.Y > b.Y { // one direction, so that two regions find the same place on an edge they share
		a, b = b, a
	}
	return a.X + (y-a.Y)/(b.Y-a.Y)*(b.X-a.X), true
}

// DistanceInside is how far a place in the region lies from its edge, in
// pixels; below zero, the distance to the region of a place outside it. For
// the zero Region it is minus infinity.
func (r Region) DistanceInside(p Point) float64 {
	if !r.wellFormed() {
		return math.Inf(-1)
	}
	if r.Shape == Circle {
		return r.Radius - p.Distance(r.Points[0])
	}
	corners := r.Outline()
	least := math.Inf(1)
	for i, b := range corners {
		least = math.Min(least, toSegment(p, corners[(i+len(corners)-1)%len(corners)], b))
	}
	if !r.Contains(p) {
		return -least
	}
	return least
}

// toSegment is the distance from p to the nearest place between a and b.
func toSegment(p, a, b Point) float64 {
	d := Point{b.X - a.X, b.Y - a.Y}
	length2 := sq(d.X) + sq(d.Y)
	if length2 == 0 {
		return p.Distance(a)
	}
	t := math.Max(0, math.Min(1, ((p.X-a.X)*d.X+(p.Y-a.Y)*d.Y)/length2))
	return p.Distance(Point{a.X + t*d.X, a.Y + t*d.Y})
}

// Span is a run of pixels of one row: From is in it, To is the first beyond.
type Span struct{ From, To int }

// Spans returns the runs of pixels of row y whose centres lie in the region
// and at least margin pixels from its edge, from left to right. A negative
// margin counts as 0.
func (r Region) Spans(y int, margin float64) []Span {
	if !r.wellFormed() {
		return nil
	}
	cy, margin := float64(y)+0.5, math.Max(margin, 0)
	if r.Shape == Circle {
		h := sq(r.Radius-margin) - sq(cy-r.Points[0].Y)
		if r.Radius < margin || !(h >= 0) {
			return nil
		}
		x, half := r.Points[0].X, math.Sqrt(h)
		return spansOf([]stretch{{x - half, math.Nextafter(x+half, math.Inf(1))}})
	}
	corners := r.Outline()
	runs := rowOf(corners, cy)
	if margin > 0 {
		for i, b := range corners {
			runs = cut(runs, capsule(corners[(i+len(corners)-1)%len(corners)], b, cy, margin))
		}
	}
	return spansOf(runs)
}

// Pixels yields each row of a photo of that size that has pixels of the
// region, with its [Region.Spans], clipped to the photo.
func (r Region) Pixels(width, height int, margin float64) iter.Seq2[int, []Span] {
	least, most := r.Bounds()
	top := whole(math.Floor(least.Y), 0, height)
	bottom := whole(math.Ceil(most.Y), 0, height)
	return func(yield func(int, []Span) bool) {
		for y := top; y < bottom; y++ {
			spans := clip(r.Spans(y, margin), width)
			if len(spans) > 0 && !yield(y, spans) {
				return
			}
		}
	}
}

// Count returns how many pixels [Region.Pixels] yields.
func (r Region) Count(width, height int, margin float64) int {
	n := 0
	for _, spans := range r.Pixels(width, height, margin) {
		for _, s := range spans {
			n += s.To - s.From
		}
	}
	return n
}

func clip(spans []Span, width int) []Span {
	out := spans[:0]
	for _, s := range spans {
		if s.From, s.To = max(s.From, 0), min(s.To, width); s.From < s.To {
			out = append(out, s)
		}
	}
	return out
}

// stretch is a piece of a line: from is in it, to is not.
type stretch struct{ from, to float64 }

// rowOf returns the stretches of the horizontal line at y inside the corners.
func rowOf(corners []Point, y float64) []stretch {
	var xs []float64
	for i, b := range corners {
		if x, ok := crossing(corners[(i+len(corners)-1)%len(corners)], b, y); ok {
			xs = append(xs, x)
		}
	}
	slices.Sort(xs)
	var out []stretch
	for i := 0; i+1 < len(xs); i += 2 {
		out = append(out, stretch{xs[i], xs[i+1]})
	}
	return out
}

// cut takes the open stretch gone out of the runs.
func cut(runs []stretch, gone stretch) []stretch {
	if !(gone.from < gone.to) {
		return runs
	}
	var out []stretch
	for _, s := range runs {
		left := stretch{s.from, math.Min(s.to, math.Nextafter(gone.from, math.Inf(1)))}
		right := stretch{math.Max(s.from, gone.to), s.to}
		for _, piece := range []stretch{left, right} {
			if piece.from < piece.to {
				out = append(out, piece)
			}
		}
	}
	return out
}

// capsule is the stretch of the line at y that lies nearer than margin to the
// segment from a to b: it is in one piece, since what lies near a segment is
// convex. An empty stretch has from = to.
func capsule(a, b Point, y, margin float64) stretch {
	out := stretch{math.Inf(1), math.Inf(-1)}
	include := func(from, to float64) {
		out.from, out.to = math.Min(out.from, from), math.Max(out.to, to)
	}
	for _, end := range []Point{a, b} {
		if h := sq(margin) - sq(y-end.Y); h > 0 {
			include(end.X-math.Sqrt(h), end.X+math.Sqrt(h))
		}
	}
	if length := a.Distance(b); length > 0 {
		n := Point{-(b.Y - a.Y) / length * margin, (b.X - a.X) / length * margin}
		side := []Point{{a.X + n.X, a.Y + n.Y}, {b.X + n.X, b.Y + n.Y}, {b.X - n.X, b.Y - n.Y}, {a.X - n.X, a.Y - n.Y}}
		for _, s := range rowOf(side, y) {
			include(s.from, s.to)
		}
	}
	if !(out.from < out.to) {
		return stretch{}
	}
	return out
}

// spansOf turns stretches of a row into the pixels whose centres lie in them.
func spansOf(runs []stretch) []Span {
	var out []Span
	for _, s := range runs {
		const far = 2 * MaxCoordinate
		from, to := whole(math.Ceil(s.from-0.5), -far, far), whole(math.Ceil(s.to-0.5), -far, far)
		if from < to {
			out = append(out, Span{from, to})
		}
	}
	return out
}

// whole is v as an int, no less than least and no more than most; NaN is least.
func whole(v float64, least, most int) int {
	switch {
	case !(v > float64(least)):
		return least
	case v > float64(most):
		return most
	}
	return int(v)
}
