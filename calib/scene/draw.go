package scene

import (
	"errors"
	"fmt"
	"math"

	"padband/charts"
)

// Draw draws a whole scene of a class from a seed: chart, reagents, inks,
// lamps, camera, geometry. The same seed and class give the same scene.
// It fails only when no reagent and press that fit each other are found.
func Draw(seed uint64, class Class) (Config, error) { return draw(seed, class, 1) }

// draw is [Draw] with dyes and inks that vary more widely.
func draw(seed uint64, class Class, variety float64) (Config, error) {
	d := newDice(seed, streamPlan)
	c := Config{Seed: seed, Class: class, Format: JPEG, Quality: d.one(80, 95), Variety: variety}
	if class == Bad {
		c.Fault = pick(d, faults)
	}
	c.Curved = d.chance(0.08)
	c.Width = 20 * d.one(50, 80)
	c.Height = c.Width * 3 / 4
	c.Surfaces = drawSurfaces(newDice(seed, streamSurface))
	if err := c.drawChart(dice{newDice(seed, streamReagent).Rand, c.Variety}); err != nil {
		return c, err
	}
	c.drawCamera(newDice(seed, streamCamera))
	c.drawLayout(newDice(seed, streamLayout))
	if err := c.drawLights(newDice(seed, streamLight)); err != nil {
		return c, err
	}
	if c.Fault == Glare {
		return c, c.drawGlares(newDice(seed, streamLight+100))
	}
	return c, nil
}

// mostTries is how many analytes are drawn before a chart is given up.
const mostTries = 60

// drawChart draws one to three analytes, or one of four parts.
func (c *Config) drawChart(d dice) error {
	v, on, err := c.press()
	if err != nil {
		return err
	}
	c.Chart = charts.Chart{Format: 1, Name: fmt.Sprintf("scene-%d", c.Seed), Title: "Rendered scene"}
	most := 9
	if c.Curved {
		most = 7
	}
	count, parts := d.one(1, 3), 1
	if d.chance(0.15) {
		count, parts = 1, 4
	}
	used := map[string]bool{}
	for try := 0; len(c.Pads) < count; try++ {
		k := pick(d, kinds)
		if parts > 1 {
			k = kindOf{"pH", "pH", "", []string{"acid"}, acidity}
		}
		if used[k.name] {
			continue
		}
		a, pad, err := drawAnalyte(d, k, d.one(4, most), parts, &on, &v)
		if errors.Is(err, errNoReagent) && try < mostTries {
			continue
		}
		if err != nil {
			return err
		}
		used[k.name] = true
		pad.drawState(d, &a)
		c.Chart.Analytes, c.Pads = append(c.Chart.Analytes, a), append(c.Pads, pad)
	}
	return nil
}

// press is the viewer of the chart's maker (D50) and the scene's press.
func (c *Config) press() (viewer, press, error) {
	light, err := lampNamed("D50")
	if err != nil {
		return viewer{}, press{}, err
	}
	return newViewer(&light), drawPress(dice{newDice(c.Seed, streamPrint).Rand, c.Variety}, c.Surfaces.Paper), nil
}

// drawState draws the true place, the printing error and the pad's surface.
func (p *Pad) drawState(d dice, a *charts.Analyte) {
	top := float64(len(a.Swatches) - 1)
	p.Step = d.in(0, top)
	switch past := d.in(0.1, 0.9); {
	case d.chance(0.065):
		p.Step = top + past
	case a.Swatches[0].Value > 0 && d.chance(0.065):
		p.Step = -past
	}
	p.PrintCommon, p.PrintEach = d.in(0.15, 0.6), d.in(0.15, 0.6)
	p.Gloss, p.Wet, p.Blotch = d.in(0.003, 0.018), d.in(0, 0.06), d.in(0.02, 0.10)
}

// drawSurfaces draws card, chart paper, strip plastic and table.
func drawSurfaces(d dice) Surfaces {
	card, paper, plastic := whiteStuff(d), whiteStuff(d), whiteStuff(d)
	if d.chance(0.3) {
		paper = card
	}
	table := flat(d.in(0.05, 0.5))
	warm := edge(d.in(520, 600), d.in(30, 80), table[0]*d.in(-0.5, 0.9))
	table = table.plus(1, &warm)
	return Surfaces{Card: card, Paper: paper, Plastic: plastic, Table: table, Vein: table.scaled(d.in(0.6, 0.95))}
}

// whiteStuff is a white: its level, a fall towards blue, a slight slope.
func whiteStuff(d dice) Spectrum {
	s := flat(d.in(0.82, 0.93))
	blue := edge(d.in(400, 430), -d.in(10, 25), -d.in(0, 0.15))
	red := edge(560, 60, d.near(0, 0.012))
	return s.plus(1, &blue).plus(1, &red)
}

// drawLayout draws sizes, places and which whites are marked.
func (c *Config) drawLayout(d dice) {
	l := &c.Layout
	l.Size, l.Gap = d.in(50, 70), d.in(0.3, 0.6)
	l.StripRight, l.StripBelow = d.chance(0.5), d.chance(0.3)
	l.Turn = d.near(0, 2.5) * math.Pi / 180
	for i := range l.Keystone {
		l.Keystone[i] = d.near(0, 0.012)
	}
	l.MarkJitter = d.in(0.5, 1.8)
	l.BottleTurn, l.BottleFill = d.near(0, 0.35), d.in(0.3, 0.6)
	switch {
	case d.chance(0.2):
		c.Whites = Whites{Card: d.one(1, 2)}
	case d.chance(0.3):
		c.Whites = Whites{Card: d.one(2, 5), Paper: d.one(1, 4), Plastic: d.one(0, 1)}
	default:
		c.Whites = Whites{Card: d.one(4, 8)}
	}
	if c.Curved {
		c.Whites = Whites{Card: d.one(2, 4), Paper: 99}
	}
}

// drawGlares puts a mirrored lamp onto one pad, or onto all.
func (c *Config) drawGlares(d dice) error {
	f := c.measure()
	view, err := seenFrom(&c.Layout, float64(c.Width), float64(c.Height))
	if err != nil {
		return err
	}
	boxes := f.padBoxes()
	only := -1
	if d.chance(0.5) {
		only = d.IntN(len(boxes))
	}
	for i, q := range boxes {
		if only >= 0 && i != only {
			continue
		}
		at := q.through(&view).centre()
		c.Glares = append(c.Glares, Spot{
			X: at.X + d.near(0, 0.25*f.size), Y: at.Y + d.near(0, 0.25*f.size),
			RX: f.size * d.in(0.2, 0.9), RY: f.size * d.in(0.2, 0.9), Peak: d.inLog(0.06, 1),
		})
	}
	return nil
}
