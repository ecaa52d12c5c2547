package charts

// layout reads the cells of a chart's layout, which must be the chart's own
// and lie in the unit square.
func (d *decoder) layout(v *value, c Chart) []Mark {
	f := d.object(v, "cells")
	cells := f.need("cells")
	if cells == nil {
		return nil
	}
	var all []Mark
	seen := map[cell]int{}
	for i, item := range d.items(cells, maxCells) {
		m := d.mark(item)
		if d.err != nil {
			return nil
		}
		if !within(m.Region, 1, 1) {
			d.fail(item.path(), "give fractions of the chart's width and height, from 0 to 1", "reaches outside the unit square")
		}
		if m.Role == RolePad {
			d.fail(item.path()+".role", "mark pads in the photo", "is pad, and a chart has none printed")
		}
		all = append(all, m)
		if m.Role == RoleWhite || d.err != nil {
			continue
		}
		k, err := c.cell(m, item.path())
		if err != nil && d.err == nil {
			d.err = err
			return nil
		}
		if j, twice := seen[k]; twice {
			d.fail(item.path(), "keep one of them", "is %s, as is layout.cells[%d]", m.label(), j)
		}
		seen[k] = i
	}
	return all
}
