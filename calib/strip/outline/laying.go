package outline

import (
	"cmp"
	"math"
	"slices"

	"padband/colorimetry"
)

// laying is a flat arrangement laid on the patches of a picture.
type laying struct {
	plane plane
	grown float64           // sides of the patches, of those of the arrangement's places
	found []int             // the patch of each place, row by row; -1 where none was found
	seen  int               // patches found
	score float64           // nats, as that of a fit
	at    colorimetry.Point // the middle of the arrangement
}

// How an arrangement is laid.
const (
	mostStarts    = 7 // places from which it is tried
	enoughStarts  = 3 // and fewer where most of it was seen
	mostSeen      = 0.85
	startReach    = 9.0  // sizes of a patch, how far the places of one start may lie apart
	leastLarger   = 0.6  // area of a patch, of the place's: outlines drawn by hand leave a margin
	mostLarger    = 3.5  //
	startArea     = 1.8  // between the patches of one start
	startStep     = 1.7  // of steps in sizes, foreshortened
	nearPlace     = 0.35 // of its size, from where a patch is expected
	likeArea      = 1.9  // of what is expected, while the plane is not known well
	sameArea      = 1.5  // and when it is: a patch that ran into another is none of its own
	mostLaid      = 8
	mostTries     = 300
	sameLaid      = 0.3
	leastLaid     = 0.6  // share of the places at which a patch is seen
	laidUneven    = 0.07 // of a patch's size
	laidAreas     = 0.3  // of the logarithm of the area
	mostLaidOff   = 2.0  // nats, of one patch
	leastSquare   = 0.75 // sine between the sides of a square as it is seen
	leastSine     = 0.35 // between the sides of a start
	worthLaidFrom = 3    // patches that any three patches make
)

// place is where a place of the arrangement lies in the picture, as large as a patch.
func (l laying) place(p spot) spot { return l.plane.carried(p, l.grown) }

// axes are the directions in the picture of the arrangement's own to the right and
// down, near a place, of length 1.
func (l laying) axes(at colorimetry.Point) (right, down colorimetry.Point) {
	const step = 1e-3
	from := l.plane.apply(at)
	to := func(dx, dy float64) colorimetry.Point {
		q := l.plane.apply(colorimetry.Point{X: at.X + dx, Y: at.Y + dy})
		d := q.Distance(from)
		return colorimetry.Point{X: (q.X - from.X) / d, Y: (q.Y - from.Y) / d}
	}
	return to(step, 0), to(0, step)
}

// layer lays one arrangement on the patches of one picture.
type layer struct {
	s      *search
	places []spot // all of them, row by row, on the arrangement made even
	next   []int  // the place that follows each in its row, or comes before its last
	all    []laying
	boxes  map[[2]int][]int // the patches in each box of the picture
	left   int              // layings that one start may still try, on a table that is one pattern
}

// box is the side of a box in which patches are kept, in points.
const box = 32

// laid are the ways in which the arrangement lies on the patches, the best first.
func (k known) laid(s *search) []laying {
	even := k.even()
	y := layer{s: s, boxes: map[[2]int][]int{}}
	for i, p := range s.all {
		at := [2]int{int(p.Middle.X / box), int(p.Middle.Y / box)}
		y.boxes[at] = append(y.boxes[at], i)
	}
	for _, row := range k.rows {
		for n, p := range row {
			y.places = append(y.places, even.carried(p, 1))
			if n == len(row)-1 {
				y.next = append(y.next, len(y.places)-2)
			} else {
				y.next = append(y.next, len(y.places))
			}
		}
	}
	n := min(len(y.places), mostStarts)
	for k := range n {
		if k >= enoughStarts && slices.ContainsFunc(y.all, func(l laying) bool { return float64(l.seen) >= mostSeen*float64(len(y.places)) }) {
			break
		}
		y.start(scattered(k, n) * len(y.places) / n)
	}
	for i := range y.all {
		y.all[i].at = k.middle()
		y.all[i].plane = plane(colorimetry.Matrix3(y.all[i].plane).Mul(colorimetry.Matrix3(even)))
	}
	return y.all
}

// scattered is the number k of n numbers in an order in which those that follow each
// other lie apart.
func scattered(k, n int) int {
	half := (n + 1) / 2
	if k < half {
		return 2 * k
	}
	return 2*(k-half) + 1
}

