package outline

import (
	"cmp"
	"image"
	"math"
	"slices"

	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/patches"
)

// Earlier is another photo of the same strip and chart, with marks that somebody looked
// at.
type Earlier struct {
	Marks         charts.Marks
	Width, Height int         // of the photo, in whose pixels the marks are
	Seen          image.Image // its picture, as [Find] takes one; nil: its colours tell nothing
}

// Carry looks for the strip, the chart's swatches and bare white as [Find] does, and
// takes from an earlier photo what does not change from one to the next: how the
// swatches lie to each other, their colours, and the order of the pads. What that
// photo's marks say is not asked again where this one agrees; where it does not, as
// where the strip was turned and nothing shows it, the questions are those of Find.
// Marks that cannot be those of the chart tell nothing.
func Carry(seen image.Image, width, height int, chart charts.Chart, earlier Earlier) Outline {
	s := newSearch(patches.Reduce(seen, Longest))
	lines := linesOf(chart)
	if before, ok := earlier.told(chart, lines); ok {
		s.before = &before
		chart.Strip = before.order
	}
	return s.outline(width, height, chart, lines)
}

// told is what an earlier photo tells; places are in points of its picture.
type told struct {
	known
	pads   []spot            // in the order of the lines; empty where not all are marked
	order  []string          // of the pads along the strip, as [charts.Chart.Strip]
	tip    bool              // the order begins at the dipped tip
	shades []colorimetry.Lab // of the pads against the white about them; nil: not known
}

// What an earlier photo's colours and places are worth, in nats.
const (
	printUnit  = 7.0 // CIELAB units, by which a swatch may look otherwise against its paper
	mostPrint  = 1.5
	shadeUnit  = 14.0 // and a pad, which goes on darkening
	mostShade  = 1.5
	padAreas   = 0.4 // of the logarithm of a pad's area against another's, which does not change
	mostSize   = 3.0
	sameStrip  = 0.3 // of a pad's size, from where it lay
	worthStays = 6.0 // of a strip that lies where it lay: it was not turned
	mostMargin = 0.14
	outOfShape = 0.3 // of a patch's size, of a row that lies otherwise than it did
	mostShape  = 8.0
)

// told takes apart what the marks of an earlier photo say; ok is false where they do not
// mark every swatch.
func (e Earlier) told(chart charts.Chart, lines []line) (t told, ok bool) {
	if e.Width < 1 || e.Height < 1 {
		return t, false
	}
	cells, err := e.Marks.Cells(chart, e.Width, e.Height)
	if err != nil {
		return t, false
	}
	if t.rows, ok = arranged(chart, lines, append(slices.Clone(e.Marks.Regions), cells...)); !ok {
		return t, false
	}
	if len(e.Marks.Corners) == 4 && len(chart.Layout) > 0 {
		t.corners = e.Marks.Corners
	}
	for _, l := range lines {
		k := slices.IndexFunc(e.Marks.Regions, func(m charts.Mark) bool {
			return m.Role == charts.RolePad && m.Analyte == chart.Analytes[l.analyte].Name && m.Part == l.part
		})
		if k < 0 {
			t.pads = nil
			break
		}
		t.pads = append(t.pads, placeOf(e.Marks.Regions[k].Region))
	}
	t.order, t.tip = t.along(chart, lines)
	if e.Seen != nil {
		t.look(patches.Reduce(e.Seen, Longest), float64(e.Width))
	}
	return t, true
}

// along is the order of the pads along the strip. tip reports whether it is the chart's
// own, so that it begins at the dipped tip; that of another order lies at either end.
func (t told) along(chart charts.Chart, lines []line) (order []string, tip bool) {
	n := len(t.pads)
	if n < 2 {
		return chart.Strip, true
	}
	far := slices.MaxFunc(t.pads, func(a, b spot) int { return cmp.Compare(a.mid.Distance(t.pads[0].mid), b.mid.Distance(t.pads[0].mid)) })
	end := slices.MaxFunc(t.pads, func(a, b spot) int { return cmp.Compare(a.mid.Distance(far.mid), b.mid.Distance(far.mid)) })
	at := map[string]float64{} // how far along, of each analyte
	for i, l := range lines {
		at[chart.Analytes[l.analyte].Name] += t.pads[i].mid.Distance(end.mid) / float64(max(1, chart.Analytes[l.analyte].Parts))
	}
	was := chart.Pads()
	out := slices.Clone(was)
	slices.SortStableFunc(out, func(a, b string) int { return cmp.Compare(at[a], at[b]) })
	back := slices.Clone(out)
	slices.Reverse(back)
	switch {
	case slices.Equal(back, was):
		return back, true
	case slices.Equal(out, was):
		return out, true
	}
	return out, false
}

