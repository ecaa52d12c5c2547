package outline

import (
	"math"
	"slices"
	"sort"

	"padband/colorimetry"
)

// row is a chain put to as many places as a row of the chart has, from one end to the
// other; score is how well it looks like one, in nats.
type row struct {
	spots   []spot
	of      chain
	dropped int // patches of the chain that it leaves out
	score   float64
}

// What a row is worth and what speaks against it, in nats. The deviations are shares of
// the step between two patches.
const (
	worthPatch     = 3.0
	worthFirst     = 1.0 // of the first two, which any two patches make
	costDropped    = 2.0 // a patch in line that the row does not need
	costMissing    = 2.0 // a place without a patch, where the ground is even
	costUneven     = 2.5 // and more where it is not
	unevenness     = 0.08
	pointsUneven   = 1.2 // points, by which patches' middles are found at best
	bending        = 0.12
	areaUneven     = 0.25 // of the logarithm of the area
	paperUneven    = 6.0  // CIELAB units
	mostMissing    = 0.4  // share of a row's places
	longFrom       = 2.0  // longer side over shorter, from which a patch looks like none
	mostLong       = 2.0
	evenGround     = 3.0 // CIELAB units within a place that may hold a patch
	pushedTogether = 4.0 // the most that one place may cost
)

// rowsOf are the ways in which a chain may hold a row of n patches, the best first.
func (s *search) rowsOf(c chain, n int) []row {
	k := rowKey{c.spots[0].patch, c.spots[len(c.spots)-1].patch, len(c.spots), n}
	rows, ok := s.rows[k]
	if !ok {
		rows = s.newRows(c, n)
		s.rows[k] = rows
	}
	return rows
}

// rowKey names the rows of n places in a chain that runs one way.
type rowKey struct {
	first, last, length, n int
}

// settledRows are those of rowsOf with their empty places moved to where faint patches
// are seen.
func (s *search) settledRows(c chain, n int) []row {
	k := rowKey{c.spots[0].patch, c.spots[len(c.spots)-1].patch, len(c.spots), n}
	rows, ok := s.settledOnce[k]
	if ok {
		return rows
	}
	for _, r := range s.rowsOf(c, n) {
		r.spots = s.settle(r.spots)
		rows = append(rows, r)
	}
	s.settledOnce[k] = rows
	return rows
}

func (s *search) newRows(c chain, n int) []row {
	var all []row
	add := func(spots []spot, dropped int) {
		if r, ok := s.row(spots); ok {
			r.of, r.dropped = c, dropped
			r.score -= costDropped * float64(dropped)
			all = append(all, r)
		}
	}
	have := len(c.spots)
	if have >= n {
		for k := 0; k+n <= have; k++ {
			if c.spots[k].patch >= 0 && c.spots[k+n-1].patch >= 0 {
				add(c.spots[k:k+n], have-n)
			}
		}
	}
	// A row may begin or end with places where nothing was found.
	if miss := n - have; miss > 0 && have >= 2 && float64(miss) <= math.Ceil(mostMissing*float64(n)) {
		for front := 0; front <= miss; front++ {
			add(extended(c.spots, front, miss-front), 0)
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].score > all[j].score })
	return all[:min(len(all), 4)]
}

// extended adds empty places before and behind.
func extended(spots []spot, before, behind int) []spot {
	out := slices.Clone(spots)
	for range behind {
		k := len(out)
		out = append(out, beyond(out[:k]))
	}
	slices.Reverse(out)
	for range before {
		k := len(out)
		out = append(out, beyond(out[:k]))
	}
	slices.Reverse(out)
	return out
}

// beyond is the place that follows the last of a row: a step on, which grows or shrinks
// as the steps before did.
func beyond(spots []spot) spot {
	k := len(spots)
	next := between(spots[k-2], spots[k-1], 2)
	if k >= 4 {
		a, b, c, d := spots[k-4].mid, spots[k-3].mid, spots[k-2].mid, spots[k-1].mid
		// The mean of the last two changes of step, halved: it is known from few places.
		dx, dy := (d.X-c.X-b.X+a.X)/4, (d.Y-c.Y-b.Y+a.Y)/4
		next.mid.X, next.mid.Y = next.mid.X+dx, next.mid.Y+dy
		for i := range next.quad {
			next.quad[i].X, next.quad[i].Y = next.quad[i].X+dx, next.quad[i].Y+dy
		}
	}
	return next
}

// row weighs the places of a row.
func (s *search) row(spots []spot) (row, bool) {
	r := row{spots: spots}
	found := 0
	for _, p := range spots {
		if p.patch >= 0 {
			found++
			r.score -= min(mostLong, max(0, s.all[p.patch].Stretch()-longFrom))
			if found > 2 {
				r.score += worthPatch
			} else {
				r.score += worthFirst
			}
			continue
		}
		cost, on := s.emptyCost(p)
		if !on {
			return r, false
		}
		r.score -= cost
	}
	if missing := len(spots) - found; found < 2 || float64(missing) > math.Ceil(mostMissing*float64(len(spots))) {
		return r, false
	}
	r.score -= s.unevenCost(spots)
	return r, true
}

// emptyCost is what a place without a found patch costs; on is false where it leaves
// the picture.
func (s *search) emptyCost(p spot) (cost float64, on bool) {
	for _, c := range p.quad {
		if !s.g.Has(c) {
			return 0, false
		}
	}
	if s.g.Spread(shrunk(p, 0.6)) > evenGround {
		return costMissing + costUneven, true
	}
	return costMissing, true
}

// shrunk are the corners of a spot drawn towards its middle, to a share of its size.
func shrunk(p spot, share float64) (out [4]colorimetry.Point) {
	for i, c := range p.quad {
		out[i] = colorimetry.Point{X: p.mid.X + share*(c.X-p.mid.X), Y: p.mid.Y + share*(c.Y-p.mid.Y)}
	}
	return out
}

// unevenCost is what uneven steps, sizes and paper cost.
func (s *search) unevenCost(spots []spot) (cost float64) {
	n := len(spots)
	half := func(x float64) float64 { return min(pushedTogether, x*x/2) }
	if n > 2 {
		var bend []colorimetry.Point
		var mean colorimetry.Point
		step := spots[0].mid.Distance(spots[n-1].mid) / float64(n-1)
		uneven, size := math.Hypot(unevenness, pointsUneven/step), math.Sqrt(spots[n/2].area)
		for k := 1; k+1 < n; k++ {
			a, b, c := spots[k-1], spots[k], spots[k+1]
			d := colorimetry.Point{X: (a.mid.X - 2*b.mid.X + c.mid.X) / step, Y: (a.mid.Y - 2*b.mid.Y + c.mid.Y) / step}
			bend = append(bend, d)
			mean.X, mean.Y = mean.X+d.X/float64(n-2), mean.Y+d.Y/float64(n-2)
			cost += half((math.Log(a.area) - 2*math.Log(b.area) + math.Log(c.area)) / math.Hypot(areaUneven, 2*pointsUneven/size))
		}
		for _, d := range bend {
			cost += half(d.Distance(mean) / uneven)
		}
		cost += half(math.Hypot(mean.X, mean.Y) / bending)
	}
	before := -1
	for _, p := range spots {
		if p.patch < 0 {
			continue
		}
		if before >= 0 {
			cost += min(2, half(colorimetry.DeltaE76(s.paper[p.patch].colour, s.paper[before].colour)/paperUneven))
		}
		before = p.patch
	}
	return cost
}