// even makes the arrangement's places about as high as they are wide: nobody knows how
// long the sides of a unit square are.
func (k known) even() plane {
	wide, high := 0.0, 0.0
	for _, row := range k.rows {
		for _, p := range row {
			wide, high = wide+reach(p.quad, 1, 0), high+reach(p.quad, 0, 1)
		}
	}
	return plane{{1, 0, 0}, {0, wide / high, 0}, {0, 0, 1}}
}

// start lays the arrangement from one place, the next in its row, and a third that is not
// in line with them, on every three patches that may be they.
func (y *layer) start(i int) {
	order := y.from(i)
	y.left = mostTries
	j, k := y.next[i], -1
	ux, uy := direction(y.places[i].mid, y.places[j].mid)
	for _, c := range order[1:] {
		vx, vy := direction(y.places[i].mid, y.places[c].mid)
		if math.Abs(ux*vy-uy*vx) > leastSine {
			k = c
			break
		}
	}
	for a := range y.s.all {
		second := y.mayBe(i, j, a)
		if len(second) == 0 {
			continue
		}
		var third []int
		if k >= 0 {
			third = y.mayBe(i, k, a)
		}
		for _, b := range second {
			if k < 0 {
				p, q := y.places[i].mid, y.places[j].mid
				v, w := y.s.all[a].Middle, y.s.all[b].Middle
				y.lay(order, [3]colorimetry.Point{p, q, beside(p, q)}, [3]colorimetry.Point{v, w, beside(v, w)}, []int{i, j}, []int{a, b})
				continue
			}
			for _, c := range third {
				y.lay(order, [3]colorimetry.Point{y.places[i].mid, y.places[j].mid, y.places[k].mid},
					[3]colorimetry.Point{y.s.all[a].Middle, y.s.all[b].Middle, y.s.all[c].Middle}, []int{i, j, k}, []int{a, b, c})
			}
		}
	}
}

// beside is the place to which q lies as the x axis to p as the y axis.
func beside(p, q colorimetry.Point) colorimetry.Point {
	return colorimetry.Point{X: p.X - q.Y + p.Y, Y: p.Y + q.X - p.X}
}

func direction(a, b colorimetry.Point) (ux, uy float64) {
	d := a.Distance(b)
	return (b.X - a.X) / d, (b.Y - a.Y) / d
}

// from are all places, the nearest to one of them first.
func (y *layer) from(i int) (order []int) {
	for k := range y.places {
		order = append(order, k)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(y.places[a].mid.Distance(y.places[i].mid), y.places[b].mid.Distance(y.places[i].mid))
	})
	return order
}

// mayBe are the patches that may lie at place j if patch a lies at place i.
func (y *layer) mayBe(i, j, a int) (out []int) {
	p := y.s.all[a]
	step := y.places[i].mid.Distance(y.places[j].mid) / math.Sqrt(y.places[i].area) * y.s.size[a]
	if step > startReach*y.s.size[a]*math.Sqrt(mostLarger) {
		return nil
	}
	like := y.places[j].area / y.places[i].area
	for b, q := range y.s.all {
		dx, dy := math.Abs(p.Middle.X-q.Middle.X), math.Abs(p.Middle.Y-q.Middle.Y)
		if dx > startStep*step || dy > startStep*step || b == a {
			continue
		}
		d := math.Hypot(dx, dy)
		ratio := q.Area / p.Area / like
		if d < startStep*step/math.Sqrt(leastLarger) && d > step/startStep/math.Sqrt(mostLarger) && ratio < startArea && ratio > 1/startArea {
			out = append(out, b)
		}
	}
	return out
}

// lay lays the arrangement as three places lie, and keeps it where most patches are seen.
func (y *layer) lay(order []int, from, to [3]colorimetry.Point, places, found []int) {
	if y.left == 0 || y.have(places, found) {
		return
	}
	p, ok := through(from, to)
	if !ok {
		return
	}
	det := p[0][0]*p[1][1] - p[0][1]*p[1][0]
	sides := math.Hypot(p[0][0], p[1][0]) * math.Hypot(p[0][1], p[1][1])
	if !(det > leastSquare*sides) {
		return
	}
	larger := y.s.all[found[0]].Area / (det * y.places[places[0]].area)
	if larger < leastLarger || larger > mostLarger {
		return
	}
	l := laying{plane: p, grown: math.Sqrt(larger)}
	if !y.grow(&l, order) {
		return
	}
	y.left--
	for range 3 {
		y.settle(&l)
	}
	if float64(l.seen) < leastLaid*float64(len(y.places)) || !y.weigh(&l) {
		return
	}
	y.keep(l)
}

