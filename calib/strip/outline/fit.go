package outline

import (
	"cmp"
	"math"
	"slices"

	"padband/charts"
	"padband/colorimetry"
)

// line is one row of cells that the chart promises.
type line struct {
	analyte int // its number in the chart
	part    int
	n       int // swatches
	digits  [][2]float64
}

// linesOf are the rows of a chart in the order in which they are printed: one for each
// part of each analyte.
func linesOf(chart charts.Chart) (all []line) {
	for i, a := range chart.Analytes {
		for part := 1; part <= max(1, a.Parts); part++ {
			all = append(all, line{i, part, len(a.Swatches), digits(a)})
		}
	}
	return all
}

// fit is a chart laid over the patches: a row of places for every line, each along one
// direction of the picture; the rows stand in the order of the lines.
type fit struct {
	rows   []row
	ux, uy float64 // along the rows
	along  bool    // the first line comes first across the rows: to the right of (ux, uy), seen on the picture
	score  float64
	by     *laying // where a known arrangement was laid; nil: the rows were put together one by one
}

// These say which rows may belong together.
const (
	mostTurn     = 0.36 // radians between two rows
	mostAreaSpan = 3.5  // of areas
	leastRowGap  = 0.85 // between two rows, of their patches' height
	easyRowGap   = 3.0
	costRowGap   = 0.8 // for each height more
	costBeside   = 6.0 // for rows that do not stand over each other
	costUnused   = 1.2 // for each patch of like size among the rows that belongs to none
	mostSeeds    = 40
	mostFits     = 8
)

// oriented is a chain that runs along a direction, with its place across it.
type oriented struct {
	chain
	at, height float64 // of its middle, across the direction
	from, to   float64 // along it
}

// fits are the ways in which the chart's lines lie on the chains, the best first.
func (s *search) fits(chains []chain, lines []line) []fit {
	var all []fit
	seeds := 0
	for _, seed := range chains {
		if !s.holds(seed, lines) {
			continue
		}
		if seeds++; seeds > mostSeeds {
			break
		}
		ux, uy := seed.direction()
		family := s.family(chains, seed, ux, uy)
		for _, order := range [2]bool{true, false} {
			f, ok := s.laid(family, lines, order)
			if !ok {
				continue
			}
			f.ux, f.uy, f.along = ux, uy, order
			f.score -= s.unusedCost(f)
			all = keepFit(all, f)
		}
	}
	slices.SortStableFunc(all, func(a, b fit) int { return cmp.Compare(b.score, a.score) })
	return all[:min(len(all), mostFits)]
}

// holds reports whether a chain may be a row of one of the lines.
func (s *search) holds(c chain, lines []line) bool {
	for _, l := range lines {
		if r, ok := s.best(c, l.n); ok && r.score > 0 {
			return true
		}
	}
	return false
}

// keepFit adds a fit unless the same rows were found from another seed.
func keepFit(all []fit, f fit) []fit {
	for i, g := range all {
		if f.sameAs(g) {
			if f.score > g.score {
				all[i] = f
			}
			return all
		}
	}
	return append(all, f)
}

// sameAs reports whether two fits put every place where the other puts it, the rows
// running either way.
func (f fit) sameAs(g fit) bool {
	turned := f.ux*g.ux+f.uy*g.uy < 0
	for i, r := range f.rows {
		o := g.rows[i]
		for k, p := range r.spots {
			q := o.spots[k]
			if turned {
				q = o.spots[len(o.spots)-1-k]
			}
			if p.mid.Distance(q.mid) > 0.3*math.Sqrt(p.area) {
				return false
			}
		}
	}
	return true
}

// direction is that of the chain's ends, of length 1.
func (c chain) direction() (ux, uy float64) {
	a, b := c.spots[0].mid, c.spots[len(c.spots)-1].mid
	d := a.Distance(b)
	return (b.X - a.X) / d, (b.Y - a.Y) / d
}

