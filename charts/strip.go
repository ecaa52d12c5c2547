package charts

import (
	"slices"

	"padband/charts/strict"
)

// Pads are the names of the chart's analytes in the order of the strip's pads, from the
// dipped tip. A chart that does not say is taken to have its pads in the order of its
// analytes, which need not be so: many labels print their rows in another order.
func (c Chart) Pads() []string {
	if len(c.Strip) > 0 {
		return slices.Clone(c.Strip)
	}
	out := make([]string, 0, len(c.Analytes))
	for _, a := range c.Analytes {
		out = append(out, a.Name)
	}
	return out
}

// readStrip reads the order of the strip's pads: all analytes of the chart, each once.
func readStrip(d *strict.Decoder, v *strict.Value, c Chart) (out []string) {
	for _, item := range d.Items(v, maxAnalytes) {
		name := d.Name(item)
		_, known := c.Analyte(name)
		switch first := slices.Index(out, name); {
		case d.Err != nil:
		case !known:
			d.Fail(item.Path(), "write one of "+c.names(), "is %s, which the chart does not have", strict.Quote(name))
		case first >= 0:
			d.Fail(item.Path(), "keep one of them", "is %s, as is strip[%d]", strict.Quote(name), first)
		}
		out = append(out, name)
	}
	for _, a := range c.Analytes {
		if !slices.Contains(out, a.Name) {
			d.Fail(v.Path(), "name every analyte, from the dipped tip, or remove it", "leaves out %s", strict.Quote(a.Name))
		}
	}
	return out
}