// have reports whether patches lie at places in what was found already.
func (y *layer) have(places, found []int) bool {
	return slices.ContainsFunc(y.all, func(l laying) bool {
		for n, i := range places {
			if l.found[i] != found[n] {
				return false
			}
		}
		return true
	})
}

// grow mends the plane from the nearest places on; it gives up where few are seen.
func (y *layer) grow(l *laying, order []int) bool {
	var from, to []colorimetry.Point
	for n, i := range order {
		if k := y.seenAt(*l, i, likeArea); k >= 0 {
			from, to = append(from, y.places[i].mid), append(to, y.s.all[k].Middle)
			if len(from) > 3 && (len(from) < 9 || len(from)%5 == 0) {
				l.plane = l.plane.mended(from, to)
			}
		}
		if n >= 4 && 2*len(from) < n+1 {
			return false
		}
	}
	l.plane = l.plane.mended(from, to)
	return true
}

// seenAt is the patch of about the size of a place that is there, -1 where there is none.
func (y *layer) seenAt(l laying, i int, like float64) int {
	at := l.place(y.places[i])
	if !(at.area > 0) {
		return -1
	}
	size := math.Sqrt(at.area)
	best, least := -1, nearPlace*size
	if !y.s.g.Has(at.mid) {
		return -1
	}
	for v := int((at.mid.Y - least) / box); v <= int((at.mid.Y+least)/box); v++ {
		for u := int((at.mid.X - least) / box); u <= int((at.mid.X+least)/box); u++ {
			for _, k := range y.boxes[[2]int{u, v}] {
				p := y.s.all[k]
				if d := p.Middle.Distance(at.mid); d < least && p.Area < like*at.area && at.area < like*p.Area {
					best, least = k, d
				}
			}
		}
	}
	return best
}

// settle looks for the patches of all places and mends the plane by them. A patch is
// that of the place nearest to it.
func (y *layer) settle(l *laying) {
	l.found = make([]int, len(y.places))
	owner := map[int]int{}
	off := func(i, k int) float64 { return l.plane.apply(y.places[i].mid).Distance(y.s.all[k].Middle) }
	for i := range y.places {
		k := y.seenAt(*l, i, sameArea)
		l.found[i] = k
		if k < 0 {
			continue
		}
		if o, taken := owner[k]; taken {
			if off(o, k) <= off(i, k) {
				l.found[i] = -1
				continue
			}
			l.found[o] = -1
		}
		owner[k] = i
	}
	l.seen = len(owner)
	var from, to []colorimetry.Point
	var grown []float64
	for i, k := range l.found {
		if k >= 0 {
			from, to = append(from, y.places[i].mid), append(to, y.s.all[k].Middle)
			grown = append(grown, math.Sqrt(y.s.all[k].Area/l.place(y.places[i]).area))
		}
	}
	if len(grown) > 0 {
		slices.Sort(grown)
		l.plane, l.grown = l.plane.mended(from, to), l.grown*grown[len(grown)/2]
	}
}

// weigh gives the laying its score; it reports whether all of it lies in the picture.
func (y *layer) weigh(l *laying) bool {
	l.score = -(worthPatch - worthFirst) * worthLaidFrom
	for i, k := range l.found {
		at := l.place(y.places[i])
		cost, on := y.s.emptyCost(at)
		if !on {
			return false
		}
		if k < 0 {
			l.score -= cost
			continue
		}
		p, size := y.s.all[k], math.Sqrt(at.area)
		d := p.Middle.Distance(at.mid) / size / math.Hypot(laidUneven, pointsUneven/size)
		a := math.Log(p.Area/at.area) / laidAreas
		l.score += worthPatch - min(mostLaidOff, d*d/2) - min(mostLaidOff, a*a/2)
	}
	return true
}

// keep keeps a laying, the better of two that put every place at the same place.
func (y *layer) keep(l laying) {
	for i, o := range y.all {
		if y.same(l, o) {
			if l.score > o.score {
				y.all[i] = l
			}
			return
		}
	}
	y.all = append(y.all, l)
	slices.SortStableFunc(y.all, func(a, b laying) int { return cmp.Compare(b.score, a.score) })
	y.all = y.all[:min(len(y.all), mostLaid)]
}

// same reports whether two layings put every place at the same place.
func (y *layer) same(l, o laying) bool {
	for _, p := range y.places {
		at := l.place(p)
		if !(at.mid.Distance(o.plane.apply(p.mid)) < sameLaid*math.Sqrt(at.area)) {
			return false
		}
	}
	return true
}
