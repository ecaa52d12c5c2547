package table

import (
	"fmt"
	"math"
)

// pictures are the kinds of photo without strip or chart.
var pictures = []func(c *composition, pic *picture, d dice){
	room, pages, tiled, cloth, foliage, shelves, panes, keys, cupboard, facade, calendar, pencils, bare, wall, mosaic, blinds,
	drawer, poster, fruit, plugs,
}

// Without renders the photo of a seed that has neither strip nor chart in it:
// rooms, pages of text, tiles, cloths, leaves, shelves and the like, by turns.
// The scene's chart is one that the photo does not show.
func Without(seed uint64) (Scene, error) {
	d := newDice(seed, streamOther)
	c := &composition{kind: Nothing}
	c.size(d)
	long := float64(max(c.width, c.height))
	c.cam = newCamera(c.width, c.height, long*d.inLog(0.72, 1.4), d.in(0, 0.5), d.in(0, 2*math.Pi), c.roll(d))
	c.cam.frame([]vec{{-110, -110}, {110, -110}, {110, 110}, {-110, 110}}, d.in(0.6, 1.1), 0, 0)
	pic := newPicture(c.width, c.height)
	pictures[seed%uint64(len(pictures))](c, pic, d)
	l := newDice(seed, streamLight)
	photo, err := pic.expose(l.drawLight(), l)
	c.plan = newDice(seed, streamPlan).plan(fmt.Sprintf("without-%d", seed), l.analytes())
	return c.scene(photo), err
}

// flatly is a sheet of the photo's plane: 300 units wide about its middle.
func (c *composition) flatly(pic *picture) sheet {
	c.cam = newCamera(c.width, c.height, c.cam.focal, 0, 0, 0)
	c.cam.at = vec{0, 0, c.cam.focal * 300 / float64(c.width)}
	return sheet{lying(0, 0, 0, 0), c.cam, pic}
}

// reach is how far the sheet of flatly goes up and down.
func (c *composition) reach() float64 { return 150 * float64(c.height) / float64(c.width) }

// table is the world's plane, turned.
func (c *composition) table(pic *picture, d dice) sheet {
	return sheet{lying(d.in(-0.2, 0.2), 0, 0, 0), c.cam, pic}
}

// room is a wall and a floor with furniture, pictures and a lamp.
func room(c *composition, pic *picture, d dice) {
	s, high := c.flatly(pic), c.reach()
	paper, floor := d.any().mix(grey(0.7), 0.5), planks(d)
	s.paint(ink{rgb: paper, grain: 0.02}, box(-160, -high-5, 320, 2*high+10))
	edge := d.in(0.2, 0.6) * high
	s.paint(ink{at: func(x, y float64) rgb {
		q := c.cam.onTable(x, y)
		deep := 60 / math.Max(1, q.Y-edge+20)
		return floor(q.X*deep*20, deep*900)
	}}, box(-160, edge, 320, high))
	s.paint(ink{rgb: grey(0.75)}, box(-160, edge-4, 320, 4))
	for range d.one(2, 5) { // pictures on the wall
		w, h, x, y := d.in(25, 60), d.in(25, 60), d.in(-140, 100), d.in(-high, edge-80)
		s.shade(s.through(box(x+1, y+2, w, h)), 8, 0.4)
		s.paint(ink{rgb: d.wood()}, box(x, y, w, h))
		g, k := drawScape(d), 1/c.scale()
		s.paint(ink{at: func(px, py float64) rgb { return g(px*k*8, py*k*8) }}, box(x+3, y+3, w-6, h-6))
	}
	for range d.one(1, 3) { // cupboards with drawers
		w, h, x := d.in(50, 110), d.in(40, 90), d.in(-150, 80)
		y, colour := edge+d.in(5, 40)-h, d.any()
		s.paint(ink{rgb: colour, grain: 0.02}, box(x, y, w, h))
		n := d.one(2, 4)
		for i := range n {
			each := h / float64(n)
			s.paint(ink{rgb: colour.times(0.75), grain: 0.02}, box(x+3, y+float64(i)*each+2, w-6, each-4))
			s.paint(ink{rgb: grey(0.6)}, ellipse(x+w/2, y+(float64(i)+0.5)*each, 2, 2))
		}
	}
	x, colour := d.in(-120, 120), d.any()
	s.paint(ink{rgb: grey(0.1)}, box(x-1.5, edge-90, 3, 95))
	shade := path{{X: x - 14, Y: edge - 120}, {X: x + 14, Y: edge - 120}, {X: x + 24, Y: edge - 85}, {X: x - 24, Y: edge - 85}}
	s.paint(ink{rgb: colour.mix(rgb{1, 0.9, 0.7}, 0.5)}, shade)
}

// drawScape is a picture of sky and hills.
func drawScape(d dice) ground {
	sky, hill, seed := hued(d.in(0.5, 0.65), d.in(0.1, 0.6), d.in(0.6, 1)), d.any(), d.seed()
	return func(x, y float64) rgb {
		f := clouds(x*0.01, y*0.01, 3, seed)
		return sky.mix(hill, math.Max(0, math.Min(1, (f-0.45)*12)))
	}
}

