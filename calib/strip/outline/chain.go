package outline

import (
	"cmp"
	"math"
	"slices"

	"padband/colorimetry"
	"padband/colorimetry/patches"
)

// spot is one place of a chain: a patch that was found, or the place where one should
// be, with the outline that it would have.
type spot struct {
	patch int // its number among the patches; -1 where none was found
	mid   colorimetry.Point
	quad  [4]colorimetry.Point
	area  float64
	faint float64 // of a place without a found patch: how clearly its edges are seen
}

// chain is a row of patches in a line, evenly spaced, with holes where one was not
// found. It has a patch at both ends.
type chain struct {
	spots []spot
	found int // patches among the spots
}

// How a chain grows. Shares of the step from one patch to the next.
const (
	nearAlong   = 0.22
	nearAcross  = 0.14
	areaFactor  = 1.9 // from one patch to the next
	mostStep    = 3.6 // times the patch's size, from middle to middle
	leastStep   = 0.85
	mostPatches = 1200
	mostLength  = 24
)

// search holds what is known of a picture while its chart is looked for.
type search struct {
	g     *patches.Ground
	all   []patches.Patch
	size  []float64 // square roots of the areas
	paper []paper   // what lies about each patch
	near  [][]int   // patches that may stand next to each in a row

	known  *known // how the chart's swatches lie to each other, where that is known
	before *told  // what an earlier photo tells

	// What was worked out before: the same chain comes in many families.
	rows, settledOnce map[rowKey][]row
	inks              map[inkKey][]float64
	seen              []float64 // a buffer
}

func newSearch(g *patches.Ground) *search {
	s := &search{
		g: g, all: g.Find(),
		rows: map[rowKey][]row{}, settledOnce: map[rowKey][]row{}, inks: map[inkKey][]float64{},
	}
	if len(s.all) > mostPatches { // a texture: the small ones go
		slices.SortFunc(s.all, func(a, b patches.Patch) int { return cmp.Compare(b.Area, a.Area) })
		s.all = s.all[:mostPatches]
	}
	for _, p := range s.all {
		s.size = append(s.size, math.Sqrt(p.Area))
		s.paper = append(s.paper, s.about(p))
	}
	s.neighbours()
	return s
}

// neighbours lists for each patch those of like size that are close by.
func (s *search) neighbours() {
	s.near = make([][]int, len(s.all))
	for i, p := range s.all {
		for j := i + 1; j < len(s.all); j++ {
			q := s.all[j]
			if p.Area > areaFactor*q.Area || q.Area > areaFactor*p.Area {
				continue
			}
			d, own := p.Middle.Distance(q.Middle), max(s.size[i], s.size[j])
			if d < mostStep*own && d > 0.6*own {
				s.near[i], s.near[j] = append(s.near[i], j), append(s.near[j], i)
			}
		}
	}
}

// reach is how far a patch extends from its middle towards a direction of length 1.
func reach(quad [4]colorimetry.Point, ux, uy float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range quad {
		d := c.X*ux + c.Y*uy
		lo, hi = min(lo, d), max(hi, d)
	}
	return (hi - lo) / 2
}

// chains are the rows that patches make, each once, without those that lie whole in a
// longer one.
func (s *search) chains() []chain {
	var all []chain
	seen := map[[2]int]bool{} // neighbours in a chain
	for i := range s.all {
		for _, j := range s.near[i] {
			if seen[[2]int{i, j}] || !s.apart(i, j) {
				continue
			}
			c := s.grown(i, j)
			for k := 1; k < len(c.spots); k++ {
				a, b := c.spots[k-1].patch, c.spots[k].patch
				seen[[2]int{a, b}], seen[[2]int{b, a}] = true, true
			}
			seen[[2]int{i, j}], seen[[2]int{j, i}] = true, true
			if c.found >= 2 {
				all = append(all, c)
			}
		}
	}
	return withoutParts(all)
}

// apart reports whether two patches do not lie in each other.
func (s *search) apart(i, j int) bool {
	a, b := s.all[i], s.all[j]
	d := a.Middle.Distance(b.Middle)
	ux, uy := (b.Middle.X-a.Middle.X)/d, (b.Middle.Y-a.Middle.Y)/d
	touch := reach(a.Corners, ux, uy) + reach(b.Corners, ux, uy)
	return d > leastStep*touch && d < 2.6*touch
}

// grown is the chain through two patches, grown at both ends.
func (s *search) grown(i, j int) chain {
	line := []int{i, j}
	line = s.extend(line)
	slices.Reverse(line)
	line = s.extend(line)
	c := chain{}
	for _, k := range line {
		if k >= 0 {
			c.found++
		}
		c.spots = append(c.spots, s.spot(k))
	}
	c.fillHoles()
	return c
}

func (s *search) spot(k int) spot {
	if k < 0 {
		return spot{patch: -1}
	}
	return spot{patch: k, mid: s.all[k].Middle, quad: s.all[k].Corners, area: s.all[k].Area}
}

