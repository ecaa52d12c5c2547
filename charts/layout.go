package charts

// readLayout reads the cells of a chart's layout, which must be the chart's own
// and lie in the unit square.
func readLayout(d *decoder, v *value, c Chart) []Mark {
	f := d.object(v, "cells")
	cells := f.need("cells")
	if cells == nil {
		return nil
	}
	var all []Mark
	seen := map[cell]int{}
	p := &placer{chart: c, cells: map[cell]Mark{}}
	for i, item := range d.items(cells, maxCells) {
		m := readCell(d, item)
		if d.err != nil {
			return nil
		}
		all = append(all, m)
		if m.Role == RoleWhite {
			continue
		}
		k, err := c.cell(m, item.path())
		if err != nil {
			d.err = err
			return nil
		}
		if j, twice := seen[k]; twice {
			d.fail(item.path(), "keep one of them", "is %s, as is layout.cells[%d]", m.label(), j)
			return nil
		}
		seen[k] = i
		if d.err = p.put(k, m, item.path()); d.err != nil {
			return nil
		}
	}
	return all
}

// readCell reads one cell: a swatch or a white within the unit square.
func readCell(d *decoder, v *value) Mark {
	m := readMark(d, v)
	if d.err == nil && m.Role == RolePad {
		d.fail(v.path()+".role", "mark pads in the photo", "is pad, and a chart has none printed")
	}
	if d.err == nil && !inUnitSquare(m.Region) {
		d.fail(v.path(), "give fractions of the chart's width and height, from 0 to 1", "reaches outside the unit square")
	}
	return m
}
