package patches

import (
	"math"
	"slices"

	"padband/colorimetry"
)

// Patch is a flat area of a ground, with an outline of four sides within it.
type Patch struct {
	Corners [4]colorimetry.Point // clockwise, in points of the ground
	Middle  colorimetry.Point
	Colour  colorimetry.Lab
	Area    float64 // points
	Convex  float64 // share of its convex hull that it fills
	Square  float64 // share of that hull that its corners enclose: 1 of a box, 2/pi of a disc
	Level   int     // which of the slopes it was found at, the flattest first
}

// What a patch may be.
const (
	leastArea    = 30   // points
	mostShare    = 0.05 // of the ground
	leastConvex  = 0.80
	leastSolid   = 0.55 // share of its points that are flat
	leastSquare  = 0.56 // a disc has 0.637
	mostStretch  = 6    // a patch's longer side over its shorter
	roundBelow   = 0.80 // a patch whose corners enclose less of its hull is round
	sameMiddle   = 0.25 // of its size, how far apart two finds of one patch lie
	sameAreaSpan = 1.8  // and how far apart their areas
)

// levels are the slopes below which colour is flat, CIELAB units a point.
var levels = []float32{0.8, 1.2, 2, 3.5}

// Find finds the flat patches of the ground: convex areas whose colour changes by less
// than a slope from point to point, each once. A patch that touches another of nearly
// its colour may come out joined to it.
func (g *Ground) Find() []Patch {
	var all []Patch
	state := make([]uint8, len(g.lab))
	var buffer []int
	for level, slope := range levels {
		clear(state)
		for k := range state {
			if state[k] == 0 && g.slope[k] < slope {
				var p Patch
				var ok bool
				if p, ok, buffer = g.area(state, k, slope, buffer); ok {
					p.Level = level
					all = keep(all, p)
				}
			}
		}
	}
	return all
}

// keep adds a patch, or puts it in the place of one found before that is the same and
// less convex.
func keep(all []Patch, p Patch) []Patch {
	for i, q := range all {
		near := p.Middle.Distance(q.Middle) < sameMiddle*math.Sqrt(min(p.Area, q.Area))
		if near && p.Area < sameAreaSpan*q.Area && q.Area < sameAreaSpan*p.Area {
			if p.Convex*math.Sqrt(p.Area) > q.Convex*math.Sqrt(q.Area) {
				all[i] = p
			}
			return all
		}
	}
	return append(all, p)
}

// area collects the points joined to one that are flatter than the slope, and gives
// them as a patch if they look like one. The points are marked in state; the buffer is
// used for them and given back.
func (g *Ground) area(state []uint8, from int, slope float32, buffer []int) (Patch, bool, []int) {
	points := append(buffer[:0], from)
	state[from] = 1
	w := g.Width
	for next := 0; next < len(points); next++ {
		k := points[next]
		x := k % w
		for i, o := range [4]int{k - 1, k + 1, k - w, k + w} {
			if i == 0 && x == 0 || i == 1 && x == w-1 || o < 0 || o >= len(state) || state[o] != 0 || !(g.slope[o] < slope) {
				continue
			}
			state[o] = 1
			points = append(points, o)
		}
	}
	if len(points) < leastArea || float64(len(points)) > mostShare*float64(len(g.lab)) {
		return Patch{}, false, points
	}
	p, ok := g.patch(points)
	return p, ok, points
}

// patch is the patch of these points, unless they are hollow, bent or long. What they
// enclose, such as a number printed on them, belongs to it.
func (g *Ground) patch(points []int) (Patch, bool) {
	ends, filled := g.ends(points)
	if float64(len(points)) < leastSolid*float64(filled) {
		return Patch{}, false
	}
	hull := convex(ends)
	whole := areaOf(hull)
	p := Patch{Area: float64(filled)}
	if p.Convex = p.Area / whole; !(p.Convex >= leastConvex) {
		return p, false
	}
	p.Corners = largestQuad(hull)
	p.Square = areaOf(p.Corners[:]) / whole
	if !(p.Square >= leastSquare) || p.Stretch() > mostStretch {
		return p, false
	}
	var sum [3]float64
	var x, y, xx, xy, yy float64
	for _, k := range points {
		c := g.lab[k]
		sum[0], sum[1], sum[2] = sum[0]+float64(c.l), sum[1]+float64(c.a), sum[2]+float64(c.b)
		px, py := float64(k%g.Width)+0.5, float64(k/g.Width)+0.5
		x, y, xx, xy, yy = x+px, y+py, xx+px*px, xy+px*py, yy+py*py
	}
	n := float64(len(points))
	p.Colour = colorimetry.Lab{L: sum[0] / n, A: sum[1] / n, B: sum[2] / n}
	x, y = x/n, y/n
	p.Middle = colorimetry.Point{X: x, Y: y}
	if p.Square < roundBelow {
		p.Corners = squareOf(p.Middle, xx/n-x*x, xy/n-x*y, yy/n-y*y)
	}
	return p, true
}

