package table

import "math"

// cupboard is jars and boxes on boards, with labels.
func cupboard(c *composition, pic *picture, d dice) {
	s, high := c.flatly(pic), c.reach()
	s.paint(ink{rgb: d.any().times(0.5), grain: 0.02}, box(-160, -high-5, 320, 2*high+10))
	for y := -high + 70; y < high+40; y += d.in(70, 100) {
		s.paint(ink{rgb: d.wood(), grain: 0.03}, box(-160, y, 320, 6))
		for x := -150.0; x < 140; x += d.in(2, 10) {
			w, h, colour := d.in(18, 50), d.in(30, 60), d.any()
			s.paint(ink{rgb: colour, grain: 0.01}, rounded(x, y-h, w, h, d.in(0, 6)))
			s.paint(ink{rgb: d.any()}, box(x+0.1*w, y-h-6, 0.8*w, 6))
			s.paint(ink{rgb: d.white()}, box(x+1, y-0.75*h, w-2, 0.45*h))
			s.logo(d, box(x+0.1*w, y-0.7*h, 0.35*w, 0.3*h))
			s.print(ink{rgb: d.vivid().times(0.5)}, bold(), d.words(1)[:1], x+0.7*w, y-0.45*h, 0.16*h, 0)
			x += w
		}
	}
}

// facade is the front of a house: rows of windows.
func facade(c *composition, pic *picture, d dice) {
	s, high := c.flatly(pic), c.reach()
	g := paving(d)
	s.paint(ink{at: func(x, y float64) rgb { return g(x*0.6, y*0.6) }}, box(-160, -high-5, 320, 2*high+10))
	columns, rows := d.one(3, 7), d.one(3, 7)
	w, h := 300/float64(columns), 2*high/float64(rows)
	glass, frame := hued(d.in(0.5, 0.65), d.in(0.1, 0.5), d.in(0.2, 0.6)), d.white()
	for i := range columns {
		for j := range rows {
			x, y := -150+(float64(i)+0.25)*w, -high+(float64(j)+0.2)*h
			s.paint(ink{rgb: frame}, box(x, y, 0.5*w, 0.6*h))
			lit := glass.times(d.in(0.4, 1.6))
			if d.chance(0.15) {
				lit = d.vivid()
			}
			s.paint(ink{rgb: lit, grain: 0.02}, box(x+0.03*w, y+0.03*h, 0.2*w, 0.54*h))
			s.paint(ink{rgb: lit, grain: 0.02}, box(x+0.27*w, y+0.03*h, 0.2*w, 0.54*h))
		}
	}
}

// calendar is a month's sheet: a grid with numbers, some days marked.
func calendar(c *composition, pic *picture, d dice) {
	pic.lay(d.drawGround(), c.cam, d.in(0, 6))
	s := c.table(pic, d)
	s.paint(ink{rgb: d.white(), grain: 0.01}, box(-110, -130, 220, 260))
	g := drawScape(d)
	s.paint(ink{at: func(x, y float64) rgb { return g(x*0.3, y*0.3) }}, box(-100, -120, 200, 90))
	s.print(ink{rgb: grey(0.03)}, bold(), d.words(1), 0, -15, 9, 0)
	for k := range 31 {
		i, j := k%7, k/7
		x, y := -100+float64(i)*28.5, -5+float64(j)*25
		s.paint(ink{rgb: grey(0.3)}, box(x, y, 28, 24), grown(box(x, y, 28, 24), -0.3, true))
		if d.chance(0.12) {
			s.paint(ink{rgb: d.vivid(), see: 0.5}, box(x+2, y+10, 24, 9))
		}
		s.print(ink{rgb: grey(0.03)}, plain(), number(float64(k+1)), x+3, y+8, 5, -1)
	}
}

// pencils lie side by side.
func pencils(c *composition, pic *picture, d dice) {
	pic.lay(d.drawGround(), c.cam, d.in(0, 6))
	s := c.table(pic, d)
	wide := d.in(7, 12)
	for i := range d.one(8, 24) {
		x, y, colour := -120+float64(i)*wide*1.08, d.in(-8, 8), d.vivid()
		o := box(x, y-70, wide, 140)
		s.shade(s.through(o), 10, 0.4)
		s.paint(ink{rgb: colour, grain: 0.01}, o)
		s.paint(ink{rgb: colour.times(0.6)}, box(x+0.7*wide, y-70, 0.3*wide, 140))
		s.paint(ink{rgb: rgb{0.6, 0.4, 0.22}}, path{{X: x, Y: y - 70}, {X: x + wide, Y: y - 70}, {X: x + wide/2, Y: y - 90}})
		s.paint(ink{rgb: colour}, path{{X: x + 0.35*wide, Y: y - 84}, {X: x + 0.65*wide, Y: y - 84}, {X: x + wide/2, Y: y - 90}})
	}
}

// bare is a table with the usual things on it.
func bare(c *composition, pic *picture, d dice) {
	pic.lay(d.drawGround(), c.cam, d.in(0, 6))
	for range d.one(4, 14) {
		c.put(pic, d, pick(d, small)(d), nil)
	}
}