// look takes the colours of swatches and pads from the earlier picture.
func (t *told) look(g *patches.Ground, width float64) {
	f := float64(g.Width) / width
	in := func(p spot, share float64) (out [4]colorimetry.Point) {
		for i, c := range shrunk(p, share) {
			out[i] = colorimetry.Point{X: c.X * f, Y: c.Y * f}
		}
		return out
	}
	colour := func(p spot) colorimetry.Lab {
		own, _ := g.Within(in(p, 0.8))
		s := search{g: g}
		around := patches.Patch{Corners: in(p, 1+2*mostMargin), Middle: colorimetry.Point{X: p.mid.X * f, Y: p.mid.Y * f}, Colour: own}
		return against(own, s.about(around).colour)
	}
	for _, row := range t.rows {
		var own []colorimetry.Lab
		for _, p := range row {
			own = append(own, colour(p))
		}
		t.colours = append(t.colours, own)
	}
	for _, p := range t.pads {
		t.shades = append(t.shades, colour(p))
	}
}

// printScore is how well the colours and places of a fit agree with those of the earlier
// photo, in nats.
func (t *told) printScore(s *search, g guess) (score float64) {
	if t == nil {
		return 0
	}
	for i, own := range t.colours {
		r := g.fit.rows[i]
		for k, c := range own {
			at := k
			if g.turned {
				at = len(own) - 1 - k
			}
			d := colorimetry.DeltaE76(c, against(s.colour(r.spots[at]), s.paperOf(r, at))) / printUnit
			score += mostPrint - min(2*mostPrint, d*d/2)
		}
	}
	return score - t.shapeCost(g)
}

// shapeCost is what it costs that rows put together one by one lie to each other
// otherwise than in the earlier photo: turned over, or each somewhere else.
func (t *told) shapeCost(g guess) float64 {
	if g.fit.by != nil {
		return 0
	}
	var from, to []colorimetry.Point
	size := 0.0
	for i, row := range t.rows {
		for k, p := range row {
			at := k
			if g.turned {
				at = len(row) - 1 - k
			}
			q := g.fit.rows[i].spots[at]
			from, to = append(from, p.mid), append(to, q.mid)
			size += math.Sqrt(q.area)
		}
	}
	last := len(t.rows) - 1
	i, j, k := 0, len(t.rows[0])-1, len(from)-len(t.rows[last])
	if last == 0 {
		return 0
	}
	p, ok := through([3]colorimetry.Point{from[i], from[j], from[k]}, [3]colorimetry.Point{to[i], to[j], to[k]})
	if !ok || p[0][0]*p[1][1]-p[0][1]*p[1][0] <= 0 {
		return mostShape
	}
	p = p.mended(from, to)
	off := 0.0
	for i := range from {
		off += p.apply(from[i]).Distance(to[i]) / size
	}
	return min(mostShape, off*off/outOfShape/outOfShape/2)
}

// stripScore is what the earlier photo's strip tells of one with a pad for each line, in
// the order of the lines.
func (t *told) stripScore(s *search, g guess, order []int) (score float64) {
	if t == nil || len(t.pads) == 0 {
		return 0
	}
	n, stays := len(order), g.fit.by != nil
	larger := 0.0
	for k, i := range order {
		at := k
		if g.ended {
			at = n - 1 - k
		}
		p := g.strip.pads[at]
		own := math.Log(p.area / t.pads[i].area)
		if k == 0 {
			larger = own
		}
		score -= min(mostSize, (own-larger)*(own-larger)/padAreas/padAreas/2)
		if stays {
			d := g.fit.by.plane.apply(t.pads[i].mid).Distance(p.mid)
			stays = d < sameStrip*math.Sqrt(p.area)
		}
		if t.shades != nil {
			d := colorimetry.DeltaE76(t.shades[i], against(s.colour(p), g.strip.white)) / shadeUnit
			score -= min(mostShade, d*d/2)
		}
	}
	if stays {
		score += worthStays
	}
	return score
}