// Sides are the mean lengths of the patch's two pairs of sides.
func (p Patch) Sides() (a, b float64) {
	c := p.Corners
	return (c[0].Distance(c[1]) + c[2].Distance(c[3])) / 2, (c[1].Distance(c[2]) + c[3].Distance(c[0])) / 2
}

// Stretch is the longer of its sides over the shorter.
func (p Patch) Stretch() float64 {
	a, b := p.Sides()
	return max(a, b) / min(a, b)
}

// ends are the corners of the first and the last point of each row of an area, and how
// many points there are between these.
func (g *Ground) ends(points []int) (ends []colorimetry.Point, filled int) {
	top, bottom := points[0]/g.Width, points[0]/g.Width
	for _, k := range points {
		top, bottom = min(top, k/g.Width), max(bottom, k/g.Width)
	}
	first, last := make([]int, bottom-top+1), make([]int, bottom-top+1)
	for i := range first {
		first[i], last[i] = g.Width, -1
	}
	for _, k := range points {
		x, y := k%g.Width, k/g.Width-top
		first[y], last[y] = min(first[y], x), max(last[y], x)
	}
	for i, f := range first {
		if last[i] < f {
			continue
		}
		filled += last[i] - f + 1
		for _, j := range [2]int{i + top, i + top + 1} {
			ends = append(ends, colorimetry.Point{X: float64(f), Y: float64(j)}, colorimetry.Point{X: float64(last[i] + 1), Y: float64(j)})
		}
	}
	return ends, filled
}

// convex is the convex hull, by Andrew's monotone chain.
func convex(ends []colorimetry.Point) []colorimetry.Point {
	slices.SortFunc(ends, func(a, b colorimetry.Point) int {
		if a.X != b.X {
			return sign(a.X - b.X)
		}
		return sign(a.Y - b.Y)
	})
	ends = slices.Compact(ends)
	lower := chain(ends)
	slices.Reverse(ends)
	upper := chain(ends)
	if len(lower) < 2 {
		return lower
	}
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

// areaOf is the area of a polygon.
func areaOf(c []colorimetry.Point) float64 {
	sum := 0.0
	for i, p := range c {
		q := c[(i+1)%len(c)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return math.Abs(sum) / 2
}

// largestQuad is the largest figure of four corners of a convex polygon, clockwise in
// a picture: for every pair of opposite corners, the farthest point on either side.
func largestQuad(hull []colorimetry.Point) (best [4]colorimetry.Point) {
	most := -1.0
	for i, a := range hull {
		for j := i + 2; j < len(hull); j++ {
			b := hull[j]
			off := func(p colorimetry.Point) float64 { return (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X) }
			var left, right float64
			var l, r colorimetry.Point
			for _, p := range hull {
				if d := off(p); d > left {
					left, l = d, p
				} else if d < right {
					right, r = d, p
				}
			}
			if left > 0 && right < 0 && left-right > most {
				most, best = left-right, [4]colorimetry.Point{a, r, b, l}
			}
		}
	}
	return best
}

// squareOf are the corners of the slanted square of a disc's area, seen as askew as the
// disc is by its second moments.
func squareOf(m colorimetry.Point, xx, xy, yy float64) [4]colorimetry.Point {
	// The square root of the moments' matrix takes the unit circle to half the disc.
	det := math.Sqrt(max(0, xx*yy-xy*xy))
	trace := math.Sqrt(xx + yy + 2*det)
	a, b, c := (xx+det)/trace, xy/trace, (yy+det)/trace
	half := math.Sqrt(math.Pi) // of the square's side: the radius is twice the root, the half side sqrt(pi)/2 of it
	at := func(x, y float64) colorimetry.Point {
		return colorimetry.Point{X: m.X + half*(a*x+b*y), Y: m.Y + half*(b*x+c*y)}
	}
	return [4]colorimetry.Point{at(-1, -1), at(1, -1), at(1, 1), at(-1, 1)}
}
