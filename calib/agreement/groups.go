package agreement

import (
	"fmt"
	"slices"
	"strings"

	"padband/charts"
)

// group holds the rows of one analyte, in one unit.
type group struct {
	analyte, unit, as string
	scale             *charts.Analyte
	rows              []*Call
	left              *Calls // only its left-out rows
}

// groups sorts the rows by analyte, and leaves out those whose unit is another
// than the first row's of the analyte, or the chart's: a unit is never guessed.
func (c *Calls) groups(o Options) ([]*group, error) {
	var order []*group
	by := map[string]*group{}
	many := slices.ContainsFunc(c.Rows, func(r Call) bool { return r.Analyte != "" })
	shared := &Calls{Left: slices.Clone(c.Left), LeftCount: c.LeftCount}
	for i := range c.Rows {
		r := &c.Rows[i]
		if r.Analyte == "" && many {
			shared.leave(LeftOut{r.Row, fmt.Sprintf("sample %s, %s: names no analyte, while other rows do", clip(r.Sample),
				clip(r.Reader))})
			continue
		}
		key := strings.ToLower(r.Analyte)
		g := by[key]
		if g == nil {
			g = &group{analyte: r.Analyte, unit: r.Unit, as: r.As, left: &Calls{}}
			by[key] = g
			order = append(order, g)
			if err := g.scaleFrom(o.Chart); err != nil {
				return nil, err
			}
		}
		g.add(r)
	}
	return finish(order, shared)
}

// finish gives what belongs to no analyte to each group.
func finish(order []*group, shared *Calls) ([]*group, error) {
	if len(order) == 0 {
		return nil, fmt.Errorf("no row can be used; the first that is left out is line %d: %s", shared.Left[0].Row, shared.Left[0].Why)
	}
	for _, g := range order {
		for _, l := range shared.Left {
			g.left.leave(l)
		}
		g.left.LeftCount += shared.LeftCount - len(shared.Left)
		if len(g.rows) == 0 {
			return nil, fmt.Errorf("no row can be used; line %d: %s", g.left.Left[0].Row, g.left.Left[0].Why)
		}
	}
	return order, nil
}

// scaleFrom finds the analyte's scale on the chart, and takes the chart's unit
// where the rows give none.
func (g *group) scaleFrom(c *charts.Chart) error {
	if c == nil {
		return nil
	}
	a, ok := analyteIn(c, g.analyte)
	switch {
	case g.analyte == "" && len(c.Analytes) == 1:
		a = &c.Analytes[0]
	case g.analyte == "":
		return fmt.Errorf("the calls name no analyte and the chart %s has %d; add a column \"analyte\"", c.Name, len(c.Analytes))
	case !ok:
		return fmt.Errorf("the chart %s has no analyte %q; name another chart, or mend the column \"analyte\"", c.Name, clip(g.analyte))
	}
	u := a.Measure()
	g.scale, g.analyte, g.unit, g.as = a, a.Name, u.Name, u.As
	return nil
}

// add keeps a row in the group's unit, or none where the rows give none and the
// chart does.
func (g *group) add(r *Call) {
	fromChart := g.scale != nil && r.Unit == "" && r.As == ""
	if !fromChart && (!strings.EqualFold(r.Unit, g.unit) || !strings.EqualFold(r.As, g.as)) {
		of := "the rows before are"
		if g.scale != nil {
			of = "the chart is"
		}
		g.left.leave(LeftOut{r.Row, fmt.Sprintf("sample %s, %s: is in %s where %s in %s", clip(r.Sample), clip(r.Reader),
			UnitText(clip(r.Unit), clip(r.As)), of, UnitText(g.unit, g.as))})
		return
	}
	g.rows = append(g.rows, r)
}
