package photo

import (
	"math"
	"slices"

	"padband/colorimetry"
)

// The width of a patch's edge is measured along lines that cross the region's outline
// at borderPlaces places. A line begins inward inside the outline and ends outward
// outside it, both counted in sides of a square of the region's area. It has at most
// borderSteps places, and each has the mean brightness of borderLines lines side by
// side.
const (
	borderPlaces    = 12
	borderLines     = 3
	borderSteps     = 80
	inward, outward = 0.28, 0.40
	leastContrast   = 0.12 // of the brighter side
	leastOverNoise  = 8    // contrast in standard deviations of the inner end
	turnsBack       = 0.15 // share of the contrast by which the far side ends
	leastSides      = 3    // places with an edge, below which none is told
)

// edgeWidth is the distance in pixels over which the brightness goes from 10 % to 90 %
// of its change across the patch's border. It is the median over places all around,
// and 0 when fewer than [leastSides] show a clear edge. It looks a little way in and
// out of the region, never beyond the photo. For a sharp edge blurred by a Gaussian of
// standard deviation s it is 2.563 s (twice the 90 % quantile of the standard normal
// distribution, 1.28155).
func (p *Photo) edgeWidth(r colorimetry.Region) float64 {
	side := math.Sqrt(r.Area())
	step := math.Max(1, (inward+outward)*side/borderSteps)
	within := int(math.Ceil(inward * side / step))
	line := make([]float64, 0, borderSteps+4)
	var widths []float64
	for _, c := range crossings(r.Outline()) {
		line = p.across(line[:0], c, step, within, int(outward*side/step))
		if w, ok := riseWidth(line, within); ok {
			widths = append(widths, w*step)
		}
	}
	if len(widths) < leastSides {
		return 0
	}
	slices.Sort(widths)
	return (widths[(len(widths)-1)/2] + widths[len(widths)/2]) / 2
}

// crossing is a place of an outline with the direction along it and out of it.
type crossing struct{ at, along, out colorimetry.Point }

// crossings spreads places evenly along an outline.
func crossings(corners []colorimetry.Point) []crossing {
	length, turn := 0.0, 0.0
	a := corners[len(corners)-1]
	for _, b := range corners {
		length += a.Distance(b)
		turn += a.X*b.Y - b.X*a.Y
		a = b
	}
	out := make([]crossing, 0, borderPlaces)
	next, sofar := 0.5, 0.0
	a = corners[len(corners)-1]
	for _, b := range corners {
		d := a.Distance(b)
		for ; d > 0 && len(out) < borderPlaces && next*length/borderPlaces <= sofar+d; next++ {
			f := (next*length/borderPlaces - sofar) / d
			u := colorimetry.Point{X: (b.X - a.X) / d, Y: (b.Y - a.Y) / d}
			c := crossing{at: colorimetry.Point{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}, along: u}
			c.out = colorimetry.Point{X: math.Copysign(1, turn) * u.Y, Y: -math.Copysign(1, turn) * u.X}
			out = append(out, c)
		}
		sofar += d
		a = b
	}
	return out
}

// across appends the brightness along a crossing, from so many steps inside (within)
// to so many outside (without), as far as the photo reaches and is opaque.
func (p *Photo) across(line []float64, c crossing, step float64, within, without int) []float64 {
	for k := -within; k <= without; k++ {
		sum := 0.0
		for l := range borderLines {
			off, d := float64(l-borderLines/2), float64(k)*step
			x := math.Floor(c.at.X + d*c.out.X + off*c.along.X)
			y := math.Floor(c.at.Y + d*c.out.Y + off*c.along.Y)
			if !(x >= 0 && y >= 0 && x < float64(p.Width) && y < float64(p.Height)) {
				return line
			}
			q := p.read(p.turn.stored(int(x), int(y)))
			if q.a == 0 {
				return line
			}
			sum += p.colour.XYZ(q.r, q.g, q.b).Y
		}
		line = append(line, sum/borderLines)
	}
	return line
}

