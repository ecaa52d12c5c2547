// Package patches finds flat patches: the outline of the one at a place of a photo ([At]),
// or all of a picture, with outline and colour ([Reduce] and [Ground.Find]).
// The package does not say what a patch is.
package patches

import (
	"image"
	"math"
	"slices"
	"sort"

	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// NoEdgeError says that no flat patch with an edge lies at a place.
type NoEdgeError struct{}

func (*NoEdgeError) Error() string { return "no clear edge here; draw a box instead" }

// How a patch's edge is looked for.
const (
	gridPoints  = 192  // the neighbourhood is looked at as so many points square
	sideShare   = 0.35 // its side, of the photo's shorter side
	insetShare  = 0.14 // of the patch's side left out on each side, as a hand-drawn mark does
	leastFilled = 0.80 // share of the box round it that a patch fills at least
	leastPoints = 30   // points of the grid
	steady      = 0.06 // growth from one threshold to the next of what counts as flat
	reaches     = 4    // neighbourhoods tried, each half as wide
	leap        = 1.5  // times a flat patch's points: more is a leak into what lies beside it
	square      = 1.5  // length over width up to which a box is one patch for certain
	longest     = 2.5  // and beyond which it is several, whatever the place
)

// thresholds of colour difference from the place asked about, CIELAB units.
var thresholds = []float64{3, 4, 5.5, 7.5, 10, 13, 17, 22, 28}

// At proposes the outline of the flat patch at a place of the upright photo,
// in pixels: a four-sided region inside its edge. It looks at the picture made
// for people and measures nothing. A place outside the photo, or one with no
// patch that stands out from what is about it, is a [*NoEdgeError]. What it looks
// at is a square about the place, of 0.35 of the photo's shorter side; one in none
// of the regions that [photo.Decode] was asked for is a [*photo.NotWantedError].
func At(p *photo.Photo, at colorimetry.Point) (colorimetry.Region, error) {
	if !(at.X >= 0 && at.Y >= 0 && at.X < float64(p.Width) && at.Y < float64(p.Height)) {
		return colorimetry.Region{}, &NoEdgeError{}
	}
	side := sideShare * float64(min(p.Width, p.Height))
	if err := p.Wants(squareAbout(at, side)); err != nil {
		return colorimetry.Region{}, err
	}
	for range reaches {
		if corners, ok := lookFor(p, at, side); ok {
			return colorimetry.NewPolygon(corners...)
		}
		side /= 2
	}
	return colorimetry.Region{}, &NoEdgeError{}
}

// lookFor looks for the patch in a neighbourhood of so many pixels square.
func lookFor(p *photo.Photo, at colorimetry.Point, side float64) ([]colorimetry.Point, bool) {
	n := min(gridPoints, int(side))
	if n < 24 {
		return nil, false
	}
	g := neighbourhood(p, at, side, n)
	mask, ok := g.flat()
	if !ok {
		return nil, false
	}
	corners, filled := mask.box()
	if middle := float64(n) / 2; filled < leastFilled || severalIn(corners, colorimetry.Point{X: middle, Y: middle}) {
		return nil, false
	}
	step := side / float64(n)
	for i, c := range inset(corners, insetShare) {
		corners[i] = colorimetry.Point{
			X: max(0, min(at.X-side/2+(c.X+0.5)*step, float64(p.Width))),
			Y: max(0, min(at.Y-side/2+(c.Y+0.5)*step, float64(p.Height))),
		}
	}
	return fromTopLeft(corners), true
}

// severalIn reports whether a box looks like patches that ran together: it is
// long, and the place asked about is not in its middle third, or very long.
func severalIn(c []colorimetry.Point, at colorimetry.Point) bool {
	from, along, across := c[0], c[1], c[3]
	if from.Distance(across) > from.Distance(along) {
		along, across = across, along
	}
	long := from.Distance(along)
	if ratio := long / from.Distance(across); !(ratio > square) {
		return false
	} else if ratio > longest {
		return true
	}
	share := ((at.X-from.X)*(along.X-from.X) + (at.Y-from.Y)*(along.Y-from.Y)) / (long * long)
	return share < 1.0/3 || share > 2.0/3
}

// fromTopLeft turns the order of the corners so that the one nearest the top
// left comes first.
func fromTopLeft(c []colorimetry.Point) []colorimetry.Point {
	first := 0
	for i, p := range c {
		if p.X+p.Y < c[first].X+c[first].Y {
			first = i
		}
	}
	return append(slices.Clone(c[first:]), c[:first]...)
}

// view holds the CIELAB colours of points about a place; known is false outside the photo.
type view struct {
	n     int
	lab   []colorimetry.Lab
	known []bool
}

// squareAbout are the pixels of a square about a place.
func squareAbout(at colorimetry.Point, side float64) image.Rectangle {
	x0, y0 := int(math.Floor(at.X-side/2)), int(math.Floor(at.Y-side/2))
	return image.Rect(x0, y0, x0+int(side)+1, y0+int(side)+1)
}

// neighbourhood samples n by n points of the square about a place, each the
// mean of the pixels it stands for, at most 4 by 4 of them.
func neighbourhood(p *photo.Photo, at colorimetry.Point, side float64, n int) view {
	v := view{n, make([]colorimetry.Lab, n*n), make([]bool, n*n)}
	area := squareAbout(at, side)
	m := p.Image(area).(*image.RGBA)
	ox, oy := max(0, area.Min.X), max(0, area.Min.Y) // where the cut picture begins
	step := side / float64(n)
	take := max(1, min(4, int(step)))
	for j := range n {
		for i := range n {
			px, py := int(at.X-side/2+float64(i)*step)-ox, int(at.Y-side/2+float64(j)*step)-oy
			if (image.Point{X: px, Y: py}).In(m.Rect) {
				v.lab[j*n+i], v.known[j*n+i] = meanLab(m, px, py, take), true
			}
		}
	}
	return v
}

func meanLab(m *image.RGBA, px, py, take int) colorimetry.Lab {
	var r, g, b, k float64
	for y := py; y < min(py+take, m.Rect.Max.Y); y++ {
		for x := px; x < min(px+take, m.Rect.Max.X); x++ {
			o := m.PixOffset(x, y)
			r, g, b, k = r+float64(m.Pix[o]), g+float64(m.Pix[o+1]), b+float64(m.Pix[o+2]), k+1
		}
	}
	return colorimetry.SRGB.XYZ(colorimetry.RGB{R: r / k / 255, G: g / k / 255, B: b / k / 255}).Lab(colorimetry.D50)
}

// flat grows the patch from the middle at rising thresholds and takes the
// widest at which it stopped growing while still off the border.
func (v view) flat() (mask, bool) {
	seed := v.seed()
	var best mask
	found, before := false, 0
	for _, t := range thresholds {
		m := v.grow(seed, t)
		if m.border || found && float64(m.count) > leap*float64(best.count) {
			break
		}
		if m.count >= leastPoints && float64(m.count-before) <= steady*float64(m.count) {
			best, found = m, true
		}
		before = m.count
	}
	return best.filled(), found
}

// seed is the middle colour of the points about the place, channel by channel.
func (v view) seed() colorimetry.Lab {
	var ls, as, bs []float64
	c := v.n / 2
	for j := c - 2; j <= c+2; j++ {
		for i := c - 2; i <= c+2; i++ {
			if k := j*v.n + i; v.known[k] {
				ls, as, bs = append(ls, v.lab[k].L), append(as, v.lab[k].A), append(bs, v.lab[k].B)
			}
		}
	}
	mid := func(x []float64) float64 { slices.Sort(x); return x[len(x)/2] }
	return colorimetry.Lab{L: mid(ls), A: mid(as), B: mid(bs)}
}

// mask is a set of the grid's points.
type mask struct {
	n, count int
	in       []bool
	border   bool // it reaches the neighbourhood's edge or the photo's
}

// grow collects the points joined to the middle that are within a colour
// difference of the seed.
func (v view) grow(seed colorimetry.Lab, threshold float64) mask {
	m := mask{n: v.n, in: make([]bool, v.n*v.n)}
	var queue []int
	c := v.n / 2
	for j := c - 2; j <= c+2; j++ {
		for i := c - 2; i <= c+2; i++ {
			queue = append(queue, j*v.n+i)
		}
	}
	for len(queue) > 0 {
		k := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if m.in[k] || !v.known[k] || !(colorimetry.DeltaE76(v.lab[k], seed) <= threshold) {
			continue
		}
		m.in[k] = true
		m.count++
		i, j := k%v.n, k/v.n
		if i == 0 || j == 0 || i == v.n-1 || j == v.n-1 {
			m.border = true
			continue
		}
		queue = append(queue, k-1, k+1, k-v.n, k+v.n)
	}
	return m
}

// filled takes in the holes: what the outside does not reach.
func (m mask) filled() mask {
	if m.in == nil {
		return m
	}
	outside := make([]bool, len(m.in))
	var queue []int
	for i := range m.n {
		queue = append(queue, i, (m.n-1)*m.n+i, i*m.n, i*m.n+m.n-1)
	}
	for len(queue) > 0 {
		k := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if outside[k] || m.in[k] {
			continue
		}
		outside[k] = true
		for _, d := range [4]int{-1, 1, -m.n, m.n} {
			o := k + d
			if o >= 0 && o < len(m.in) && (d > 1 || d < -1 || o/m.n == k/m.n) {
				queue = append(queue, o)
			}
		}
	}
	out := mask{n: m.n, in: make([]bool, len(m.in))}
	for k := range m.in {
		if !outside[k] {
			out.in[k] = true
			out.count++
		}
	}
	return out.opened(max(1, int(math.Sqrt(float64(out.count))/12)))
}

// opened takes off what is thinner than twice the radius: leaks into lines and texts.
func (m mask) opened(radius int) mask {
	return m.spread(radius, false).spread(radius, true)
}

// spread widens the mask (or, with to false, what is outside it) by the radius.
func (m mask) spread(radius int, to bool) mask {
	out := mask{n: m.n, in: slices.Clone(m.in)}
	for range radius {
		before := slices.Clone(out.in)
		for j := 1; j < m.n-1; j++ {
			for i := 1; i < m.n-1; i++ {
				k := j*m.n + i
				if before[k-1] == to || before[k+1] == to || before[k-m.n] == to || before[k+m.n] == to {
					out.in[k] = to
				}
			}
		}
	}
	for _, in := range out.in {
		if in {
			out.count++
		}
	}
	return out
}

// box returns the corners of the smallest box at any angle round the mask, in
// grid points, and the share of it that the mask fills.
func (m mask) box() (corners []colorimetry.Point, filled float64) {
	hull := m.hull()
	if len(hull) < 3 {
		return nil, 0
	}
	least := math.Inf(1)
	for i, a := range hull {
		b := hull[(i+1)%len(hull)]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if c, area := boxAlong(hull, (b.X-a.X)/l, (b.Y-a.Y)/l); area < least {
			corners, least = c, area
		}
	}
	return corners, float64(m.count) / least
}

// boxAlong is the box round the points with one side along (ux, uy).
func boxAlong(points []colorimetry.Point, ux, uy float64) ([]colorimetry.Point, float64) {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, p := range points {
		for k, v := range [2]float64{p.X*ux + p.Y*uy, p.Y*ux - p.X*uy} {
			lo[k], hi[k] = math.Min(lo[k], v), math.Max(hi[k], v)
		}
	}
	at := func(s, t float64) colorimetry.Point { return colorimetry.Point{X: s*ux - t*uy, Y: s*uy + t*ux} }
	area := (hi[0] - lo[0] + 1) * (hi[1] - lo[1] + 1)
	return []colorimetry.Point{at(lo[0], lo[1]), at(hi[0], lo[1]), at(hi[0], hi[1]), at(lo[0], hi[1])}, area
}

// hull is the convex hull of the mask's points, by Andrew's monotone chain.
func (m mask) hull() []colorimetry.Point {
	var ends []colorimetry.Point
	for j := range m.n {
		row := m.in[j*m.n : (j+1)*m.n]
		first := slices.Index(row, true)
		if first < 0 {
			continue
		}
		last := len(row) - 1
		for !row[last] {
			last--
		}
		ends = append(ends, colorimetry.Point{X: float64(first), Y: float64(j)}, colorimetry.Point{X: float64(last), Y: float64(j)})
	}
	sort.Slice(ends, func(i, j int) bool {
		if ends[i].X != ends[j].X {
			return ends[i].X < ends[j].X
		}
		return ends[i].Y < ends[j].Y
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

func chain(points []colorimetry.Point) (out []colorimetry.Point) {
	for _, p := range points {
		for len(out) > 1 {
			a, b := out[len(out)-2], out[len(out)-1]
			if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) > 0 {
				break
			}
			out = out[:len(out)-1]
		}
		out = append(out, p)
	}
	return out
}

// inset draws the corners of a four-sided figure towards its middle.
func inset(c []colorimetry.Point, share float64) []colorimetry.Point {
	middle := colorimetry.Point{X: (c[0].X + c[2].X) / 2, Y: (c[0].Y + c[2].Y) / 2}
	out := make([]colorimetry.Point, len(c))
	for i, p := range c {
		out[i] = colorimetry.Point{X: p.X + (middle.X-p.X)*2*share, Y: p.Y + (middle.Y-p.Y)*2*share}
	}
	return out
}
