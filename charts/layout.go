package charts

import "padband/charts/strict"

// readLayout reads the cells of a chart's layout, which must be the chart's own
// and lie in the unit square.
func readLayout(d *strict.Decoder, v *strict.Value, c Chart) []Mark {
	f := d.Object(v, "cells")
	cells := f.Need("cells")
	if cells == nil {
		return nil
	}
	var all []Mark
	seen := map[cell]int{}
	p := &placer{chart: c, cells: map[cell]Mark{}}
	for i, item := range d.Items(cells, maxCells) {
		m := readCell(d, item)
		if d.Err != nil {
			return nil
		}
		all = append(all, m)
		if m.Role == RoleWhite {
			continue
		}
		k, err := c.cell(m, item.Path())
		if err != nil {
			d.Err = err
			return nil
		}
		if j, twice := seen[k]; twice {
			d.Fail(item.Path(), "keep one of them", "is %s, as is layout.cells[%d]", m.label(), j)
			return nil
		}
		seen[k] = i
		if d.Err = p.put(k, m, item.Path()); d.Err != nil {
			return nil
		}
	}
	return all
}

// readCell reads one cell: a swatch or a white within the unit square.
func readCell(d *strict.Decoder, v *strict.Value) Mark {
	m := readMark(d, v)
	if d.Err == nil && m.Role == RolePad {
		d.Fail(v.Path()+".role", "mark pads in the photo", "is pad, but the pads are on the strip and not on the printed chart")
	}
	if d.Err == nil && m.Role == RoleWetWhite {
		d.Fail(v.Path()+".role", "mark what is wet in the photo", "is wet-white, but nothing on the printed chart is soaked")
	}
	if d.Err == nil && !inUnitSquare(m.Region) {
		d.Fail(v.Path(), "give fractions of the chart's width and height, from 0 to 1", "reaches outside the unit square")
	}
	return m
}
