package bare

import (
	"math"
	"slices"

	"padband/calib"
	"padband/colorimetry"
)

// What a tile and a bridge must be.
const (
	seedClipped = 0.02 // share of a marked white's pixels that may be burnt out
	glareMost   = 0.2  // share left out as bright: small regions of grainy photos have some
	slopeMost   = 0.2  // change from side to side, natural log
	evenLeast   = 0.02 // brightest over darkest fifth, natural log, beside the grain's share
	evenGrain   = 2.9  // and in standard deviations of the marked whites' pixels
	darkest     = 0.03 // of Y
	// neighbours is how many of the four neighbours of a tile must be taken too.
	neighbours = 3
	// mostApart is how far, in pitches, a pad or swatch may lie from the nearest white: beyond
	// that the light would be guessed from its change elsewhere. The real photos of
	// charts that lie about their white stay within 7; those whose chart lies apart have 10
	// and more.
	mostApart = 8
	// mostFound is how many are kept: more tell the light nothing new, and cost time.
	mostFound = 40
)

// stray is how far, in natural log units of Y, X/Y and Z/Y, a tile may stray from what
// its neighbours foresee, and changeShare adds a share of what the light may change from
// the nearest of them. Blue strays most where a small photo's colours run.
// farthest is how many standard deviations of the light it may lie from the light as
// the marked whites alone show it.
var stray = [3]float64{0.018, 0.005, 0.012}

const changeShare, foreseeShare, farthest = 0.5, 2.0, 5.0

// node is a place where white is known, in natural logs over the light that the marked
// whites show.
type node struct {
	at       colorimetry.Point
	over     [3]float64
	material string
}

// tile is what is known of one tile.
type tile struct {
	sample     colorimetry.Sample
	looked, is bool // sampled; even
	taken      int  // among the nodes, -1 while it is not
	over, sd   [3]float64
}

// grower follows the white from tile to tile.
type grower struct {
	Plan
	sample func(int) (colorimetry.Sample, bool)
	light  calib.Light // as the marked whites show it
	half   float64     // half the photo's diagonal, pixels
	grain  float64     // relative standard deviation of a pixel of marked white
	nodes  []node
	tiles  []tile
	open   map[int]bool // of the bridges looked at: even
}

// Grow follows the marked whites of a photo over the plan's tiles and returns the white
// that it finds, as far apart as can be; none where a pad or swatch lies apart from all
// white. sample measures one of the plan's regions; ok is
// false where it cannot.
func (p Plan) Grow(photo calib.Photo, sample func(int) (s colorimetry.Sample, ok bool)) []calib.White {
	node := map[int]int{} // of the marked whites
	var seeds []calib.White
	for k, w := range photo.Whites {
		if w.Sample.Clipped < seedClipped {
			node[k] = len(seeds)
			seeds = append(seeds, w)
		}
	}
	if len(seeds) == 0 || p.Tiles == 0 {
		return nil
	}
	g := grower{
		Plan: p, sample: sample, light: calib.FitLight(seeds, photo.Width, photo.Height, colorimetry.XYZ{}),
		half: math.Hypot(float64(photo.Width), float64(photo.Height)) / 2, grain: grain(seeds),
		tiles: make([]tile, p.Tiles), open: map[int]bool{},
	}
	for _, w := range seeds {
		g.nodes = append(g.nodes, g.node(w.Sample, w.Material))
	}
	for i := range g.tiles {
		g.tiles[i].taken = -1
	}
	for g.round(node) {
	}
	found := g.inner()
	if apart(photo, found) > mostApart*p.pitch {
		return nil
	}
	return spread(found, photo.Whites)
}

// apart is how far the pad or swatch that lies farthest from any white lies from the
// nearest, pixels.
func apart(photo calib.Photo, found []calib.White) (far float64) {
	whites := slices.Concat(photo.Whites, found)
	take := func(of []colorimetry.Sample) {
		for _, s := range of {
			near := math.Inf(1)
			for _, w := range whites {
				near = math.Min(near, s.Place.Distance(w.Sample.Place))
			}
			far = math.Max(far, near)
		}
	}
	for _, pad := range photo.Pads {
		take(pad.Parts)
		for _, s := range pad.Swatches {
			take(s)
		}
	}
	return far
}

// round goes once over all links and reports whether it took a tile.
func (g *grower) round(marked map[int]int) (took bool) {
	for _, l := range g.links {
		if l.from < 0 {
			if k, ok := marked[-1-l.from]; ok {
				took = g.step(k, l.to, l.bridge) || took
			}
			continue
		}
		if k := g.tiles[l.from].taken; k >= 0 {
			took = g.step(k, l.to, l.bridge) || took
		} else if k := g.tiles[l.to].taken; k >= 0 {
			took = g.step(k, l.from, l.bridge) || took
		}
	}
	return took
}

