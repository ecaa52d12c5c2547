package table

import "math"

// matches is a box with a print.
func matches(d dice) thing {
	w, h := d.in(35, 60), d.in(22, 40)
	a, b := d.vivid(), d.vivid()
	o := box(-w/2, -h/2, w, h)
	return thing{o, 5, func(s sheet) {
		s.paint(ink{rgb: a, grain: 0.01}, o)
		s.paint(ink{rgb: b, grain: 0.01}, box(-0.4*w, -0.3*h, 0.8*w, 0.6*h))
		s.logo(d, box(-0.3*w, -0.25*h, 0.5*h, 0.5*h))
		s.print(ink{rgb: grey(0.9)}, bold(), d.words(1), 0.1*w, 0.1*h, 0.16*h, 0)
	}}
}

// label is a sticker with a bar code.
func label(d dice) thing {
	w, h, colour := d.in(30, 60), d.in(18, 35), d.white()
	o := rounded(-w/2, -h/2, w, h, 2)
	return thing{o, 0.2, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.01}, o)
		s.barCode(d, box(-0.4*w, -0.35*h, 0.5*w, 0.6*h))
		s.paragraph(d, grey(0.04), box(0.15*w, -0.35*h, 0.3*w, 0.7*h), 1.6)
	}}
}

// shaft is a screwdriver or a brush.
func shaft(d dice) thing {
	long, thick, grip := d.in(120, 190), d.in(14, 24), d.vivid()
	metal := grey(d.in(0.2, 0.5))
	return thing{box(-long/2, -thick/2, long, thick), 4, func(s sheet) {
		s.paint(ink{rgb: metal, grain: 0.02}, box(0, -thick/7, long/2, thick/3.5))
		s.paint(ink{rgb: grip, grain: 0.01}, rounded(-long/2, -thick/2, 0.5*long, thick, thick/3))
		for i := range 3 {
			y := thick * (float64(i) - 1) * 0.28
			s.paint(ink{rgb: grip.times(0.4), see: 0.2}, rounded(-0.45*long, y-0.05*thick, 0.38*long, 0.1*thick, 1))
		}
	}}
}

// bricks are toy bricks in a row or a pile, each of one colour.
func bricks(d dice) thing {
	a, n := d.in(7, 16), d.one(1, 4)
	w := a * float64(n) * 1.15
	return thing{box(-w/2, -a/2, w, a), 5, func(s sheet) {
		for i := range n {
			x, colour := -w/2+float64(i)*a*1.15, d.vivid()
			s.paint(ink{rgb: colour, grain: 0.005}, box(x, -a/2, a, a))
			for k := range 4 {
				cx, cy := x+a*(0.28+0.44*float64(k%2)), a*(-0.22+0.44*float64(k/2))
				s.paint(ink{rgb: colour.times(0.7)}, ellipse(cx+0.03*a, cy+0.04*a, 0.15*a, 0.15*a))
				s.paint(ink{rgb: colour.times(1.15)}, ellipse(cx, cy, 0.14*a, 0.14*a))
			}
		}
	}}
}

// sleeve is a foil or paper sleeve with printed bands.
func sleeve(d dice) thing {
	w, h := d.in(60, 110), d.in(14, 35)
	base := pick(d, []rgb{grey(0.4), d.any(), d.white()})
	o := box(-w/2, -h/2, w, h)
	return thing{o, 0.8, func(s sheet) {
		shine := func(x, y float64) rgb { return base.times(0.8 + 0.4*cloud(x*0.03, y*0.03, 9)) }
		s.paint(ink{at: shine, grain: 0.01}, o)
		s.paint(ink{rgb: d.vivid(), grain: 0.01}, box(-w/2, -h/2, 0.12*w, h))
		s.print(ink{rgb: grey(0.03)}, bold(), d.words(2), -0.3*w, 0, 0.2*h, -1)
		s.paragraph(d, grey(0.03), box(-0.3*w, 0.1*h, 0.6*w, 0.3*h), 1.4)
	}}
}

