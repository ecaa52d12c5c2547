package table

import "math"

// thing is something that lies on the table: its outline about the origin,
// in millimetres, and how it is painted.
type thing struct {
	outline path
	high    float64 // how far its shadow reaches; 0: it has none
	paint   func(s sheet)
}

// small are things that lie beside the chart, with how common they are.
var small = []func(d dice) thing{
	coin, coin, coin, note, note, pen, pen, leafOf, leafOf, ruler, clip, cable, band, die, cup, blank, button, matches, label, shaft,
	bricks, sleeve,
}

// large are things that lie below it.
var large = []func(d dice) thing{folder, newsprint, newsprint, mat, blank, note}

// clutter puts things on the table: below chart and strip, and beside them.
func (c *composition) clutter(pic *picture, d dice) {
	var keep []path
	keep = append(keep, grown(c.ground(), 1.5, false))
	if c.strip.ground != nil {
		keep = append(keep, grown(c.strip.ground, 1.5, false))
	}
	if d.chance(0.3) {
		for range d.one(1, 2) {
			c.put(pic, d, pick(d, large)(d), nil)
		}
	}
	many := d.weighed(1.5, 2, 3, 3, 2, 2, 1)
	if d.chance(0.06) {
		c.put(pic, d, secondChart(d), keep)
	}
	if d.chance(0.1) {
		c.put(pic, d, stick(d), keep)
	}
	for range many {
		t := pick(d, small)(d)
		for range 6 {
			if c.put(pic, d, t, keep) {
				break
			}
		}
	}
}

// put lays a thing somewhere in sight, clear of what is kept free.
func (c *composition) put(pic *picture, d dice, t thing, keep []path) bool {
	at, turn := c.cam.onTable(d.in(-0.05, 1.05)*c.cam.w, d.in(-0.05, 1.05)*c.cam.h), d.in(0, 2*math.Pi)
	whole := t.outline.moved(turn, at.X, at.Y)
	for _, k := range keep {
		if !whole.clear(k) {
			return false
		}
	}
	s := sheet{lying(turn, at.X, at.Y, 0), c.cam, pic}
	if t.high > 0 {
		lie := s
		lie.surface = lying(turn, at.X+0.4*t.high, at.Y+0.6*t.high, 0)
		pic.shade(lie.through(t.outline), (0.3+0.5*t.high)*c.scale(), 0.45)
	}
	t.paint(s)
	return true
}

// coin is a disc of metal.
func coin(d dice) thing {
	r := d.in(7, 14)
	metal := pick(d, []rgb{{0.35, 0.14, 0.07}, {0.5, 0.36, 0.12}, {0.45, 0.45, 0.43}, {0.2, 0.16, 0.1}})
	inner := metal
	if d.chance(0.25) {
		inner = rgb{0.5, 0.36, 0.12}
	}
	mark, n := d.words(1)[:1], d.one(5, 9)
	return thing{ellipse(0, 0, r, r), 0.8, func(s sheet) {
		s.paint(ink{rgb: metal, grain: 0.05}, ellipse(0, 0, r, r))
		s.paint(ink{rgb: metal.times(1.6), grain: 0.05}, ellipse(0, 0, 0.93*r, 0.93*r), grown(ellipse(0, 0, 0.87*r, 0.87*r), 0, true))
		s.paint(ink{rgb: inner.times(0.9), grain: 0.05}, ellipse(0, 0, 0.7*r, 0.7*r))
		s.paint(ink{rgb: inner.times(1.5), grain: 0.05}, star(0, 0, 0.3*r, 0.62*r, n))
		s.print(ink{rgb: inner.times(0.4)}, bold(), mark, 0, 0.3*r, 0.55*r, 0)
	}}
}

// note is a piece of coloured paper, written on or not.
func note(d dice) thing {
	w, h, colour := d.in(15, 75), d.in(12, 75), d.any()
	if d.chance(0.5) {
		colour = hued(d.Float64(), d.in(0.2, 0.6), d.in(0.8, 0.98))
	}
	written, writing := d.chance(0.5), pick(d, []rgb{grey(0.03), {0.02, 0.04, 0.3}, {0.4, 0.03, 0.03}})
	high := d.in(2, 5)
	o := box(-w/2, -h/2, w, h)
	return thing{o, 0.6, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.015}, o)
		if !written {
			return
		}
		for y := -h/2 + 2*high; y < h/2-high; y += 2 * high {
			if d.chance(0.75) {
				s.scrawl(d, writing, -0.42*w, y, d.in(0.3, 0.84)*w, high)
			}
		}
	}}
}

