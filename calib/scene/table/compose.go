package table

import (
	"math"

	"padband/charts"
)

// Kind is what the chart lies on.
type Kind string

// Kinds.
const (
	Flat    Kind = "flat"
	Bottle  Kind = "bottle"
	Nothing Kind = "nothing" // there is no chart
)

// composition is a photo before it is painted: what lies where, and where the camera stands.
type composition struct {
	plan
	laid
	kind          Kind
	card          path // the sheet of paper or the label, in millimetres of the chart
	room          path // on the card for the strip; nil: none
	strip         strip
	flask         *flask // nil: flat
	on            surface
	cam           *camera
	width, height int // of the photo
}

// tries is how often a composition is drawn before the one at hand is taken.
const tries = 200

// compose draws until all patches lie in the photo, large enough to be seen.
func compose(seed uint64, name string) *composition {
	first := newDice(seed, streamPlan)
	kind := Flat
	if first.chance(0.4) {
		kind = Bottle
	}
	count := first.analytes()
	for try := range uint64(tries) {
		d := newDice(seed, streamPlan+1000*(try+1))
		c := &composition{kind: kind, plan: d.plan(name, count)}
		c.laid = c.lay()
		if c.arrange(d) {
			return c
		}
	}
	return nil
}

// arrange lays chart and strip on the table and sets up the camera; it reports
// whether all can be seen well.
func (c *composition) arrange(d dice) bool {
	c.cut(d)
	c.size(d)
	c.on = lying(0, 0, 0, 0.3)
	tilt := d.in(0, 0.62) * d.Float64()
	if c.kind == Bottle {
		tilt *= 0.7
	}
	long := float64(max(c.width, c.height))
	c.cam = newCamera(c.width, c.height, long*d.inLog(0.72, 1.4), tilt, d.in(0, 2*math.Pi), c.roll(d))
	if c.kind == Bottle && !c.wrap(d) {
		return false
	}
	if !c.layStrip(d) {
		return false
	}
	share := math.Max(d.in(0.55, 0.97), math.Min(0.97, 0.5+0.06*float64(len(c.chart.Analytes))))
	c.cam.frame(c.wanted(d), share, d.in(-1, 1), d.in(-1, 1))
	if c.flask != nil {
		c.flask.look(c.cam)
	}
	return c.visible()
}

// size draws the photo's format.
func (c *composition) size(d dice) {
	sizes := [][2]int{{1512, 2016}, {1512, 2016}, {1512, 2016}, {1134, 2016}, {1600, 1600}, {1440, 1920}, {1344, 2016}}
	s := pick(d, sizes)
	c.width, c.height = s[0], s[1]
	if d.chance(0.5) {
		c.width, c.height = c.height, c.width
	}
}

// roll draws how the camera is turned against the chart.
func (c *composition) roll(d dice) float64 {
	quarter := math.Pi / 2 * float64(d.IntN(4))
	switch d.weighed(4, 3, 3) {
	case 0:
		return d.in(0, 2*math.Pi)
	case 1:
		return d.near(0, 0.12)
	}
	return quarter + d.near(0, 0.15)
}

// cut draws the card about the block of swatches: margins, and room for the strip on it.
func (c *composition) cut(d dice) {
	unit := math.Sqrt(c.laid.w*c.laid.h) * 0.1
	edge := func(wide float64) float64 { return math.Max(3, unit*wide) }
	left, right, top, foot := edge(d.in(0.5, 1.5)), edge(d.in(0.5, 1.5)), edge(d.in(1, 3.5)), edge(d.in(0.5, 3.5))
	if c.columns && c.numbers == above {
		left += 4
	}
	c.card = box(-left, -top, c.laid.w+left+right, c.laid.h+top+foot)
}

// wanted are the places that the photo is to hold: all patches, and mostly the
// whole card and the whole strip.
func (c *composition) wanted(d dice) []vec {
	all := c.corners()
	if d.chance(0.8) {
		whole := c.card
		if c.flask != nil {
			whole = c.keep()
		}
		for _, p := range whole {
			all = append(all, c.on.place(p))
		}
	}
	if d.chance(0.85) {
		for _, p := range c.strip.body {
			all = append(all, c.strip.on.place(p))
		}
	}
	return all
}

// corners are those of all patches.
func (c *composition) corners() (all []vec) {
	for _, q := range c.cells {
		for _, p := range q.outline {
			all = append(all, c.on.place(p))
		}
	}
	for _, q := range c.strip.pads {
		for _, p := range q {
			all = append(all, c.strip.on.place(p))
		}
	}
	return all
}

// least is the side of the smallest patch, as a share of the photo's longer side.
func (c *composition) least() float64 {
	if len(c.chart.Analytes) > 8 {
		return 0.0125
	}
	return 0.016
}

// visible reports whether every patch is inside the photo, in sight, not under
// the strip, and large enough.
func (c *composition) visible() bool {
	long := float64(max(c.width, c.height))
	strip := sheet{surface: c.strip.on, camera: c.cam}.through(c.strip.body)
	for _, r := range c.regions() {
		if r.Role == charts.RoleSwatch && !r.Polygon.clear(strip) {
			return false
		}
		for _, p := range r.Polygon {
			if !(p.X > 6 && p.Y > 6 && p.X < float64(c.width)-6 && p.Y < float64(c.height)-6) {
				return false
			}
			if r.Role == charts.RolePad && c.flask != nil && !c.strip.held && c.flask.hides(c.cam, p) {
				return false
			}
		}
		if narrow(r.Polygon) < c.least()*long {
			return false
		}
	}
	return true
}

// narrow is about the shorter side of an outline: its area over its longest diagonal.
func narrow(o path) float64 {
	area, long := 0.0, 0.0
	for i, a := range o {
		b := o[(i+1)%len(o)]
		area += (a.X*b.Y - b.X*a.Y) / 2
		long = math.Max(long, a.Distance(o[(i+len(o)/2)%len(o)]))
	}
	return math.Abs(area) / long * math.Sqrt2
}

// Region is the true outline of one pad or swatch, in pixels.
type Region struct {
	Role    charts.Role
	Analyte string
	Value   float64 // of a swatch
	Polygon path
}

// regions are all true outlines.
func (c *composition) regions() (all []Region) {
	s := sheet{surface: c.on, camera: c.cam}
	for _, q := range c.cells {
		a := &c.chart.Analytes[q.analyte]
		all = append(all, Region{charts.RoleSwatch, a.Name, a.Swatches[q.swatch].Value, s.through(q.outline)})
	}
	s.surface = c.strip.on
	for i, q := range c.strip.pads {
		all = append(all, Region{Role: charts.RolePad, Analyte: c.chart.Analytes[c.order[i]].Name, Polygon: s.through(q)})
	}
	return all
}
