package outline

import (
	"math"
	"slices"
	"sort"

	"padband/colorimetry"
)

// stripFit is a strip: its pads in order along it, and how far its white goes on beyond
// the first and the last of them.
type stripFit struct {
	pads          []spot
	score         float64
	before, after float64 // white beyond the first and the last pad, in sizes of a pad
	white         colorimetry.Lab
	ux, uy        float64 // along it
}

// What a strip is told by.
const (
	mostStrips      = 14
	stripColour     = 7.0 // CIELAB units, by which the white of one strip may differ over its length
	stripSlope      = 2.2 // CIELAB units a point: an edge
	leastWhite      = 0.5 // sizes of a pad, of the white on both ends together
	worthWhite      = 4.0
	worthHandle     = 3.0
	costNoWhite     = 8.0
	costNoEdge      = 2.0
	widest          = 3.0 // widths of a pad that a strip may be wide
	longestHandle   = 30.0
	mostWhiteChroma = 30.0
)

// strips are the places where a strip of n pads may lie, the best first.
func (s *search) strips(chains []chain, n int) (all []stripFit) {
	if n == 1 {
		for k := range s.all {
			all = append(all, s.single(s.spot(k))...)
		}
	} else {
		for _, c := range chains {
			for _, r := range s.rowsOf(c, n) {
				all = append(all, s.strip(r))
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].score > all[j].score })
	return all
}

// beside are the best of the strips that use no patch and no place of a chart.
func (s *search) beside(f fit, strips []stripFit) (kept []stripFit) {
	used := map[int]bool{}
	for _, r := range f.rows {
		for _, p := range r.spots {
			used[p.patch] = p.patch >= 0
		}
	}
	inChart := func(p spot) bool {
		if used[p.patch] {
			return true
		}
		for _, r := range f.rows {
			for _, q := range r.spots {
				if q.mid.Distance(p.mid) < 0.4*(math.Sqrt(q.area)+math.Sqrt(p.area)) {
					return true
				}
			}
		}
		return false
	}
	for _, c := range strips {
		if len(kept) == mostStrips {
			break
		}
		if !slices.ContainsFunc(c.pads, inChart) && !slices.ContainsFunc(kept, c.sameAs) {
			for k := range c.pads {
				if c.pads[k].patch < 0 {
					c.pads = s.settle(c.pads)
					break
				}
			}
			kept = append(kept, c)
		}
	}
	return kept
}

// sameAs reports whether two strips put their pads at the same places.
func (f stripFit) sameAs(k stripFit) bool { return samePads(f.pads, k.pads) }

// single is the strip of one pad, along either of its sides.
func (s *search) single(p spot) (all []stripFit) {
	for k := range 2 {
		a, b := p.quad[k], p.quad[k+1]
		d := a.Distance(b)
		if d == 0 {
			continue
		}
		f := s.onWhite([]spot{p}, (b.X-a.X)/d, (b.Y-a.Y)/d)
		f.score += worthPatch - min(mostLong, max(0, s.all[p.patch].Stretch()-longFrom))
		all = append(all, f)
	}
	return all
}

// strip weighs a row as a strip.
func (s *search) strip(r row) stripFit {
	ux, uy := chain{spots: r.spots}.direction()
	f := s.onWhite(r.spots, ux, uy)
	f.score += r.score
	return f
}

// onWhite weighs the white that pads along a direction should lie on.
func (s *search) onWhite(pads []spot, ux, uy float64) stripFit {
	f := stripFit{pads: pads, ux: ux, uy: uy}
	first, last := pads[0], pads[len(pads)-1]
	var white []colorimetry.Lab
	for k := 1; k < len(pads); k++ {
		a, b := pads[k-1], pads[k]
		from, to := reach(a.quad, ux, uy), a.mid.Distance(b.mid)-reach(b.quad, ux, uy)
		if to > from {
			d := (from + to) / 2 / a.mid.Distance(b.mid)
			white = append(white, s.g.At(between(a, b, d).mid))
		}
	}
	for _, end := range []struct {
		p    spot
		side float64
	}{{first, -1}, {last, 1}} {
		if at, ok := s.flattest(end.p, end.side*ux, end.side*uy); ok {
			white = append(white, s.g.At(at))
		}
	}
	if len(white) == 0 {
		f.score -= costNoWhite
		return f
	}
	f.white = plainest(white)
	size := 2 * reach(first.quad, ux, uy)
	f.before = s.march(first, -ux, -uy, f.white, longestHandle*size) / size
	f.after = s.march(last, ux, uy, f.white, longestHandle*size) / size
	f.score += s.whiteness(f, ux, uy, white)
	return f
}

