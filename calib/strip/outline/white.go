package outline

import (
	"math"
	"slices"

	"padband/colorimetry"
)

// white is a place of bare white.
type white struct {
	spot
	material string
}

// Where white is looked for.
const (
	mostPaper     = 6
	whiteSide     = 0.55 // of a patch's size
	whiteEven     = 1.6  // CIELAB units within it
	whiteLike     = 8.0  // CIELAB units from the paper beside the nearest patch
	whiteApart    = 0.85 // of a patch's size, from any patch's middle
	whiteClear    = 0.7  // of the sizes of both, from a swatch to the white of a strip
	whiteMaterial = "paper"
	stripMaterial = "strip"
)

// whites are bare places of the paper near swatches, well spread, and of the strip near
// its pads.
func (d drawing) whites(g guess) (out []white) {
	var places []spot
	for _, r := range g.fit.rows {
		places = append(places, r.spots...)
	}
	var pads []spot
	if g.strip != nil {
		pads = g.strip.pads
	}
	var may []white
	for _, r := range g.fit.rows {
		for k, p := range r.spots {
			paper := d.s.paperOf(r, k)
			for turn := range 8 {
				may = append(may, d.paperAt(p, float64(turn)*math.Pi/4, paper, places, pads)...)
			}
		}
	}
	for _, w := range spread(may, mostPaper) {
		out = append(out, white{w.spot, whiteMaterial})
	}
	if g.strip != nil {
		for _, w := range d.stripWhite(*g.strip) {
			on := func(q spot) bool { return q.mid.Distance(w.mid) < whiteClear*(math.Sqrt(q.area)+math.Sqrt(w.area)) }
			if !slices.ContainsFunc(places, on) {
				out = append(out, w)
			}
		}
	}
	return out
}

// paperAt is the bare paper beside a place in a direction, if there is.
func (d drawing) paperAt(p spot, turn float64, paper colorimetry.Lab, places, pads []spot) []white {
	size := math.Sqrt(p.area)
	for _, far := range [2]float64{1.15, 1.5} {
		at := colorimetry.Point{X: p.mid.X + far*size*math.Cos(turn), Y: p.mid.Y + far*size*math.Sin(turn)}
		w := squareAt(at, whiteSide*size)
		if w.area < 16 || !d.bare(squareAt(at, 1.3*whiteSide*size), paper) {
			continue
		}
		free := func(q spot) bool { return q.mid.Distance(at) < whiteApart*max(size, math.Sqrt(q.area)) }
		onStrip := func(q spot) bool { return q.mid.Distance(at) < 1.6*math.Sqrt(q.area) }
		if slices.ContainsFunc(places, free) || slices.ContainsFunc(pads, onStrip) {
			continue
		}
		return []white{{w, whiteMaterial}}
	}
	return nil
}

// bare reports whether a place is even and of about the colour of the paper.
func (d drawing) bare(w spot, paper colorimetry.Lab) bool {
	for _, c := range w.quad {
		if !d.s.g.Has(c) {
			return false
		}
	}
	c, uneven := d.s.g.Within(w.quad)
	return uneven < whiteEven && colorimetry.DeltaE76(c, paper) < whiteLike
}

// squareAt is an upright square place.
func squareAt(at colorimetry.Point, side float64) spot {
	h := side / 2
	return spot{patch: -1, mid: at, area: side * side, quad: [4]colorimetry.Point{
		{X: at.X - h, Y: at.Y - h}, {X: at.X + h, Y: at.Y - h}, {X: at.X + h, Y: at.Y + h}, {X: at.X - h, Y: at.Y + h},
	}}
}

// spread picks so many of the places that they lie far apart.
func spread(may []white, most int) (out []white) {
	if len(may) == 0 {
		return nil
	}
	var mid colorimetry.Point
	for _, w := range may {
		mid.X, mid.Y = mid.X+w.mid.X/float64(len(may)), mid.Y+w.mid.Y/float64(len(may))
	}
	far := func(w white) float64 { return w.mid.Distance(mid) }
	for len(out) < most {
		best, least := -1, 0.0
		for i, w := range may {
			d := far(w)
			for k, o := range out {
				if v := w.mid.Distance(o.mid); k == 0 || v < d {
					d = v
				}
			}
			if d > least {
				best, least = i, d
			}
		}
		if best < 0 || len(out) > 0 && least < math.Sqrt(may[best].area)*1.5 {
			return out
		}
		out = append(out, may[best])
	}
	return out
}

// stripWhite are bare places of the strip beyond its first and its last pad.
func (d drawing) stripWhite(f stripFit) (out []white) {
	n := len(f.pads)
	ux, uy := f.ux, f.uy
	for _, end := range []struct {
		p    spot
		side float64
		room float64
	}{{f.pads[0], -1, f.before}, {f.pads[n-1], 1, f.after}} {
		size := 2 * reach(end.p.quad, ux, uy)
		side := min(0.55*size, (end.room-0.15)*size*0.7)
		if side < 4 {
			continue
		}
		off := reach(end.p.quad, ux, uy) + min(end.room*size/2, 0.15*size+side*0.9)
		at := colorimetry.Point{X: end.p.mid.X + end.side*off*ux, Y: end.p.mid.Y + end.side*off*uy}
		if w := squareAt(at, side); d.bare(w, f.white) {
			out = append(out, white{w, stripMaterial})
		}
	}
	return out
}
