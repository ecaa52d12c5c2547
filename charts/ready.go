package charts

import (
	"fmt"

	"padband/charts/strict"
	"padband/colorimetry"
)

// Pending is an analyte that cannot be read yet, and what to do about it.
type Pending struct{ Analyte, Text string }

// Ready returns the marks without those analytes whose pad or swatches are not
// all marked, and what these still need. Marks that [Marks.Place] takes come
// back as they are; an analyte with no pad is pending too, though its swatches
// may stay.
func (m Marks) Ready(c Chart) (Marks, []Pending) {
	have := m.present(c)
	var pending []Pending
	left := map[string]bool{}
	for _, a := range c.Analytes {
		pads, text := a.lacking(have)
		if text == "" {
			continue
		}
		pending = append(pending, Pending{a.Name, text})
		left[a.Name] = pads > 0
	}
	out := m
	out.Regions = nil
	for _, r := range m.Regions {
		if !left[r.Analyte] {
			out.Regions = append(out.Regions, r)
		}
	}
	return out, pending
}

// present are the cells that marks or layout give.
func (m Marks) present(c Chart) map[cell]bool {
	have := map[cell]bool{}
	add := func(r Mark) {
		if k, err := c.cell(r, ""); r.Role != RoleWhite && err == nil {
			have[k] = true
		}
	}
	for _, r := range m.Regions {
		add(r)
	}
	if len(m.Corners) == 4 {
		for _, r := range c.Layout {
			add(r)
		}
	}
	return have
}

// lacking counts an analyte's marked pads and says what is to be marked next;
// the text is empty when nothing is.
func (a Analyte) lacking(have map[cell]bool) (pads int, text string) {
	for part := a.Parts; part >= 1; part-- {
		if have[cell{RolePad, a.Name, 0, part}] {
			pads++
		} else {
			text = "mark its pad" + a.ofPart(part)
		}
	}
	if text != "" {
		return pads, text
	}
	for i, s := range a.Swatches {
		for part := 1; part <= a.Parts; part++ {
			if !have[cell{RoleSwatch, a.Name, i, part}] {
				return pads, "mark the swatch for " + strict.Figure(s.Value) + a.ofPart(part)
			}
		}
	}
	return pads, ""
}

func (a Analyte) ofPart(part int) string {
	if a.Parts < 2 {
		return ""
	}
	return fmt.Sprintf(", part %d", part)
}

// Cells returns the layout's swatches where the corners put them in a photo of
// that upright size in pixels, but for those marked by hand; none without
// corners. Marks that are wrong in themselves, complete or not, are a [*FileError].
func (m Marks) Cells(c Chart, width, height int) ([]Mark, error) {
	p := &placer{marks: m, chart: c, cells: map[cell]Mark{}, from: map[cell]int{}}
	if err := p.byHand(width, height); err != nil || len(m.Corners) == 0 {
		return nil, err
	}
	if err := p.byCorners(float64(width), float64(height)); err != nil {
		return nil, err
	}
	var out []Mark
	for _, a := range c.Analytes {
		for i := range a.Swatches {
			for part := 1; part <= a.Parts; part++ {
				k := cell{RoleSwatch, a.Name, i, part}
				if _, hand := p.from[k]; hand {
					continue
				}
				if mark, ok := p.cells[k]; ok {
					out = append(out, mark)
				}
			}
		}
	}
	return out, nil
}

// WithLayout returns the chart with its layout taken from a photo's marks: all
// swatches of each marked row, and the four corners. What the chart's layout
// knew before and was not marked anew stays. The error is a
// [*FileError] that says what is missing or lies outside the corners.
func (c Chart) WithLayout(m Marks) (Chart, error) {
	if len(m.Corners) != 4 {
		return c, strict.Fault("corners", "mark the chart's four corners first", "are not all there")
	}
	square := [4]colorimetry.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}}
	toChart, err := colorimetry.NewHomography([4]colorimetry.Point(m.Corners), square)
	if err != nil {
		return c, strict.Fault("corners", cornerOrder, "%s", err.Error())
	}
	have := m.present(c)
	cells := c.unmarked(m)
	marked := false
	for i, r := range m.Regions {
		if r.Role != RoleSwatch {
			continue
		}
		if a, ok := c.Analyte(r.Analyte); !ok || !a.whole(have) {
			return c, strict.Fault("regions", "mark the whole row first", "the row %s is not all marked", strict.Quote(r.Analyte))
		}
		if !r.onChart(toChart) {
			return c, strict.Fault(region(i), "take in the whole chart with the corners", "%s lies outside the chart's corners", r.label())
		}
		cells, marked = append(cells, r), true
	}
	if !marked {
		return c, strict.Fault("regions", "mark the swatches first", "no swatch is marked")
	}
	c.Layout = cells
	return c, nil
}

// onChart moves the mark from the photo into the unit square of the chart's
// corners, and reports whether it lies there, but for rounding.
func (m *Mark) onChart(toChart colorimetry.Homography) bool {
	const rounding = 0.001 // of the chart's side
	inside := true
	m.Region = m.Region.Map(func(q colorimetry.Point) colorimetry.Point {
		q = toChart.Apply(q)
		inside = inside && q.X >= -rounding && q.X <= 1+rounding && q.Y >= -rounding && q.Y <= 1+rounding
		return colorimetry.Point{X: max(0, min(q.X, 1)), Y: max(0, min(q.Y, 1))}
	})
	return inside && m.Region.Check() == nil
}

// unmarked are the layout's cells but for the swatches marked by hand.
func (c Chart) unmarked(m Marks) (out []Mark) {
	hand := m.present(Chart{Name: c.Name, Analytes: c.Analytes})
	for _, r := range c.Layout {
		if k, err := c.cell(r, ""); r.Role == RoleWhite || err != nil || !hand[k] {
			out = append(out, r)
		}
	}
	return out
}

// whole reports whether every swatch of the analyte is there.
func (a Analyte) whole(have map[cell]bool) bool {
	for i := range a.Swatches {
		for part := 1; part <= a.Parts; part++ {
			if !have[cell{RoleSwatch, a.Name, i, part}] {
				return false
			}
		}
	}
	return true
}