// step takes the tile if the way from a node to it is even and it shows the same white.
func (g *grower) step(from, to, bridge int) bool {
	t := &g.tiles[to]
	if t.taken >= 0 || !g.look(t, to) {
		return false
	}
	even, looked := g.open[bridge]
	if !looked {
		s, ok := g.sample(bridge)
		even = ok && g.even(s)
		g.open[bridge] = even
	}
	if !even || !g.continues(t, from) {
		return false
	}
	t.taken = len(g.nodes)
	g.nodes = append(g.nodes, node{t.sample.Place, t.over, g.nodes[from].material})
	return true
}

// look samples a tile once and reports whether it is even.
func (g *grower) look(t *tile, i int) bool {
	if t.looked {
		return t.is
	}
	s, ok := g.sample(i)
	t.looked, t.is, t.sample = true, ok && g.even(s), s
	if t.is {
		t.over = g.node(s, "").over
		for c, cov := range g.light.Cov([]colorimetry.Point{s.Place}) {
			t.sd[c] = math.Sqrt(math.Max(0, cov.At(0, 0)))
		}
	}
	return t.is
}

func (g *grower) node(s colorimetry.Sample, material string) node {
	c := g.light.Relative(s)
	log := func(v float64) float64 { return math.Log(math.Max(v, 1e-4)) }
	y := log(c.Y)
	return node{s.Place, [3]float64{y, log(c.X/colorimetry.D50.X) - y, log(c.Z/colorimetry.D50.Z) - y}, material}
}

// even reports whether a region shows one even thing, no grainier than marked white.
func (g *grower) even(s colorimetry.Sample) bool {
	if s.Clipped > 0 || s.Glare > glareMost || s.XYZ.Y < darkest {
		return false
	}
	slope := math.Hypot(s.Slope[0].Y, s.Slope[1].Y) * s.Side / s.XYZ.Y
	return slope < slopeMost && math.Log(s.Bright.Y/s.Dark.Y) < evenLeast+evenGrain*g.grain+slope
}

// grain is the middle of the relative standard deviations of the whites' pixels.
func grain(whites []calib.White) float64 {
	v := make([]float64, len(whites))
	for i, w := range whites {
		v[i] = math.Sqrt(w.Sample.Cov[1][1]) / w.Sample.XYZ.Y
	}
	slices.Sort(v)
	return v[len(v)/2]
}

// continues reports whether a tile is what the nodes about it foresee, the nearest of
// them being the one it is reached from.
func (g *grower) continues(t *tile, from int) bool {
	two := g.light.Cov([]colorimetry.Point{t.sample.Place, g.nodes[from].at})
	for c, v := range t.over {
		change := math.Sqrt(math.Max(0, two[c].At(0, 0)+two[c].At(1, 1)-2*two[c].At(0, 1)))
		may := stray[c] + changeShare*change
		if math.Abs(v) > farthest*t.sd[c]+2*may {
			return false
		}
		foreseen, sd := g.foresee(t.sample.Place, c, g.nodes[from].material)
		if !(math.Abs(v-foreseen) <= may+foreseeShare*sd) {
			return false
		}
	}
	return true
}

// inner are the taken tiles that have enough neighbours: not what sticks out into print.
func (g *grower) inner() (out []calib.White) {
	beside := make([]int, len(g.tiles))
	for _, l := range g.links {
		switch {
		case l.from < 0:
			beside[l.to]++
		case g.tiles[l.from].taken >= 0 && g.tiles[l.to].taken >= 0:
			beside[l.from]++
			beside[l.to]++
		}
	}
	for i, t := range g.tiles {
		if t.taken >= 0 && beside[i] >= neighbours {
			out = append(out, calib.White{Material: g.nodes[t.taken].material, Sample: t.sample, Found: true})
		}
	}
	return out
}

// spread keeps as many as are wanted: always the one that lies farthest from the marked
// whites and from those kept.
func spread(may, marked []calib.White) (out []calib.White) {
	if len(may) <= mostFound {
		return may
	}
	gap := make([]float64, len(may))
	for i := range gap {
		gap[i] = math.Inf(1)
	}
	near := func(w calib.White) {
		for i, m := range may {
			gap[i] = math.Min(gap[i], w.Sample.Place.Distance(m.Sample.Place))
		}
	}
	for _, w := range marked {
		near(w)
	}
	for len(out) < mostFound {
		k := 0
		for i := range gap {
			if gap[i] > gap[k] {
				k = i
			}
		}
		out = append(out, may[k])
		near(may[k])
	}
	return out
}