// plainest is the least coloured of the brighter colours: beside a pad its dye runs over
// the edge, on the strip and in the JPEG.
func plainest(all []colorimetry.Lab) (best colorimetry.Lab) {
	brightest, least := 0.0, math.Inf(1)
	for _, c := range all {
		brightest = max(brightest, c.L)
	}
	for _, c := range all {
		if chroma := math.Hypot(c.A, c.B); c.L > brightest-8 && chroma < least {
			best, least = c, chroma
		}
	}
	return best
}

// flattest is the most even place just beyond a pad's edge along a direction.
func (s *search) flattest(p spot, ux, uy float64) (best colorimetry.Point, ok bool) {
	least := math.Inf(1)
	for d := 2.0; d <= max(6, 0.6*reach(p.quad, ux, uy)); d++ { // colour runs beyond edges in a JPEG
		r := reach(p.quad, ux, uy) + d
		at := colorimetry.Point{X: p.mid.X + r*ux, Y: p.mid.Y + r*uy}
		if s.g.Has(at) && s.g.Slope(at) < least {
			best, least, ok = at, s.g.Slope(at), true
		}
	}
	return best, ok
}

// march goes from a pad's edge along a direction as far as the colour stays that of the
// strip's white, in points.
func (s *search) march(p spot, ux, uy float64, white colorimetry.Lab, most float64) float64 {
	from := reach(p.quad, ux, uy)
	far := 0.0
	for d := from + 1; d < from+most; d++ {
		at := colorimetry.Point{X: p.mid.X + d*ux, Y: p.mid.Y + d*uy}
		if !s.g.Has(at) {
			break
		}
		flat := colorimetry.DeltaE76(s.g.At(at), white) < stripColour && s.g.Slope(at) < stripSlope
		switch {
		case flat:
			far = d - from
		case d > 1.6*from+6: // nearer is the edge of the pad itself
			return far
		}
	}
	return far
}

// whiteness weighs whether what the pads lie on is a strip: white, as wide as a pad or a
// little wider, and longer than its pads.
func (s *search) whiteness(f stripFit, ux, uy float64, white []colorimetry.Lab) float64 {
	score := 0.0
	same := 0
	for _, w := range white {
		if colorimetry.DeltaE76(w, f.white) < 1.3*stripColour { // dye runs between the pads
			same++
		}
	}
	if c := math.Hypot(f.white.A, f.white.B); same*3 < len(white) || c > mostWhiteChroma {
		return -costNoWhite
	}
	score += worthWhite * float64(same) / float64(len(white))
	for _, p := range f.pads { // pads are no brighter than the white they lie on
		if c := s.colour(p); c.L > f.white.L+3 {
			score -= 2
		}
	}
	if f.before+f.after < leastWhite {
		return score - costNoWhite
	}
	return score + s.handle(f, ux, uy)
}

// handle weighs the longer end of a strip's white by its width, which tells a strip from
// a sheet: at three places, the best of which counts, for the white may seem to go on
// beyond the strip's end.
func (s *search) handle(f stripFit, ux, uy float64) float64 {
	p, side, long := f.pads[0], -1.0, f.before
	if f.after > f.before {
		p, side, long = f.pads[len(f.pads)-1], 1.0, f.after
	}
	half, width := reach(p.quad, ux, uy), 2*reach(p.quad, -uy, ux)
	best := -costNoWhite
	for _, share := range [3]float64{0.2, 0.35, 0.5} {
		d := half * (1 + 2*share*long)
		at := spot{mid: colorimetry.Point{X: p.mid.X + side*d*ux, Y: p.mid.Y + side*d*uy}}
		for i := range at.quad {
			at.quad[i] = at.mid
		}
		wide := (s.march(at, -uy, ux, f.white, widest*width) + s.march(at, uy, -ux, f.white, widest*width)) / width
		switch {
		case wide > 0.7 && wide < widest:
			best = worthHandle
		case wide >= widest: // no edges: the strip may lie on a card as white as itself
			best = max(best, -costNoEdge)
		}
	}
	return best
}
