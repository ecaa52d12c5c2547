package outline

import (
	"math"
	"slices"

	"padband/charts"
	"padband/colorimetry"
)

// known is an arrangement of the chart's swatches that is known before the search, on a
// plane of its own: the unit square of the chart's corners, or an earlier photo.
type known struct {
	rows    [][]spot            // one for each line, in order of value; none has a patch
	colours [][]colorimetry.Lab // of the swatches against their paper; nil: not known
	corners []colorimetry.Point // of the chart on the plane, where its layout stands for the swatches
}

// ofLayout is the arrangement of a chart's layout. ok is false where the layout lacks a
// swatch, and of a chart without one.
func ofLayout(chart charts.Chart, lines []line) (k known, ok bool) {
	k.corners = []colorimetry.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}}
	k.rows, ok = arranged(chart, lines, chart.Layout)
	return k, ok
}

// arranged sorts marks of swatches into the rows of a chart; ok is false where one is
// missing, and of a row of one swatch, which has no direction.
func arranged(chart charts.Chart, lines []line, marks []charts.Mark) (rows [][]spot, ok bool) {
	for _, l := range lines {
		a := chart.Analytes[l.analyte]
		var row []spot
		for _, s := range a.Swatches {
			at := slices.IndexFunc(marks, func(m charts.Mark) bool {
				return m.Role == charts.RoleSwatch && m.Analyte == a.Name && m.Part == l.part && m.Value == s.Value
			})
			if at < 0 {
				return nil, false
			}
			row = append(row, placeOf(marks[at].Region))
		}
		if len(row) < 2 {
			return nil, false
		}
		rows = append(rows, row)
	}
	return rows, len(rows) > 0
}

// placeOf is the place of a region: its own corners where it has four, else those of the
// upright box that its outline fills.
func placeOf(r colorimetry.Region) spot {
	p := spot{patch: -1, mid: r.Centroid(), area: r.Area()}
	if out := r.Outline(); r.Shape != colorimetry.Circle && len(out) == 4 {
		p.quad = [4]colorimetry.Point(out)
		return p
	}
	least, most := r.Bounds()
	box := (most.X - least.X) * (most.Y - least.Y)
	f := math.Sqrt(p.area/box) / 2
	w, h := f*(most.X-least.X), f*(most.Y-least.Y)
	p.quad = [4]colorimetry.Point{
		{X: p.mid.X - w, Y: p.mid.Y - h}, {X: p.mid.X + w, Y: p.mid.Y - h}, {X: p.mid.X + w, Y: p.mid.Y + h}, {X: p.mid.X - w, Y: p.mid.Y + h},
	}
	return p
}

// fits lays the arrangement on the patches, the best way first.
func (k known) fits(s *search) (all []fit) {
	for _, l := range k.laid(s) {
		all = append(all, k.fit(s, l))
	}
	return all
}

// fit is the arrangement as it lies on the picture: a found patch where there is one,
// else the place where it must be.
func (k known) fit(s *search, l laying) fit {
	f := fit{rows: make([]row, len(k.rows)), score: l.score, by: &l}
	at := 0
	for i, places := range k.rows {
		for _, p := range places {
			if n := l.found[at]; n >= 0 {
				f.rows[i].spots = append(f.rows[i].spots, s.spot(n))
			} else {
				f.rows[i].spots = append(f.rows[i].spots, l.place(p))
			}
			at++
		}
	}
	for i := range f.rows {
		f.rows[i].of = chain{spots: f.rows[i].spots}
	}
	long := slices.MaxFunc(f.rows, func(a, b row) int { return len(a.spots) - len(b.spots) })
	f.ux, f.uy = chain{spots: long.spots}.direction()
	across := func(p colorimetry.Point) float64 { return p.Y*f.ux - p.X*f.uy }
	if last := len(f.rows) - 1; last > 0 {
		f.along = across(f.rows[0].spots[0].mid) < across(f.rows[last].spots[0].mid)
	} else {
		right, down := l.axes(l.at)
		f.along = across(right)+across(down) > 0
	}
	return f
}

// middle is that of all places.
func (k known) middle() (m colorimetry.Point) {
	n := 0.0
	for _, places := range k.rows {
		for _, p := range places {
			m.X, m.Y, n = m.X+p.mid.X, m.Y+p.mid.Y, n+1
		}
	}
	return colorimetry.Point{X: m.X / n, Y: m.Y / n}
}