// area is the middle one of the chain's areas.
func (c chain) area() float64 {
	var all []float64
	for _, p := range c.spots {
		all = append(all, p.area)
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// family are the chains that may be rows beside the seed, ordered across it.
func (s *search) family(chains []chain, seed chain, ux, uy float64) (all []oriented) {
	own := seed.area()
	for _, c := range chains {
		cx, cy := c.direction()
		cos := cx*ux + cy*uy
		if math.Abs(cos) < math.Cos(mostTurn) || c.area() > mostAreaSpan*own || own > mostAreaSpan*c.area() {
			continue
		}
		if cos < 0 {
			c.spots = slices.Clone(c.spots)
			slices.Reverse(c.spots)
		}
		all = append(all, place(c, ux, uy))
	}
	slices.SortStableFunc(all, func(a, b oriented) int { return cmp.Compare(a.at, b.at) })
	return all
}

// place tells where a chain lies along a direction and across it.
func place(c chain, ux, uy float64) oriented {
	o := oriented{chain: c, from: math.Inf(1), to: math.Inf(-1)}
	n := float64(len(c.spots))
	for _, p := range c.spots {
		o.at += (p.mid.Y*ux - p.mid.X*uy) / n
		o.height += 2 * reach(p.quad, -uy, ux) / n
		along := p.mid.X*ux + p.mid.Y*uy
		o.from, o.to = min(o.from, along), max(o.to, along)
	}
	return o
}

// best is the best row of n places in a chain.
func (s *search) best(of chain, n int) (row, bool) {
	rows := s.rowsOf(of, n)
	if len(rows) == 0 {
		return row{}, false
	}
	return rows[0], true
}

// laid lays the lines on chains of a family, in the order of the lines or the other way
// round, so that the sum of what the rows are worth is greatest.
func (s *search) laid(family []oriented, lines []line, order bool) (fit, bool) {
	if !order {
		lines = slices.Clone(lines)
		slices.Reverse(lines)
	}
	n := len(family)
	from := make([][]int, len(lines)) // the chain of the line before
	sum := make([]float64, n)
	for i, l := range lines {
		from[i] = make([]int, n)
		next := make([]float64, n)
		for k, c := range family {
			next[k], from[i][k] = math.Inf(-1), -1
			if k < i {
				continue
			}
			r, ok := s.best(c.chain, l.n)
			if !ok {
				continue
			}
			if i == 0 {
				next[k] = r.score
				continue
			}
			for j := range k {
				if math.IsInf(sum[j], -1) || sum[j]+r.score <= next[k] {
					continue
				}
				if v := sum[j] + r.score - rowGapCost(family[j], c); v > next[k] {
					next[k], from[i][k] = v, j
				}
			}
		}
		sum = next
	}
	best := -1
	for k := range sum {
		if !math.IsInf(sum[k], 0) && (best < 0 || sum[k] > sum[best]) {
			best = k
		}
	}
	if best < 0 {
		return fit{}, false
	}
	f := fit{score: sum[best], rows: make([]row, len(lines))}
	for i := len(lines) - 1; i >= 0; i-- {
		at := i
		if !order {
			at = len(lines) - 1 - i
		}
		f.rows[at], _ = s.best(family[best].chain, lines[i].n)
		best = from[i][best]
	}
	return f, true
}

// rowGapCost is what it costs that one row follows another; rows that would lie in each
// other cannot.
func rowGapCost(a, b oriented) float64 {
	gap := (b.at - a.at) / max(1, (a.height+b.height)/2)
	if gap < leastRowGap {
		return math.Inf(1)
	}
	cost := costRowGap * max(0, gap-easyRowGap)
	if min(a.to, b.to)-max(a.from, b.from) < 0 {
		cost += costBeside
	}
	return cost
}

// unusedCost counts the patches that lie among the rows and belong to none.
func (s *search) unusedCost(f fit) float64 {
	used := map[int]bool{}
	var hull []colorimetry.Point
	area := 0.0
	for _, r := range f.rows {
		for _, p := range r.spots {
			used[p.patch] = true
			hull = append(hull, p.mid)
			area = max(area, p.area)
		}
	}
	lo, hi := hull[0], hull[0]
	loV, hiV := math.Inf(1), math.Inf(-1)
	lo.X, hi.X = math.Inf(1), math.Inf(-1)
	for _, p := range hull {
		u, v := p.X*f.ux+p.Y*f.uy, p.Y*f.ux-p.X*f.uy
		lo.X, hi.X = min(lo.X, u), max(hi.X, u)
		loV, hiV = min(loV, v), max(hiV, v)
	}
	cost := 0.0
	for k, p := range s.all {
		u, v := p.Middle.X*f.ux+p.Middle.Y*f.uy, p.Middle.Y*f.ux-p.Middle.X*f.uy
		if used[k] || p.Area < area/4 || p.Area > 2*area || u < lo.X || u > hi.X || v < loV || v > hiV {
			continue
		}
		inUsed := false
		for _, r := range f.rows {
			for _, q := range r.spots {
				inUsed = inUsed || q.mid.Distance(p.Middle) < 0.7*math.Sqrt(q.area)
			}
		}
		if !inUsed {
			cost += costUnused
		}
	}
	return min(cost, 12)
}
