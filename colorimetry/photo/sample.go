package photo

import (
	"math"
	"slices"
	"sync"

	"padband/colorimetry"
)

// Sample measures the colour of one region in linear light. It works in the same way
// for pads, swatches and whites, and however the photo was stored.
//
// It does so in this way, for these reasons. A margin is kept from the region's edge,
// because decoders differ there. What is left is cut into small blocks, whose pixels
// are averaged in linear XYZ, as the eye does with texture and printed dots; single
// bright sparkles are left out first. The centre is the mean of the blocks that belong
// together (see core), so that glare, dust and a finger's edge, up to two fifths of
// the area, do not move it. [colorimetry.Sample.Glare] is the share left out for being
// bright.
//
// The errors are [*colorimetry.RegionError], [*OutsideError], [*NotWantedError],
// [*TooSmallError], [*TransparentError] and [*MixedError]; when there is an error
// there is never a colour.
func (p *Photo) Sample(r colorimetry.Region) (colorimetry.Sample, error) {
	out, err := p.SampleInside(r)
	if err == nil {
		out.Edge = p.edgeWidth(r)
	}
	return out, err
}

// SampleInside is [Photo.Sample] without the width of the region's edge, which takes a
// fifth of the time: of a region that is no patch it tells nothing.
func (p *Photo) SampleInside(r colorimetry.Region) (colorimetry.Sample, error) {
	var none colorimetry.Sample
	if err := r.Check(); err != nil {
		return none, err
	}
	if err := p.within(r); err != nil {
		return none, err
	}
	if err := p.wants(r); err != nil {
		return none, err
	}
	g := gridFor(r, p.chroma)
	middle := r.Centroid()
	if n := g.pixels(); n < minPixels || 2*g.radius < minBreadth {
		return none, &TooSmallError{X: middle.X, Y: middle.Y, Pixels: n, Inset: g.inset}
	}
	s := patches.Get().(*patch)
	defer patches.Put(s)
	p.gatherPixels(s, &g)
	if s.empty > 0 {
		return none, &TransparentError{X: middle.X, Y: middle.Y, Share: float64(s.empty) / float64(len(s.xyz))}
	}
	s.dropSparkles()
	s.judgeBlocks()
	if !slices.Contains(s.keep, true) {
		return none, &MixedError{X: middle.X, Y: middle.Y}
	}
	out := s.sample()
	out.Side = math.Sqrt(r.Area())
	return out, nil
}

// slack is how far, in pixels, rounding may put a region's edge past the photo's.
const slack = 1e-6

func (p *Photo) within(r colorimetry.Region) error {
	least, most := r.Bounds()
	if least.X >= -slack && least.Y >= -slack && most.X <= float64(p.Width)+slack && most.Y <= float64(p.Height)+slack {
		return nil
	}
	return &OutsideError{MinX: least.X, MinY: least.Y, MaxX: most.X, MaxY: most.Y, Width: p.Width, Height: p.Height}
}

// patch holds the pixels of one region, block after block, and what is worked out from
// them.
type patch struct {
	grid *grid
	area int // pixels of a block
	xyz  []colorimetry.XYZ
	out  []bool // true for a sparkle

	clipped, floor, faint, empty int

	mean  []colorimetry.XYZ // of each block, without its sparkles
	count []int             // pixels in it
	keep  []bool            // blocks of the core
	shine []bool            // blocks left out for being bright
}

// patches reuses the memory of a patch's pixels from one region to the next.
var patches = sync.Pool{New: func() any { return new(patch) }}

// gatherPixels reads and converts the pixels of all blocks.
func (p *Photo) gatherPixels(s *patch, g *grid) {
	*s = patch{grid: g, area: g.side * g.side, xyz: s.xyz[:0], out: s.out[:0]}
	top, bottom := 1-p.half, p.half
	for _, c := range g.cells {
		for v := c.y; v < c.y+g.side; v++ {
			for u := c.x; u < c.x+g.side; u++ {
				x, y := p.turn.stored(u, v)
				q := p.read(x, y)
				if q.r >= top || q.g >= top || q.b >= top {
					s.clipped++
				}
				if q.r <= bottom || q.g <= bottom || q.b <= bottom {
					s.floor++
				}
				if q.a < 1 {
					s.faint++
				}
				if q.a == 0 {
					s.empty++
				}
				s.xyz = append(s.xyz, p.colour.XYZ(q.r, q.g, q.b))
			}
		}
	}
}

// sparkle is how many robust standard deviations above the median a single
// pixel must be to be taken for a glint rather than for texture.
const sparkle = 5

// dropSparkles leaves out single pixels that are far above the median in brightness.
// The spread is the wider of the two quartiles' spreads, so glare over more than a
// quarter of the area is left for the blocks to judge.
func (s *patch) dropSparkles() {
	mid, spread := s.brightness()
	top := mid + sparkle*math.Max(spread, 2*codeStep(mid))
	for _, c := range s.xyz {
		s.out = append(s.out, c.Y > top)
	}
}

// brightness is the pixels' median Y and robust standard deviation, over
// every second, third, ... pixel where there are more than a thousand.
func (s *patch) brightness() (mid, spread float64) {
	const enough = 1000
	step := len(s.xyz)/enough + 1
	y := make([]float64, 0, enough+1)
	for i := 0; i < len(s.xyz); i += step {
		y = append(y, s.xyz[i].Y)
	}
	slices.Sort(y)
	at := func(f float64) float64 { return y[int(f*float64(len(y)-1))] }
	mid = at(0.5)
	return mid, math.Max(at(0.75)-mid, mid-at(0.25)) / normalHalf
}

// judgeBlocks averages each block and picks those that belong together. A block that
// lost half of its pixels to sparkles counts as glare as a whole.
func (s *patch) judgeBlocks() {
	n := len(s.grid.cells)
	s.mean, s.count = make([]colorimetry.XYZ, n), make([]int, n)
	tones, of := make([]tone, 0, n), make([]int, 0, n)
	for k := range n {
		s.mean[k], s.count[k] = s.blockMean(k)
		if 2*s.count[k] > s.area {
			tones, of = append(tones, toneOf(s.mean[k])), append(of, k)
		}
	}
	ys := make([]float64, len(tones))
	for i, t := range tones {
		ys[i] = t[0]
	}
	keep, bright := core(tones, codeStep(median(ys))/2+1e-5)
	s.keep, s.shine = make([]bool, n), make([]bool, n)
	for k := range n {
		s.shine[k] = 2*s.count[k] <= s.area
	}
	for i, k := range of {
		s.keep[k], s.shine[k] = keep[i], bright[i]
	}
}

func (s *patch) blockMean(k int) (mean colorimetry.XYZ, n int) {
	for i := k * s.area; i < (k+1)*s.area; i++ {
		if !s.out[i] {
			mean = mean.Add(s.xyz[i])
			n++
		}
	}
	return mean.Scale(1 / math.Max(1, float64(n))), n
}

func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s := slices.Clone(v)
	slices.Sort(s)
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}