// pages are printed text.
func pages(c *composition, pic *picture, d dice) {
	pic.lay(d.drawGround(), c.cam, d.in(0, 6))
	c.put(pic, d, newsprint(d), nil)
	s := c.table(pic, d)
	s.paint(ink{rgb: d.white(), grain: 0.01}, box(-130, -150, 260, 300))
	s.print(ink{rgb: grey(0.03)}, bold(), d.words(3), -110, -125, 9, -1)
	for i := range 5 {
		s.paragraph(d, grey(0.05), box(-110, -110+50*float64(i), 220, 42), d.in(2.5, 4.5))
	}
}

// tiled is a tiled floor.
func tiled(c *composition, pic *picture, d dice) {
	pic.lay(tiles(d), c.cam, d.in(0, 6))
}

// cloth is a textile of one kind or another.
func cloth(c *composition, pic *picture, d dice) {
	pic.lay(pick(d, []func(dice) ground{weave, towel, checks, carpet})(d), c.cam, d.in(0, 6))
	if d.chance(0.5) {
		c.put(pic, d, button(d), nil)
	}
}

// foliage is many leaves over each other.
func foliage(c *composition, pic *picture, d dice) {
	pic.lay(pick(d, []func(dice) ground{grass, pebbles, carpet})(d), c.cam, d.in(0, 6))
	for range d.one(60, 160) {
		c.put(pic, d, leafOf(d), nil)
	}
}

// shelves are rows of coloured books.
func shelves(c *composition, pic *picture, d dice) {
	s, high := c.flatly(pic), c.reach()
	s.paint(ink{rgb: d.wood(), grain: 0.03}, box(-160, -high-5, 320, 2*high+10))
	rows := d.one(2, 5)
	each := 2 * high / float64(rows)
	for i := range rows {
		y := -high + each*float64(i+1) - 6
		s.paint(ink{rgb: grey(0.03)}, box(-160, y-each+8, 320, each-8))
		for x := -150.0; x < 150; {
			w, h, colour := d.in(5, 22), (each-10)*d.in(0.6, 0.95), d.any()
			if d.chance(0.1) {
				x += w
				continue
			}
			s.paint(ink{rgb: colour, grain: 0.015}, box(x, y-h, w-0.6, h))
			if d.chance(0.5) {
				s.paint(ink{rgb: d.any()}, box(x, y-h*d.in(0.7, 0.9), w-0.6, h*d.in(0.04, 0.15)))
			}
			if d.chance(0.4) {
				s.paint(ink{rgb: colour.mix(grey(0.9), 0.8)}, box(x+0.35*w, y-0.6*h, 0.25*w, 0.35*h))
			}
			x += w
		}
	}
}

// panes are the panes of windows, or leaded glass.
func panes(c *composition, pic *picture, d dice) {
	s, high := c.flatly(pic), c.reach()
	columns, rows := d.one(2, 6), d.one(2, 7)
	w, h, bar := 300/float64(columns), 2*high/float64(rows), d.in(3, 12)
	coloured, g := d.chance(0.4), drawScape(d)
	s.paint(ink{rgb: pick(d, []rgb{d.white(), d.wood(), grey(0.03)}), grain: 0.02}, box(-160, -high-5, 320, 2*high+10))
	for i := range columns {
		for j := range rows {
			o := box(-150+float64(i)*w+bar/2, -high+float64(j)*h+bar/2, w-bar, h-bar)
			if coloured {
				s.paint(ink{rgb: d.vivid(), grain: 0.01}, o)
			} else {
				s.paint(ink{at: func(x, y float64) rgb { return g(x*0.2, y*0.2) }}, o)
			}
		}
	}
}

// keys are a keyboard.
func keys(c *composition, pic *picture, d dice) {
	pic.lay(d.drawGround(), c.cam, d.in(0, 6))
	s := c.table(pic, d)
	body, cap, letter := d.any(), pick(d, []rgb{grey(0.03), d.white(), grey(0.3)}), grey(0.5)
	if cap[0] > 0.5 {
		letter = grey(0.05)
	}
	s.shade(s.through(rounded(-150, -55, 300, 110, 6)), 20, 0.5)
	s.paint(ink{rgb: body, grain: 0.01}, rounded(-150, -55, 300, 110, 6))
	a := 19.0
	for j := range 5 {
		x := -143 + float64(j)*4
		for x < 130 {
			w, colour := a, cap
			if d.chance(0.12) {
				w = a * d.in(1.3, 2)
			}
			if d.chance(0.05) {
				colour = d.vivid()
			}
			s.paint(ink{rgb: colour, grain: 0.01}, rounded(x, -48+float64(j)*a, w-2.5, a-2.5, 2.5))
			s.print(ink{rgb: letter}, plain(), string(letters[d.IntN(62)]), x+4, -48+float64(j)*a+8, 4, -1)
			x += w
		}
	}
}
