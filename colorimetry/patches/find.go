package patches

import (
	"math"

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

// runsEvery is how many points there are for one run, about: room is made for so many.
const runsEvery = 8

// levels are the slopes below which colour is flat, CIELAB units a point.
var levels = []float32{0.8, 1.2, 2, 3.5}

// Find finds the flat patches of the ground: convex areas whose colour changes by less
// than a slope from point to point, each once. A patch that touches another of nearly
// its colour may come out joined to it.
func (g *Ground) Find() []Patch {
	var all []Patch
	runs := make([]run, 0, len(g.slope)/runsEvery)
	for level, slope := range levels {
		runs = g.runs(runs[:0], slope)
		for _, area := range g.areas(runs) {
			if p, ok := g.patch(area); ok {
				p.Level = level
				all = keep(all, p)
			}
		}
	}
	return all
}

// run is a piece of a row that is flat, from one point up to another; joined is a run
// above it that it touches, or itself.
type run struct {
	y, from, to int32
	joined      int32
}

// runs are the flat pieces of all rows, each joined to those it touches in the row above.
func (g *Ground) runs(all []run, slope float32) []run {
	above := 0 // where the row above begins
	for y := range g.Height {
		row := g.slope[y*g.Width : (y+1)*g.Width]
		begin := len(all)
		k := above
		for x := 0; x < len(row); x++ {
			if !(row[x] < slope) {
				continue
			}
			from := x
			for x < len(row) && row[x] < slope {
				x++
			}
			own := int32(len(all))
			all = append(all, run{int32(y), int32(from), int32(x), own})
			for k < begin && int(all[k].to) <= from {
				k++
			}
			for j := k; j < begin && int(all[j].from) < x; j++ {
				join(all, own, int32(j))
			}
		}
		above = begin
	}
	return all
}

// first is the run that stands for all that a run is joined to.
func first(all []run, k int32) int32 {
	for all[k].joined != k {
		all[k].joined = all[all[k].joined].joined
		k = all[k].joined
	}
	return k
}

func join(all []run, a, b int32) {
	a, b = first(all, a), first(all, b)
	if a < b {
		all[b].joined = a
	} else {
		all[a].joined = b
	}
}

// areas are the runs of each area that is neither too small nor too large for a patch,
// in the order of their first runs.
func (g *Ground) areas(all []run) [][]run {
	size, count := make([]int32, len(all)), make([]int32, len(all))
	for k := range all {
		f := first(all, int32(k))
		size[f] += all[k].to - all[k].from
		count[f]++
	}
	most := int32(mostShare * float64(len(g.slope)))
	at := size // from here on one more than the number of the area
	var out [][]run
	for k, r := range all {
		f := first(all, int32(k))
		if int(f) == k { // the first run of its area
			if size[f] < leastArea || size[f] > most {
				at[f] = 0
				continue
			}
			out = append(out, make([]run, 0, count[f]))
			at[f] = int32(len(out))
		}
		if at[f] > 0 {
			out[at[f]-1] = append(out[at[f]-1], r)
		}
	}
	return out
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

// patch is the patch of these runs, unless they are hollow, bent or long. What they
// enclose, such as a number printed on them, belongs to it.
func (g *Ground) patch(area []run) (Patch, bool) {
	hull, filled := outline(area)
	n := 0
	for _, r := range area {
		n += int(r.to - r.from)
	}
	if float64(n) < leastSolid*float64(filled) {
		return Patch{}, false
	}
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
	xx, xy, yy := g.measure(&p, area, float64(n))
	if p.Square < roundBelow {
		p.Corners = squareOf(p.Middle, xx, xy, yy)
	}
	return p, true
}

// measure gives a patch its colour and its middle, and returns its second moments.
func (g *Ground) measure(p *Patch, area []run, n float64) (xx, xy, yy float64) {
	var l, a, b, x, y float64
	for _, r := range area {
		py := float64(r.y) + 0.5
		for k, c := range g.lab[int(r.y)*g.Width+int(r.from) : int(r.y)*g.Width+int(r.to)] {
			px := float64(int(r.from)+k) + 0.5
			l, a, b = l+float64(c.l), a+float64(c.a), b+float64(c.b)
			x, y, xx, xy, yy = x+px, y+py, xx+px*px, xy+px*py, yy+py*py
		}
	}
	p.Colour = colorimetry.Lab{L: l / n, A: a / n, B: b / n}
	p.Middle = colorimetry.Point{X: x / n, Y: y / n}
	return xx/n - p.Middle.X*p.Middle.X, xy/n - p.Middle.X*p.Middle.Y, yy/n - p.Middle.Y*p.Middle.Y
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

// outline are the corners of the convex hull of an area's points as squares, and how many
// points lie between the first and the last of each row. Runs come row by row.
func outline(area []run) (hull []colorimetry.Point, filled int) {
	top := area[0].y
	rows := int(area[len(area)-1].y-top) + 1
	left, right := make([]float64, rows+1), make([]float64, rows+1) // at the edges between rows
	for i := range left {
		left[i], right[i] = math.Inf(1), math.Inf(-1)
	}
	for i := 0; i < len(area); {
		y, from, to := area[i].y, area[i].from, area[i].to
		for i < len(area) && area[i].y == y {
			from, to = min(from, area[i].from), max(to, area[i].to)
			i++
		}
		filled += int(to - from)
		for _, j := range [2]int32{y - top, y - top + 1} {
			left[j], right[j] = min(left[j], float64(from)), max(right[j], float64(to))
		}
	}
	var down, up []colorimetry.Point
	for j := range left {
		y := float64(int(top) + j)
		down = bend(down, colorimetry.Point{X: right[j], Y: y})
	}
	for j := rows; j >= 0; j-- {
		y := float64(int(top) + j)
		up = bend(up, colorimetry.Point{X: left[j], Y: y})
	}
	return append(down, up...), filled
}

// bend adds a point to a chain that turns one way only.
func bend(chain []colorimetry.Point, p colorimetry.Point) []colorimetry.Point {
	for len(chain) > 1 {
		a, b := chain[len(chain)-2], chain[len(chain)-1]
		if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) > 0 {
			break
		}
		chain = chain[:len(chain)-1]
	}
	return append(chain, p)
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
