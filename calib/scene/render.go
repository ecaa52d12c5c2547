package scene

import (
	"fmt"

	"padband/charts"
	"padband/colorimetry"
)

// Render makes the photo of a scene with its truth. It fails when the
// configuration names an unknown lamp, has no pad, or a colour cannot be printed.
func Render(c Config) (Scene, error) {
	if len(c.Pads) == 0 || len(c.Pads) != len(c.Chart.Analytes) || len(c.Lights) == 0 || c.Width < 200 || c.Height < 150 {
		return Scene{}, fmt.Errorf("scene: configuration wants one pad an analyte, a light, and 200 by 150 pixels or more")
	}
	prints, err := c.allPrints()
	if err != nil {
		return Scene{}, err
	}
	s := c.lay(prints)
	view, err := seenFrom(&c.Layout, float64(c.Width), float64(c.Height))
	if err != nil {
		return Scene{}, err
	}
	out := c.describe(s, &view, prints)
	ex, err := c.expose(s)
	if err != nil {
		return out, err
	}
	p, err := c.shoot(s, ex, &view)
	if err != nil {
		return out, err
	}
	out.Photo, err = c.encode(p, ex.matrix)
	return out, err
}

// shoot paints the photo in the camera's linear raw.
func (c *Config) shoot(s *sheet, ex *exposed, view *perspective) (*picture, error) {
	p, ids := newPicture(c.Width, c.Height), c.paintIDs(s, view)
	back, _ := view.Inverse()
	c.lightUp(p, s, ids, ex, &back)
	c.drawCasts(p, s, ids, view, &back)
	err := c.drawLabels(p, s, view, &back)
	c.addGlare(p, s, ex, view)
	c.finish(p)
	return p, err
}

// allPrints works out every analyte's spectra.
func (c *Config) allPrints() ([]scalePrints, error) {
	v, on, err := c.press()
	if err != nil {
		return nil, err
	}
	var out []scalePrints
	for i := range c.Pads {
		p, err := c.Pads[i].prints(newDice(c.Seed, streamPrint+uint64(100*(i+1))), &c.Chart.Analytes[i], &on, &v)
		if err != nil {
			return nil, err
		}
		c.Water.stain(p.pads, c.Pads[i].Gloss)
		c.Water.stain(p.rough, c.Pads[i].Gloss)
		for _, row := range p.swatches {
			for k := range row {
				row[k] = row[k].faded(&on.paper, &c.Faded)
			}
		}
		out = append(out, p)
	}
	return out, nil
}

// describe gathers everything but the photo.
func (c *Config) describe(s *sheet, view *perspective, prints []scalePrints) Scene {
	out := Scene{Chart: c.Chart, Camera: c.Camera.Name, Fault: c.Fault, Class: c.Class, Curved: c.Curved}
	for i, l := range c.Lights {
		if i > 0 {
			out.Lamp += " + "
		}
		out.Lamp += l.Lamp
	}
	d := newDice(c.Seed, streamLayout+100)
	out.Marks = charts.Marks{Format: 1, Photo: charts.PhotoRef{Width: c.Width, Height: c.Height}, Chart: c.Chart.Name}
	for _, m := range s.marks {
		out.Marks.Regions = append(out.Marks.Regions, c.markIn(d, m, view))
	}
	if s.corners != nil {
		q := s.corners.through(view)
		for _, p := range q {
			out.Marks.Corners = append(out.Marks.Corners, point{X: tenth(p.X), Y: tenth(p.Y)})
		}
	}
	pad := 0
	for i := range c.Pads {
		a, p := &c.Chart.Analytes[i], &c.Pads[i]
		t := Truth{Analyte: a.Name, Family: p.Family, Step: p.Step, Value: valueAt(a, p.Step)}
		t.Past = p.Step < 0 || p.Step > float64(len(a.Swatches)-1)
		for range a.Parts {
			t.Hit = t.Hit || c.hits(s.pads[pad].through(view))
			pad++
		}
		out.Truth, out.Colours = append(out.Truth, t), append(out.Colours, prints[i].colours)
	}
	return out
}

// markIn is a mark in the photo: drawn in from the edge, and not quite in place.
func (c *Config) markIn(d dice, m markOn, view *perspective) charts.Mark {
	q := m.outline.inset(0.26).through(view)
	sd := c.Layout.MarkJitter
	dx, dy := d.near(0, sd), d.near(0, sd)
	points := make([]colorimetry.Point, 4)
	for i, p := range q {
		points[i] = colorimetry.Point{X: tenth(p.X + dx + d.near(0, sd/3)), Y: tenth(p.Y + dy + d.near(0, sd/3))}
	}
	m.Region = colorimetry.Region{Shape: colorimetry.Polygon, Points: points}
	return m.Mark
}

func tenth(v float64) float64 { return float64(int(v*10+0.5)) / 10 }

// hits says whether the fault of the photo lies on a quadrangle of it.
func (c *Config) hits(q quad) bool {
	for _, p := range append(q[:], q.centre()) {
		x, y := 2*p.X/float64(c.Width)-1, 2*p.Y/float64(c.Height)-1
		for _, l := range c.Lights {
			if l.Shadow != nil && l.Shadow.cover(x, y) > 0.1 {
				return true
			}
		}
		for _, g := range c.Glares {
			if g.at(p.X, p.Y) > 0.05 {
				return true
			}
		}
	}
	return false
}

// paintIDs says which shape each pixel shows.
func (c *Config) paintIDs(s *sheet, view *perspective) []uint16 {
	ids := make([]uint16, c.Width*c.Height)
	for i := range s.shapes {
		s.shapes[i].outline.through(view).fill(c.Width, c.Height, func(y, x0, x1 int) {
			row := ids[y*c.Width+x0 : y*c.Width+x1]
			for k := range row {
				row[k] = uint16(i)
			}
		})
	}
	return ids
}