// scrawl is a line of handwriting.
func (s sheet) scrawl(d dice, colour rgb, x, y, w, high float64) {
	var stroke []point
	for at := 0.0; at < w; at += high * d.in(0.15, 0.35) {
		stroke = append(stroke, point{X: x + at, Y: y - high*d.in(0, 0.6)})
	}
	for i := 0; i+1 < len(stroke); i++ {
		s.paint(ink{rgb: colour}, line(0.1*high+0.25, stroke[i], stroke[i+1]))
	}
}

// pen is a pen or a pencil.
func pen(d dice) thing {
	long, thick := d.in(110, 170), d.in(6, 11)
	body, end, tip := d.vivid(), d.any(), pick(d, []rgb{grey(0.5), grey(0.04), {0.5, 0.36, 0.12}})
	o := rounded(-long/2, -thick/2, long, thick, thick/3)
	return thing{o, 3, func(s sheet) {
		s.paint(ink{rgb: body, grain: 0.01}, o)
		s.paint(ink{rgb: end, grain: 0.01}, rounded(-long/2, -thick/2, long/3, thick, thick/3))
		cone := path{{X: long/2 - 12, Y: -thick / 2}, {X: long/2 - 12, Y: thick / 2}, {X: long / 2, Y: 0.6}, {X: long / 2, Y: -0.6}}
		s.paint(ink{rgb: tip}, cone)
		s.paint(ink{rgb: body.mix(grey(1), 0.6), see: 0.3}, box(-long/2+3, -0.3*thick, long-20, 0.12*thick))
		s.paint(ink{rgb: grey(0.01), see: 0.5}, box(-long/2+3, 0.3*thick, long-16, 0.18*thick))
	}}
}

// leafOf is a leaf of a tree.
func leafOf(d dice) thing {
	long := d.in(25, 70)
	wide, bend := long*d.in(0.25, 0.6), long*d.in(-0.1, 0.1)
	colour := hued(d.in(0.05, 0.36), d.in(0.5, 0.9), d.in(0.3, 0.7))
	return thing{leaf(-long/2, 0, long, wide, bend), 1.2, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.04}, leaf(-long/2, 0, long, wide, bend))
		vein := ink{rgb: colour.mix(grey(0.7), 0.3), see: 0.3}
		spine := func(t float64) point { return point{X: -long/2 + t*long, Y: bend * 4 * t * (1 - t)} }
		s.paint(vein, line(0.02*long, spine(0), spine(0.25), spine(0.5), spine(0.75), spine(1)))
		for i := range 6 {
			t := 0.15 + 0.12*float64(i)
			a, half := spine(t), wide/2*math.Sin(math.Pi*math.Pow(t+0.1, 0.8))
			for _, side := range []float64{-1, 1} {
				s.paint(vein, line(0.008*long, a, point{X: a.X + 0.1*long, Y: a.Y + side*half*0.85}))
			}
		}
	}}
}

// ruler has marks and numbers along a side.
func ruler(d dice) thing {
	long, wide := d.in(100, 200), d.in(18, 32)
	colour := pick(d, []rgb{d.white(), d.wood(), d.vivid(), grey(0.45)})
	o := box(-long/2, -wide/2, long, wide)
	return thing{o, 1, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.015}, o)
		for i := range int(long) - 6 {
			x, l := -long/2+3+float64(i), 3.0
			if i%10 == 0 {
				l = 6
				s.print(ink{rgb: grey(0.03)}, plain(), number(float64(i/10)), x, -wide/2+10, 3, 0)
			} else if i%5 == 0 {
				l = 4.5
			}
			s.paint(ink{rgb: grey(0.03)}, box(x-0.1, -wide/2, 0.2, l))
		}
	}}
}

