package outline

import (
	"math"
	"slices"

	"padband/charts"
	"padband/colorimetry"
)

// offCell is how far a patch lies from its cell, of its size, from which it is marked
// where it is.
const offCell = 0.2

// cornered are marks with the chart's corners in place of the swatches that lie where
// its layout has them. They stay as they are where corners cannot be marked: one lies
// outside the photo, or the cells lie all in one line, which says nothing of corners.
func (d drawing) cornered(m charts.Marks, g guess) charts.Marks {
	l, k := g.fit.by, d.s.known
	if l == nil || k == nil || k.corners == nil || len(d.chart.Layout) == 0 || k.inLine() {
		return m
	}
	out := m
	out.Regions = nil
	fx, fy := float64(d.width)/float64(d.s.g.Width), float64(d.height)/float64(d.s.g.Height)
	for _, c := range k.corners {
		q := l.plane.apply(c)
		out.Corners = append(out.Corners, colorimetry.Point{X: round(q.X * fx), Y: round(q.Y * fy)})
	}
	for _, r := range m.Regions {
		if r.Role != charts.RoleSwatch || d.offCell(r, g) {
			out.Regions = append(out.Regions, r)
		}
	}
	if _, err := out.Cells(d.chart, d.width, d.height); err != nil { // a corner lies outside, or a mark on a cell
		return m
	}
	return out
}

// offCell reports whether a swatch was seen clearly off its cell.
func (d drawing) offCell(m charts.Mark, g guess) bool {
	for i, l := range d.lines {
		a := d.chart.Analytes[l.analyte]
		if a.Name != m.Analyte || l.part != m.Part {
			continue
		}
		n := slices.IndexFunc(a.Swatches, func(s charts.Swatch) bool { return s.Value == m.Value })
		p := g.fit.rows[i].spots[n]
		at := g.fit.by.place(d.s.known.rows[i][n])
		return p.patch >= 0 && p.mid.Distance(at.mid) > offCell*math.Sqrt(p.area)
	}
	return false
}

// inLine reports whether all places lie in one line, as those of a chart of one row.
func (k known) inLine() bool {
	e := k.even()
	first := e.carried(k.rows[0][0], 1)
	var far spot
	for _, row := range k.rows {
		for _, p := range row {
			if q := e.carried(p, 1); q.mid.Distance(first.mid) >= far.mid.Distance(first.mid) || far.area == 0 {
				far = q
			}
		}
	}
	ux, uy := direction(first.mid, far.mid)
	for _, row := range k.rows {
		for _, p := range row {
			q := e.carried(p, 1).mid
			if math.Abs((q.Y-first.mid.Y)*ux-(q.X-first.mid.X)*uy) > math.Sqrt(first.area) {
				return false
			}
		}
	}
	return true
}
