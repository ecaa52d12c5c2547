package scene

import (
	"math"

	"padband/charts"
	"padband/colorimetry"
)

// A chart with a layout is printed as the layout says, with its names and
// numbers; its photo is marked by the chart's four corners.

// printedWidth is the width of the photo that the measures below are for.
const printedWidth = 2016

// Measures of a printed chart's photo, in pixels.
const (
	padSide   = 100
	padPitch  = 220
	textSize  = 25
	titleSize = 44
)

var (
	printedChart = box(560, 330, 1270, 860)
	printedCard  = box(150, 180, 1760, 1150)
	printedStrip = box(310, 290, 124, 960)
	besideStrip  = []quad{box(190, 400, 80, 110), box(190, 700, 80, 110), box(190, 1010, 80, 110)}
)

// scaledTo scales a box of the printed photo to a photo's width.
func (q quad) scaledTo(width int) quad {
	k := float64(width) / printedWidth
	for i := range q {
		q[i].X *= k
		q[i].Y *= k
	}
	return q
}

// place puts a point of the unit square into an upright box.
func (q quad) place(x, y float64) point {
	return point{X: q[0].X + x*(q[2].X-q[0].X), Y: q[0].Y + y*(q[2].Y-q[0].Y)}
}

// layPrinted lays out a chart with a layout on the card, and the strip at its left.
func (c *Config) layPrinted(s *sheet, card material, prints []scalePrints) {
	outline, area := printedCard.scaledTo(c.Width), printedChart.scaledTo(c.Width)
	s.cast(outline, 14, 12, 0.55)
	s.paint(outline, card)
	s.corners = &area
	c.layCorners(s, area)
	for _, cell := range c.Chart.Layout {
		if cell.Role != charts.RoleSwatch || len(cell.Region.Points) != 4 {
			continue
		}
		var q quad
		for i, p := range cell.Region.Points {
			q[i] = area.place(p.X, p.Y)
		}
		s.paint(q, printed(c.printOf(cell, prints), false))
		s.write(
			shortNumber(cell.Value),
			area.place((cell.Region.Points[2].X+cell.Region.Points[3].X)/2, cell.Region.Points[2].Y+0.014),
			textSize,
			centred,
		)
	}
	c.layNames(s, area)
	c.layPrintedStrip(s, prints)
}

// printOf is the print of a layout's swatch.
func (c *Config) printOf(cell charts.Mark, prints []scalePrints) *Spectrum {
	for i, a := range c.Chart.Analytes {
		if a.Name != cell.Analyte {
			continue
		}
		for k, swatch := range a.Swatches {
			if swatch.Value == cell.Value {
				return &prints[i].swatches[max(1, cell.Part)-1][k]
			}
		}
	}
	return &c.Surfaces.Paper
}

// layNames writes the chart's title and above each row of swatches its analyte.
func (c *Config) layNames(s *sheet, area quad) {
	s.write(c.Chart.Title, area.place(0.03, -0.07), titleSize, bold)
	for _, a := range c.Chart.Analytes {
		name := a.Name
		if a.Unit != a.Name {
			name += ", " + a.Unit
		}
		if a.As != "" {
			name += " as " + a.As
		}
		if cell, ok := c.firstCell(a.Name); ok {
			s.write(name, area.place(cell[0].X, cell[0].Y-0.035), textSize, bold)
		}
	}
}

// firstCell is the outline of an analyte's first swatch in the layout.
func (c *Config) firstCell(analyte string) ([]colorimetry.Point, bool) {
	for _, cell := range c.Chart.Layout {
		if cell.Role == charts.RoleSwatch && cell.Analyte == analyte {
			return cell.Region.Points, true
		}
	}
	return nil, false
}

// dotRadius is the radius of the dots at a chart's corners, in pixels of a
// photo as wide as printedWidth.
const dotRadius = 9

// layCorners prints a filled dot about each corner of the chart's area.
func (c *Config) layCorners(s *sheet, area quad) {
	for _, p := range area {
		s.dot(p, dotRadius*float64(c.Width)/printedWidth)
	}
}

// dot paints a disc as a regular polygon of sixteen sides, in level slices.
func (s *sheet) dot(at point, radius float64) {
	black := material{spectrum: flat(0.05), rough: flat(0.06)}
	corner := func(k int) (x, y float64) {
		sin, cos := math.Sincos(math.Pi * (float64(k) + 0.5) / 8)
		return radius * sin, -radius * cos
	}
	for k := range 7 {
		w0, y0 := corner(k)
		w1, y1 := corner(k + 1)
		s.paint(
			quad{{X: at.X - w0, Y: at.Y + y0}, {X: at.X + w0, Y: at.Y + y0}, {X: at.X + w1, Y: at.Y + y1}, {X: at.X - w1, Y: at.Y + y1}},
			black,
		)
	}
}

// layPrintedStrip lays the strip beside the printed chart, with white marks left of it.
func (c *Config) layPrintedStrip(s *sheet, prints []scalePrints) {
	plastic := material{spectrum: c.Surfaces.Plastic, rough: c.Surfaces.Plastic.scaled(0.97), texture: texture{kind: fine, amount: 0.1}}
	strip := printedStrip
	s.cast(strip.scaledTo(c.Width), 5, 4, 0.35)
	s.paint(strip.scaledTo(c.Width), plastic)
	at := strip[0].Y + 100
	for i, p := range prints {
		for part := range p.pads {
			q := box(strip[0].X+12, at, padSide, padSide).scaledTo(c.Width)
			s.cast(q, 2, 2, 0.25)
			c.layPad(s, q, i, part, &p)
			at += padPitch
		}
	}
	for _, q := range besideStrip {
		s.mark(q.scaledTo(c.Width), charts.RoleWhite, "", 0, 0, "card")
	}
}

// layPad paints and marks one pad.
func (c *Config) layPad(s *sheet, q quad, analyte, part int, p *scalePrints) {
	s.paint(q, material{spectrum: p.pads[part], rough: p.rough[part], texture: texture{kind: fibre, amount: c.Pads[analyte].Blotch * 10}})
	s.mark(q, charts.RolePad, c.Chart.Analytes[analyte].Name, part+1, 0, "")
	s.pads = append(s.pads, q)
}