// riseWidth finds the first clear change of brightness outward along a line, and
// returns its width from 10 % to 90 % in places. The first places of the line, within
// in number, lie in the patch.
func riseWidth(line []float64, within int) (width float64, ok bool) {
	inner := within / 2
	if inner < 2 || len(line) <= within {
		return 0, false
	}
	from, noise := level(line[:inner])
	least := leastOverNoise*noise + 1e-6
	far, ok := farSide(line, from, least)
	if !ok {
		return 0, false
	}
	change := line[far] - from
	if math.Abs(change) < math.Max(least, leastContrast*math.Max(from, line[far])) {
		return 0, false
	}
	share := func(i int) float64 { return (line[i] - from) / change }
	middle := far
	for middle > 0 && share(middle) > 0.5 {
		middle--
	}
	low, high := middle, middle+1
	for low > 0 && share(low) > 0.1 {
		low--
	}
	for high < far && share(high) < 0.9 {
		high++
	}
	if share(low) > 0.1 || share(high) < 0.9 {
		return 0, false
	}
	return reaches(share, high-1, 0.9) - reaches(share, low, 0.1), true
}

// reaches is the place between places i and i+1 at which the share v is passed.
func reaches(share func(int) float64, i int, v float64) float64 {
	a, b := share(i), share(i+1)
	return float64(i) + (v-a)/(b-a)
}

// farSide is the place of the extreme to which a line runs from its inner level before
// it turns back. A small swing the other way before that, as sharpening leaves it, is
// passed over.
func farSide(line []float64, from, least float64) (far int, ok bool) {
	best := 0.0
	for i, v := range line {
		d := v - from
		switch {
		case math.Abs(d) >= math.Max(least, math.Abs(best)):
			best, far, ok = d, i, true
		case ok && d/best < 1-turnsBack && math.Abs(best) >= leastContrast*math.Max(from, from+best):
			return far, true
		}
	}
	return far, ok
}

// level is the mean of values and their standard deviation about it.
func level(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		sd += sq(x - mean)
	}
	return mean, math.Sqrt(sd / float64(len(v)-1))
}

// What lies beside a region is looked at in bands outside its outline, between these
// distances from it in sides, up to besideWide to either side of each place of the
// outline, at besideGrid places across and along each band.
const (
	besideWide = 0.12
	besideGrid = 8
)

var besideBands = [2][2]float64{{0.12, 0.26}, {0.26, 0.40}}

// Beside is the CIELAB distance between the colour of a region, as its sample gives
// it, and what lies beside it on two opposite sides, as far as edges are looked for.
// Two sides are averaged, so that a slope of the light does not count, and the pair of
// sides that is more like the region is told: a mark on a band of one colour differs
// from what lies across the band, and not along it. It is at least 0.001, and 0 where
// it cannot be told. The region's colour is taken for white.
func (p *Photo) Beside(r colorimetry.Region, own colorimetry.XYZ) float64 {
	at, side := crossings(r.Outline()), math.Sqrt(r.Area())
	if len(at) != borderPlaces || !(own.X > 0 && own.Y > 0 && own.Z > 0) {
		return 0
	}
	least := math.Inf(1)
	for _, along := range []bool{true, false} {
		far := 0.0
		for _, band := range besideBands {
			c, ok := p.band(at, along, band, side)
			if !ok {
				return 0
			}
			rel := colorimetry.XYZ{X: c.X / own.X * colorimetry.D50.X, Y: c.Y / own.Y, Z: c.Z / own.Z * colorimetry.D50.Z}
			far = math.Max(far, colorimetry.DeltaE76(rel.Lab(colorimetry.D50), colorimetry.Lab{L: 100}))
		}
		least = math.Min(least, far)
	}
	return math.Max(0.001, least)
}

// band is the mean colour of one band beside the sides that face as the first place
// does (along), or beside the others. ok is false where it reaches out of the photo.
func (p *Photo) band(at []crossing, along bool, band [2]float64, side float64) (mean colorimetry.XYZ, ok bool) {
	n := 0.0
	first := at[0].out
	for _, c := range at {
		if facing := math.Abs(c.out.X*first.X+c.out.Y*first.Y) > math.Sqrt2/2; facing != along {
			continue
		}
		for i := range besideGrid {
			for j := range besideGrid {
				f, g := (float64(i)+0.5)/besideGrid, (float64(j)+0.5)/besideGrid
				d, off := (band[0]+f*(band[1]-band[0]))*side, (2*g-1)*besideWide*side
				x, y := math.Floor(c.at.X+d*c.out.X+off*c.along.X), math.Floor(c.at.Y+d*c.out.Y+off*c.along.Y)
				if !(x >= 0 && y >= 0 && x < float64(p.Width) && y < float64(p.Height)) {
					return mean, false
				}
				q := p.read(p.turn.stored(int(x), int(y)))
				mean = mean.Add(p.colour.XYZ(q.r, q.g, q.b))
				n++
			}
		}
	}
	return mean.Scale(1 / math.Max(1, n)), n > 0
}