// clip is a paper clip.
func clip(d dice) thing {
	metal, k := pick(d, []rgb{grey(0.4), d.vivid()}), d.in(0.8, 1.6)
	return thing{box(-14*k, -5*k, 28*k, 10*k), 0.5, func(s sheet) {
		wire := []point{
			{X: -8, Y: -2}, {X: 9, Y: -2}, {X: 11, Y: 0}, {X: 9, Y: 2}, {X: -11, Y: 2}, {X: -13, Y: -0.5}, {X: -11, Y: -4}, {X: 11, Y: -4},
			{X: 13.5, Y: -1}, {X: 12, Y: 4}, {X: -8, Y: 4},
		}
		for i := range wire {
			wire[i].X, wire[i].Y = k*wire[i].X, k*wire[i].Y
		}
		s.paint(ink{rgb: metal, grain: 0.02}, line(1.1, wire...))
	}}
}

// cable lies in a curve.
func cable(d dice) thing {
	long, swing, thick := d.in(80, 220), d.in(5, 25), d.in(2.5, 5)
	colour, turns := pick(d, []rgb{grey(0.02), grey(0.75), d.vivid()}), d.in(2, 7)
	return thing{box(-long/2, -swing-thick, long, 2*(swing+thick)), 2, func(s sheet) {
		var way []point
		for i := range 41 {
			t := float64(i) / 40
			way = append(way, point{X: long * (t - 0.5), Y: swing * math.Sin(turns*t)})
		}
		s.paint(ink{rgb: colour, grain: 0.01}, line(thick, way...))
		s.paint(ink{rgb: colour.mix(grey(1), 0.3), see: 0.4}, line(0.25*thick, way...))
	}}
}

// band is a ring: of rubber, or the foot of a glass.
func band(d dice) thing {
	r := d.in(8, 35)
	colour, wide := d.any(), d.in(1, 3)
	ry := r * d.in(0.6, 1)
	return thing{ellipse(0, 0, r, ry), 0, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.01}, ellipse(0, 0, r, ry), grown(ellipse(0, 0, r-wide, ry-wide), 0, true))
	}}
}

// die is a cube with dots.
func die(d dice) thing {
	a := d.in(12, 18)
	colour, dots, n := pick(d, []rgb{d.white(), d.vivid()}), grey(0.02), d.one(1, 6)
	o := rounded(-a/2, -a/2, a, a, 0.15*a)
	return thing{o, 4, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.005}, o)
		for i := range n {
			x, y := float64(i%2)*2-1, float64(i/2)-1
			s.paint(ink{rgb: dots}, ellipse(x*0.25*a, y*0.28*a, 0.09*a, 0.09*a))
		}
	}}
}

// cup is a cup seen from above.
func cup(d dice) thing {
	r := d.in(30, 45)
	china, drink := pick(d, []rgb{d.white(), d.vivid(), grey(0.05)}), hued(d.in(0.02, 0.12), d.in(0.6, 1), d.in(0.1, 0.5))
	return thing{ellipse(0, 0, 1.35*r, r), 8, func(s sheet) {
		s.paint(ink{rgb: china.times(0.8)}, rounded(0.8*r, -0.18*r, 0.55*r, 0.36*r, 0.15*r))
		s.paint(ink{rgb: china, grain: 0.005}, ellipse(0, 0, r, r))
		s.paint(ink{rgb: china.times(0.6), grain: 0.005}, ellipse(0, 0, 0.92*r, 0.92*r))
		s.paint(ink{rgb: drink, grain: 0.01}, ellipse(0.03*r, 0.05*r, 0.85*r, 0.85*r))
	}}
}

// blank is white paper or card.
func blank(d dice) thing {
	w, h, colour := d.in(25, 150), d.in(25, 110), d.white()
	o := box(-w/2, -h/2, w, h)
	return thing{o, 0.4, func(s sheet) { s.paint(ink{rgb: colour, grain: 0.01}, o) }}
}

// button has four holes.
func button(d dice) thing {
	r, colour := d.in(5, 12), d.any()
	return thing{ellipse(0, 0, r, r), 1, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.01}, ellipse(0, 0, r, r))
		s.paint(ink{rgb: colour.times(0.7)}, ellipse(0, 0, 0.75*r, 0.75*r), grown(ellipse(0, 0, 0.68*r, 0.68*r), 0, true))
		for i := range 4 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i))
			s.paint(ink{rgb: grey(0.01)}, ellipse(0.25*r*cos, 0.25*r*sin, 0.11*r, 0.11*r))
		}
	}}
}