// stick is long, narrow and white like a strip, with bands over all its width.
func stick(d dice) thing {
	long, wide := d.in(70, 120), d.in(4, 8)
	colour := d.white()
	o := rounded(-long/2, -wide/2, long, wide, d.in(0, 0.5)*wide)
	return thing{o, 0.6, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.01}, o)
		x := -long/2 + d.in(5, 15)
		for range d.one(1, 3) {
			w := d.in(1, 12)
			s.paint(ink{rgb: d.any(), grain: 0.01}, box(x, -wide/2, w, wide))
			x += w + d.in(2, 10)
		}
	}}
}

// secondChart is a card of paints or threads: colours in a grid, with names.
func secondChart(d dice) thing {
	columns, rows, a := d.one(2, 5), d.one(3, 7), d.in(6, 12)
	gap := a * pick(d, []float64{0, 0.1, 0.3})
	w, h := float64(columns)*(a+gap)+6, float64(rows)*(a*1.3+gap)+6
	colour := d.white()
	o := box(-w/2, -h/2, w, h)
	return thing{o, 0.6, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.01}, o)
		for i := range columns {
			for j := range rows {
				x, y := -w/2+3+float64(i)*(a+gap), -h/2+3+float64(j)*(a*1.3+gap)
				s.paint(ink{rgb: d.any(), grain: 0.01}, box(x, y, a, a))
				s.print(ink{rgb: grey(0.05)}, plain(), d.word(), x, y+1.2*a, 0.12*a, -1)
			}
		}
	}}
}

// folder is a book, a folder or a tray.
func folder(d dice) thing {
	w, h, colour := d.in(150, 320), d.in(100, 230), d.any()
	o := rounded(-w/2, -h/2, w, h, d.in(0, 15))
	rim := d.chance(0.5)
	return thing{o, 4, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.02}, o)
		if rim {
			s.paint(ink{rgb: colour.times(0.7), grain: 0.02}, o, grown(rounded(-w/2+6, -h/2+6, w-12, h-12, 8), 0, true))
		}
		s.print(ink{rgb: colour.mix(grey(0.9), 0.7)}, bold(), d.words(2), 0, -0.3*h, 0.06*h, 0)
	}}
}

// newsprint is a page of text in columns, with headings and pictures.
func newsprint(d dice) thing {
	w, h := d.in(180, 300), d.in(150, 260)
	colour := rgb{0.6, 0.57, 0.48}.times(d.in(0.7, 1.25))
	o := box(-w/2, -h/2, w, h)
	columns := d.one(3, 5)
	return thing{o, 0.6, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.03}, o)
		each := (w - 16) / float64(columns)
		for i := range columns {
			x, y := -w/2+8+float64(i)*each, -h/2+8
			for y < h/2-14 {
				part := math.Min(d.in(20, 90), h/2-8-y)
				switch d.weighed(1, 1, 5) {
				case 0:
					s.print(ink{rgb: grey(0.05)}, bold(), d.words(2), x, y+6, math.Min(5, each/12), -1)
					y += 10
				case 1:
					c := d.any()
					k := d.seed()
					blots := func(x, y float64) rgb { return c.times(0.4 + 1.2*clouds(x*0.02, y*0.02, 3, k)) }
					s.paint(ink{at: blots, grain: 0.05}, box(x, y, each-4, 0.6*part))
					y += 0.6*part + 4
				default:
					s.paragraph(d, grey(0.08), box(x, y, each-4, part), 2.2)
					y += part + 3
				}
			}
		}
	}}
}

// mat is a cutting mat with a grid.
func mat(d dice) thing {
	w, h := 10*float64(d.one(18, 32)), 10*float64(d.one(12, 24))
	colour := hued(d.in(0.3, 0.75), d.in(0.4, 0.9), d.in(0.25, 0.6))
	pale := ink{rgb: colour.mix(grey(0.9), 0.5), see: 0.2}
	o := rounded(-w/2, -h/2, w, h, 4)
	return thing{o, 1.5, func(s sheet) {
		s.paint(ink{rgb: colour, grain: 0.02}, o)
		for x := -w/2 + 10; x < w/2; x += 10 {
			s.paint(pale, box(x-0.15, -h/2+5, 0.3, h-10))
		}
		for y := -h/2 + 10; y < h/2; y += 10 {
			s.paint(pale, box(-w/2+5, y-0.15, w-10, 0.3))
		}
	}}
}
