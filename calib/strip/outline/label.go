package outline

import (
	"math"
	"strconv"

	"padband/charts"
	"padband/colorimetry"
)

// Values are printed beside their swatches, all of a chart's on the same side of them.
// What is printed cannot be read here, but a long number has more ink than a short one.

// band is where the numbers may stand beside a row: on the farther side of it across
// its direction or on the nearer, within so much of the patches' height.
type band struct {
	far   bool
	share float64
}

var shares = []float64{0.35, 0.6, 1}

// How numbers are told from nothing.
const (
	inkAbove   = 5.0   // L* below the paper's from which ink is counted
	leastInk   = 12.0  // of one number: points times L*
	inkSpread  = 0.33  // of the logarithm of the ink of one digit
	mostInk    = 2.5   // nats, what one number may tell
	digitPoint = 0.4   // of a digit's ink: a point, or a sign
	besideRow  = 0.065 // of the height, between a patch and its number
	blurred    = 2.5   // points, by which a patch's outline lies within its edge
)

var leastLog = math.Log(leastInk)

// digits is how much ink the number beside each swatch has, the logarithm of so many
// digits: of its value, and of its label where the chart has one, which may say more than
// is printed.
func digits(a charts.Analyte) (all [][2]float64) {
	for _, s := range a.Swatches {
		value := inDigits(strconv.FormatFloat(s.Value, 'f', -1, 64))
		label := value
		if s.Label != "" {
			label = inDigits(s.Label)
		}
		all = append(all, [2]float64{math.Log(value), math.Log(label)})
	}
	return all
}

func inDigits(text string) (n float64) {
	for _, r := range text {
		if r == '.' || r == ',' || r == '-' {
			n += digitPoint
		} else if r != ' ' {
			n++
		}
	}
	return max(n, digitPoint)
}

// inkKey names the ink beside a row on one side of it.
type inkKey struct {
	first, last colorimetry.Point
	n           int
	far         bool
	share       float64
}

// ink is the logarithm of what is printed beside each place of a row within a band.
func (s *search) ink(f fit, at int, b band) []float64 {
	r := f.rows[at]
	n := len(r.spots)
	key := inkKey{r.spots[0].mid, r.spots[n-1].mid, n, b.far, b.share}
	if known, ok := s.inks[key]; ok {
		return known
	}
	sums := make([][]float64, len(shares))
	for i := range sums {
		sums[i] = make([]float64, n)
	}
	for k, p := range r.spots {
		before, after := r.spots[max(0, k-1)], r.spots[min(n-1, k+1)]
		step, ux, uy := 2*reach(p.quad, f.ux, f.uy), f.ux, f.uy
		if d := before.mid.Distance(after.mid); d > 0 {
			step = d / float64(min(n-1, k+1)-max(0, k-1))
			ux, uy = (after.mid.X-before.mid.X)/d, (after.mid.Y-before.mid.Y)/d
		}
		half := reach(p.quad, -uy, ux)
		// A disc reaches an eighth beyond the square of its area, and edges are blurred.
		from, gap := half*(1+2*besideRow)+blurred, s.rowGap(f, at, p, b.far, ux, uy)
		for i, share := range shares {
			to := min(gap, half*(1+2*share)+blurred)
			if i > 0 {
				sums[i][k] = sums[i-1][k]
			}
			sums[i][k] += s.inkWithin(p, ux, uy, step/2, from, to, b.far)
			from = max(from, to)
		}
	}
	for i, share := range shares {
		key.share = share
		for k, v := range sums[i] {
			sums[i][k] = math.Log(max(v, leastInk/4))
		}
		s.inks[key] = sums[i]
	}
	key.share = b.share
	return s.inks[key]
}

// rowGap is how far it is from the middle of a place to the nearest patch of another
// row on that side.
func (s *search) rowGap(f fit, at int, p spot, far bool, ux, uy float64) float64 {
	gap := math.Inf(1)
	for i, r := range f.rows {
		if i == at {
			continue
		}
		for _, q := range r.spots {
			dx, dy := q.mid.X-p.mid.X, q.mid.Y-p.mid.Y
			across, along := dy*ux-dx*uy, dx*ux+dy*uy
			if !far {
				across = -across
			}
			own := reach(q.quad, -uy, ux)
			if across > own && math.Abs(along) < 1.5*reach(q.quad, ux, uy)+reach(p.quad, ux, uy) {
				gap = min(gap, across-own*(1+2*besideRow)-blurred)
			}
		}
	}
	return gap
}

// paperOf is the paper about a place: that of the nearest found patch of its row.
func (s *search) paperOf(r row, k int) colorimetry.Lab {
	for d := range r.spots {
		for _, j := range [2]int{k - d, k + d} {
			if j >= 0 && j < len(r.spots) && r.spots[j].patch >= 0 {
				return s.paper[r.spots[j].patch].colour
			}
		}
	}
	return colorimetry.Lab{}
}

// inkWithin sums how much darker than the paper the ground is beside a place: from one
// distance to another across the row, and half a step to either side along it. The paper
// is the brightest of it, for shine and shadow change from place to place.
func (s *search) inkWithin(p spot, ux, uy, half, from, to float64, far bool) (sum float64) {
	side := 1.0
	if !far {
		side = -1
	}
	step := max(1, half/14) // points, so that a large picture takes no longer
	paper := 0.0
	seen := s.seen[:0]
	for v := from; v < to; v += step {
		for u := -half; u < half; u += step {
			at := colorimetry.Point{X: p.mid.X + u*ux - side*v*uy, Y: p.mid.Y + u*uy + side*v*ux}
			if s.g.Has(at) {
				l := s.g.Light(at)
				paper = max(paper, l)
				seen = append(seen, l)
			}
		}
	}
	s.seen = seen
	for _, l := range seen {
		sum += max(0, paper-l-inkAbove)
	}
	return sum * step * step
}

// labelled is how well the ink beside the rows fits the numbers of the chart, with the
// lowest value of each row at its beginning (up) or at its end, in nats; far is the side
// on which the numbers are.
func (s *search) labelled(f fit, lines []line) (up, down float64, far bool) {
	best := math.Inf(-1)
	for k := range 2 * len(shares) {
		b := band{k < len(shares), shares[k%len(shares)]}
		var ups, downs float64
		for i, l := range lines {
			ink := s.ink(f, i, b)
			ups += inkFit(ink, l.digits, false)
			downs += inkFit(ink, l.digits, true)
		}
		if max(ups, downs) > best {
			best, up, down, far = max(ups, downs), ups, downs, b.far
		}
	}
	return up, down, far
}

// inkFit is how well the ink of numbers fits what their digits are, in nats above what
// no numbers at all would give; turned: the first place has the last number.
func inkFit(ink []float64, want [][2]float64, turned bool) float64 {
	n := len(ink)
	over := func(k int) (value, label float64) {
		d := want[k]
		if turned {
			d = want[n-1-k]
		}
		return ink[k] - d[0], ink[k] - d[1]
	}
	best := 0.0
	for k := range n { // the ink of one digit: that which most numbers agree on
		centre, _ := over(k)
		if centre < leastLog {
			continue
		}
		fit := 0.0
		for i := range n {
			value, label := over(i)
			off := min(math.Abs(value-centre), math.Abs(label-centre)) / inkSpread
			fit += mostInk - min(mostInk, off*off/2)
		}
		best = max(best, fit)
	}
	return best
}