// wall is plaster or brick.
func wall(c *composition, pic *picture, d dice) {
	pic.lay(pick(d, []func(dice) ground{paving, blotchy, marble, even})(d), c.cam, d.in(0, 6))
}

// mosaic is small tiles of many colours.
func mosaic(c *composition, pic *picture, d dice) {
	size, joint, seed := d.in(8, 20), d.in(0.8, 2.5), d.seed()
	all := []rgb{d.any(), d.vivid(), d.white(), d.vivid(), d.any()}
	pic.lay(func(x, y float64) rgb {
		i, j := math.Floor(x/size), math.Floor(y/size)
		if x-i*size < joint || y-j*size < joint {
			return grey(0.55)
		}
		return all[int(5*spot(int(i), int(j), seed))].times(0.85 + 0.3*spot(int(i), int(j), seed+1))
	}, c.cam, d.in(0, 6))
}

// blinds are level slats before a bright window.
func blinds(c *composition, pic *picture, d dice) {
	s, high := c.flatly(pic), c.reach()
	s.paint(ink{rgb: grey(0.9)}, box(-160, -high-5, 320, 2*high+10))
	slat, colour := d.in(6, 18), d.any()
	for y := -high; y < high; y += slat {
		s.paint(ink{rgb: colour, grain: 0.01}, box(-160, y, 320, 0.75*slat))
		s.paint(ink{rgb: colour.times(1.2)}, box(-160, y, 320, 0.15*slat))
	}
	for _, x := range []float64{-90, 10, 100} {
		s.paint(ink{rgb: grey(0.7)}, box(x, -high, 1.5, 2*high))
	}
}

// drawer is full of bricks, buttons and clips.
func drawer(c *composition, pic *picture, d dice) {
	pic.lay(pick(d, []func(dice) ground{planks, even})(d), c.cam, 0)
	for range d.one(50, 110) {
		c.put(pic, d, pick(d, []func(d dice) thing{bricks, bricks, button, clip, coin, die})(d), nil)
	}
}

// poster is flat print in strong colours.
func poster(c *composition, pic *picture, d dice) {
	pic.lay(blotchy(d), c.cam, d.in(0, 6))
	s := c.table(pic, d)
	s.paint(ink{rgb: d.any(), grain: 0.01}, box(-120, -140, 240, 280))
	for range d.one(3, 8) {
		a := d.in(20, 90)
		s.logo(d, box(d.in(-115, 110-a), d.in(-135, 130-a), a, a))
	}
	s.print(ink{rgb: d.any()}, bold(), d.words(2), 0, d.in(-100, 120), 16, 0)
}

// fruit lies in a bowl: round, shaded.
func fruit(c *composition, pic *picture, d dice) {
	pic.lay(d.drawGround(), c.cam, d.in(0, 6))
	s := c.table(pic, d)
	s.shade(s.through(ellipse(8, 10, 125, 120)), 40, 0.5)
	s.paint(ink{rgb: d.white(), grain: 0.01}, ellipse(0, 0, 120, 115))
	for range d.one(12, 30) {
		turn, far, r := d.in(0, 2*math.Pi), 90*math.Sqrt(d.Float64()), d.in(14, 30)
		sin, cos := math.Sincos(turn)
		colour := hued(d.in(-0.02, 0.33), d.in(0.6, 0.95), d.in(0.5, 0.95))
		mid := s.project(s.place(point{X: far * cos, Y: far * sin}))
		size := r * c.scale()
		ball := func(x, y float64) rgb {
			u, v := (x-mid.X)/size+0.3, (y-mid.Y)/size+0.3
			return colour.times(math.Max(0.12, 1-0.55*(u*u+v*v))).mix(grey(1), 0.5*math.Exp(-12*(u*u+v*v)))
		}
		s.paint(ink{at: ball, grain: 0.02}, ellipse(far*cos, far*sin, r, r))
	}
}

// plugs are a panel of coloured switches and lamps.
func plugs(c *composition, pic *picture, d dice) {
	s, high := c.flatly(pic), c.reach()
	s.paint(ink{rgb: d.any().mix(grey(0.3), 0.5), grain: 0.02}, box(-160, -high-5, 320, 2*high+10))
	step := d.in(25, 50)
	for y := -high + step; y < high-step/2; y += step * d.in(1, 1.6) {
		kind := d.IntN(3)
		for x := -150 + step; x < 150-step/2; x += step * d.in(0.9, 1.3) {
			colour := pick(d, []rgb{d.vivid(), grey(0.03), d.white()})
			switch kind {
			case 0:
				s.paint(ink{rgb: colour.times(0.5)}, ellipse(x, y, 0.3*step, 0.3*step))
				s.paint(ink{rgb: colour, grain: 0.01}, ellipse(x, y, 0.24*step, 0.24*step))
			case 1:
				s.paint(ink{rgb: colour, grain: 0.01}, rounded(x-0.2*step, y-0.3*step, 0.4*step, 0.6*step, 2))
			default:
				s.print(ink{rgb: grey(0.8)}, plain(), d.word(), x, y, 0.12*step, 0)
			}
		}
	}
}
