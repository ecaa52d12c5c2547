package page

import (
	"context"
	"math"

	"padband/cmd/padband/internal/hosted"
	"padband/colorimetry"
	"padband/colorimetry/patches"
	"padband/colorimetry/photo"
)

// How the swatches between the ends of a row are looked for. Lengths are in sizes of a
// mark; in the demonstration photos the swatches of a row lie within 0.13 of its line,
// and those found on a line from one row to the next 0.38 or more to both sides of it.
const (
	besideLine = 0.25 // so far to both sides of the line: the ends are of two rows
	onCurve    = 0.2  // a swatch lies no further from the row's curve
	bentAtAll  = 0.1  // the least bend that counts
	mostUnlike = 1.6  // times as large as the ends' marks
	bendStep   = 0.6  // from one bend that is tried to the next
	bendsTried = 4    // to either side
)

// line is the way of a row from its first marked swatch to its last.
type line struct {
	photo       *photo.Photo
	first, last colorimetry.Point
	swatches    int
	size        float64 // of a mark
}

// seen is how far the middle of the patch found at a share t of the way lies off the
// place that was looked at.
type seen struct{ t, dx, dy float64 }

// lineAnswer says what the photo shows between the ends of a row.
type lineAnswer struct {
	Off bool `json:"off"` // the ends belong to two rows
	// Bend is how far the row's middle lies off the line between its ends, in pixels;
	// nil when too few swatches were found to tell.
	Bend *[2]float64 `json:"bend"`
}

// line looks at the swatches between two marks that are to be the ends of a row.
func (s *Page) line(_ context.Context, c hosted.Call) hosted.Answer {
	o, err := s.opened(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	var in struct {
		First, Last struct{ Polygon [][2]float64 }
		Swatches    []struct{ Value float64 }
	}
	if err := c.Take(&in); err != nil {
		return hosted.Refuse(err)
	}
	p, err := o.whole()
	if err != nil {
		return hosted.Refuse(err)
	}
	l, err := newLine(p, in.First.Polygon, in.Last.Polygon, len(in.Swatches))
	if err != nil {
		return hosted.Refuse(hosted.Fail(hosted.BadRequest, err))
	}
	return hosted.JSON(l.look())
}

// longestRow is the most swatches of a row that are looked for.
const longestRow = 60

func newLine(p *photo.Photo, first, last [][2]float64, swatches int) (line, error) {
	l := line{photo: p, swatches: min(swatches, longestRow), size: math.Inf(1)}
	for i, outline := range [][][2]float64{first, last} {
		var points []colorimetry.Point
		for _, q := range outline {
			points = append(points, colorimetry.Point{X: q[0], Y: q[1]})
		}
		r, err := colorimetry.NewPolygon(points...)
		if err != nil {
			return line{}, err
		}
		l.size = min(l.size, sizeOf(r))
		if i == 0 {
			l.first = middleOf(r)
		} else {
			l.last = middleOf(r)
		}
	}
	return l, nil
}

func middleOf(r colorimetry.Region) colorimetry.Point {
	least, most := r.Bounds()
	return colorimetry.Point{X: (least.X + most.X) / 2, Y: (least.Y + most.Y) / 2}
}

func sizeOf(r colorimetry.Region) float64 {
	least, most := r.Bounds()
	return math.Sqrt((most.X - least.X) * (most.Y - least.Y))
}

// look finds the swatches along the straight way first, and where most are not there,
// along bent ones.
func (l line) look() lineAnswer {
	between := l.swatches - 2
	straight := l.along(0, 0)
	if l.crosses(straight) {
		return lineAnswer{Off: true}
	}
	if len(straight) > 0 && 2*len(straight) >= between {
		return l.answer(l.bend(straight))
	}
	if x, y, ok := l.bowed(); ok {
		return l.answer(x, y)
	}
	return lineAnswer{}
}

// answer rounds a bend, and calls a small one none.
func (l line) answer(x, y float64) lineAnswer {
	nx, ny := l.across()
	if math.Abs(x*nx+y*ny) < bentAtAll*l.size {
		return lineAnswer{Bend: &[2]float64{}}
	}
	return lineAnswer{Bend: &[2]float64{tenth(x), tenth(y)}}
}

// along looks for the swatches between the ends of a row whose middle is bent by so
// many pixels. What is found of another size than the ends is no swatch.
func (l line) along(bx, by float64) (out []seen) {
	for i := 1; i < l.swatches-1; i++ {
		if s, ok := l.at(float64(i)/float64(l.swatches-1), bx, by); ok {
			out = append(out, s)
		}
	}
	return out
}

func (l line) at(t, bx, by float64) (seen, bool) {
	w := 4 * t * (1 - t)
	at := colorimetry.Point{X: l.first.X + (l.last.X-l.first.X)*t + w*bx, Y: l.first.Y + (l.last.Y-l.first.Y)*t + w*by}
	r, err := patches.At(l.photo, at)
	if err != nil {
		return seen{}, false
	}
	if k := sizeOf(r) / l.size; k > mostUnlike || k < 1/mostUnlike {
		return seen{}, false
	}
	m := middleOf(r)
	return seen{t, m.X - at.X, m.Y - at.Y}, true
}

// across is the direction across the row, of length 1.
func (l line) across() (x, y float64) {
	dx, dy := l.last.X-l.first.X, l.last.Y-l.first.Y
	d := max(math.Hypot(dx, dy), 1)
	return -dy / d, dx / d
}

// crosses is true when patches lie well off the line, some to one side and some to the
// other: a line from one row to another runs out of the first and into the second.
func (l line) crosses(found []seen) bool {
	nx, ny := l.across()
	least, most := 0.0, 0.0
	for _, s := range found {
		off := s.dx*nx + s.dy*ny
		least, most = min(least, off), max(most, off)
	}
	return least < -besideLine*l.size && most > besideLine*l.size
}

// bend is the bend that fits what was found off the line, by least squares.
func (l line) bend(found []seen) (x, y float64) {
	all := 0.0
	for _, s := range found {
		w := 4 * s.t * (1 - s.t)
		x, y, all = x+w*s.dx, y+w*s.dy, all+w*w
	}
	if all == 0 {
		return 0, 0
	}
	return x / all, y / all
}

// bowed tries bends to both sides, the smallest first, and takes the one on whose curve
// three of four swatches lie. A row of few swatches shows no bend for certain.
func (l line) bowed() (x, y float64, ok bool) {
	between := l.swatches - 2
	if between < 3 {
		return 0, 0, false
	}
	nx, ny := l.across()
	for k := 1; k <= bendsTried; k++ {
		for _, side := range []float64{1, -1} {
			by := side * float64(k) * bendStep * l.size
			if _, there := l.at(float64(l.swatches/2)/float64(l.swatches-1), nx*by, ny*by); !there {
				continue
			}
			if x, y, ok := l.settled(nx*by, ny*by); ok {
				return x, y, true
			}
		}
	}
	return 0, 0, false
}

// settled fits a bend to the swatches found along a guess of it.
func (l line) settled(bx, by float64) (x, y float64, ok bool) {
	found := l.along(bx, by)
	dx, dy := l.bend(found)
	found = l.along(bx+dx, by+dy)
	near := 0
	for _, s := range found {
		if math.Hypot(s.dx, s.dy) <= onCurve*l.size {
			near++
		}
	}
	return bx + dx, by + dy, 4*near >= 3*(l.swatches-2)
}
