package history

import (
	"cmp"
	"slices"

	"padband/calib/judge"
	"padband/charts/limits"
	"padband/cmd/padband/internal/lines"
)

// series puts what was gathered in order of time and in one unit, and tests it.
func (g *gathered) series(limit *limits.LimitChoice) (Series, error) {
	s := Series{Analyte: g.analyte, Place: g.place, Point: g.point, Where: placeText(g.place, g.point)}
	if len(g.rows) > mostInSeries {
		return s, &LongError{g.analyte, s.Where}
	}
	s.Notes = append(s.Notes, g.clocks()...)
	slices.SortStableFunc(g.rows, func(a, b gatheredRow) int { return cmp.Or(a.time.Compare(b.time), cmp.Compare(a.Path, b.Path)) })
	s.Notes = append(s.Notes, g.once()...)
	unit, factors, notes := g.unit()
	s.Unit, s.Notes = unit.String(), append(s.Notes, notes...)
	for _, r := range g.rows {
		if f, ok := factors[unitKeyOf(r)]; ok {
			s.Rows = append(s.Rows, r.in(f, unit))
		}
	}
	mark(s.Rows)
	tested := points(s.Rows)
	if n := len(s.Rows) - len(tested); n > 0 {
		s.Notes = append(s.Notes, lines.Count(n, "reading")+" not to be used: in the table and not in the test.")
	}
	if n := untold(tested); n > 0 {
		count := " count"
		if n == 1 {
			count = " counts"
		}
		s.Notes = append(s.Notes, lines.Count(n, "record")+" in the test without a kit lot, which"+count+
			" only where the ranges of the water do not overlap: a new bottle looks like a change.")
	}
	s.Result = judge.MannKendall(tested)
	s.Limit = limitOf(limit, g.analyte, unit, s.Rows)
	return s, nil
}