// extend adds patches to the end of a line as long as one stands where it should; one
// may be missing between two.
func (s *search) extend(line []int) []int {
	for len(line) < mostLength {
		n := len(line)
		if line[n-2] < 0 { // the step over a hole is known from both its sides
			last, before := s.all[line[n-1]].Middle, s.all[line[n-3]].Middle
			step := colorimetry.Point{X: (last.X - before.X) / 2, Y: (last.Y - before.Y) / 2}
			k := s.nextTo(line, colorimetry.Point{X: last.X + step.X, Y: last.Y + step.Y}, step, 1)
			if k < 0 {
				return line
			}
			line = append(line, k)
			continue
		}
		last, before := s.all[line[n-1]].Middle, s.all[line[n-2]].Middle
		step := colorimetry.Point{X: last.X - before.X, Y: last.Y - before.Y}
		if n >= 3 && line[n-3] >= 0 { // round a bottle steps grow or shrink
			a := s.all[line[n-3]].Middle
			step.X, step.Y = step.X+0.7*(last.X-2*before.X+a.X), step.Y+0.7*(last.Y-2*before.Y+a.Y)
		}
		at := colorimetry.Point{X: last.X + step.X, Y: last.Y + step.Y}
		if k := s.nextTo(line, at, step, 1); k >= 0 {
			line = append(line, k)
			continue
		}
		k := s.nextTo(line, colorimetry.Point{X: at.X + step.X, Y: at.Y + step.Y}, step, 1.5)
		if k < 0 || n < 3 {
			return line
		}
		line = append(line, -1, k)
	}
	return line
}

// nextTo is the patch nearest to a place, of those that may follow the line's last; -1
// where none is near.
func (s *search) nextTo(line []int, at, step colorimetry.Point, loose float64) int {
	last := line[len(line)-1]
	length := math.Hypot(step.X, step.Y)
	ux, uy := step.X/length, step.Y/length
	found, least := -1, math.Inf(1)
	for k := range s.all {
		p := &s.all[k]
		dx, dy := p.Middle.X-at.X, p.Middle.Y-at.Y
		if math.Abs(dx)+math.Abs(dy) > length || slices.Contains(line, k) {
			continue
		}
		along, across := (dx*ux+dy*uy)/length, (dy*ux-dx*uy)/length
		if math.Abs(along) > nearAlong*loose || math.Abs(across) > nearAcross*loose {
			continue
		}
		ratio := math.Abs(math.Log(p.Area / s.all[last].Area))
		if ratio > math.Log(areaFactor) {
			continue
		}
		if cost := along*along/nearAlong + across*across/nearAcross + 0.3*ratio; cost < least {
			found, least = k, cost
		}
	}
	return found
}

// fillHoles gives the holes between patches their places.
func (c *chain) fillHoles() {
	for k := 1; k+1 < len(c.spots); k++ {
		if c.spots[k].patch < 0 {
			a, b := c.spots[k-1], c.spots[k+1]
			c.spots[k] = between(a, b, 0.5)
		}
	}
}

// between is the spot at a share of the way from a to b; a share outside 0 to 1 goes on
// beyond them.
func between(a, b spot, share float64) spot {
	mix := func(p, q colorimetry.Point) colorimetry.Point {
		return colorimetry.Point{X: p.X + share*(q.X-p.X), Y: p.Y + share*(q.Y-p.Y)}
	}
	s := spot{patch: -1, mid: mix(a.mid, b.mid)}
	own := a
	if share > 0.5 {
		own = b
	}
	factor := 1.0 // of size, as from one to the other, but not far
	if a.area > 0 && b.area > 0 {
		factor = math.Sqrt(a.area / own.area * math.Pow(b.area/a.area, max(-1, min(2, share))))
		factor = max(0.8, min(1.25, factor))
	}
	for i, q := range own.quad {
		s.quad[i] = colorimetry.Point{X: s.mid.X + factor*(q.X-own.mid.X), Y: s.mid.Y + factor*(q.Y-own.mid.Y)}
	}
	s.area = own.area * factor * factor
	return s
}

// step is the mean way from one place to the next.
func (c chain) step() float64 {
	n := len(c.spots)
	return c.spots[0].mid.Distance(c.spots[n-1].mid) / float64(n-1)
}

// withoutParts leaves out chains all of whose patches are in one longer chain of about
// the same step. One of twice the step stays: pads alternate with the white between them.
func withoutParts(all []chain) []chain {
	slices.SortStableFunc(all, func(a, b chain) int { return b.found - a.found })
	holds := map[int][]int{} // patch: the kept chains it is in
	var kept []chain
	for _, c := range all {
		in := map[int]int{}
		part := false
		for _, s := range c.spots {
			if s.patch < 0 {
				continue
			}
			for _, k := range holds[s.patch] {
				in[k]++
				part = part || in[k] == c.found && c.step() < 1.5*kept[k].step()
			}
		}
		if part {
			continue
		}
		for _, s := range c.spots {
			if s.patch >= 0 {
				holds[s.patch] = append(holds[s.patch], len(kept))
			}
		}
		kept = append(kept, c)
	}
	return kept
}
