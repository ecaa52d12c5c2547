package table

import "math"

// style is the look of a card's paper and of what is printed on it.
type style struct {
	paper, text rgb
	second      rgb // a second colour of the print
}

// style draws paper and inks: mostly dark on white.
func (d dice) style() style {
	p := style{paper: d.white(), text: pick(d, []rgb{grey(0.03), grey(0.06), {0.02, 0.03, 0.12}, {0.1, 0.03, 0.03}}), second: d.vivid()}
	if d.chance(0.12) {
		p.paper = hued(d.Float64(), d.in(0.08, 0.3), d.in(0.7, 0.95))
	} else if d.chance(0.05) {
		p.paper, p.text = hued(d.Float64(), d.in(0.1, 0.7), d.in(0.12, 0.35)), grey(0.8)
	}
	return p
}

// paintCard prints the chart on its card or label.
func (c *composition) paintCard(pic *picture, d dice) {
	s := sheet{c.on, c.cam, pic}
	look := d.style()
	outline := c.card
	if d.chance(0.3) {
		b := outline
		outline = rounded(b[0].X, b[0].Y, b[2].X-b[0].X, b[2].Y-b[0].Y, d.in(1, 5))
	}
	if c.flask == nil {
		lie := s
		lie.surface = lying(0, d.in(-1.2, 1.2), d.in(0.2, 1.5), 0)
		pic.shade(lie.through(outline), d.in(0.5, 3)*c.scale(), d.in(0.3, 0.6))
		if d.chance(0.15) { // a booklet: more sheets below
			lie.surface = lying(d.near(0, 0.02), d.in(-1, 1), d.in(-1, 1), 0)
			lie.paint(ink{rgb: look.paper.times(0.8), grain: 0.01}, outline)
		}
	}
	s.paint(ink{rgb: look.paper, grain: 0.012}, outline)
	c.decorate(s, d, look)
	for _, q := range c.tinted {
		s.paint(ink{rgb: look.paper.mix(look.second, 0.12), grain: 0.01}, q)
	}
	c.paintCells(s, d, look)
	for _, n := range c.notes {
		f := plain()
		if n.bold {
			f = bold()
		}
		s.print(ink{rgb: look.text}, f, n.text, n.x, n.y, n.high, n.aligned)
	}
}

// scale is about how many pixels a millimetre of the table takes.
func (c *composition) scale() float64 { return c.cam.focal / c.cam.at[2] }

// paintCells prints the swatches.
func (c *composition) paintCells(s sheet, d dice, look style) {
	fine := d.in(0.15, 0.35)
	for _, q := range c.cells {
		n := len(c.chart.Analytes[q.analyte].Swatches)
		colour := c.series[q.analyte].at(float64(q.swatch) / float64(n-1))
		s.paint(ink{rgb: colour, grain: 0.012}, q.outline)
		if c.border {
			ring := append(path{}, q.outline...)
			s.paint(ink{rgb: look.text, see: 0.3}, ring, grown(q.outline, -fine, true))
		}
	}
}

// grown moves the sides of a convex outline out by a length (in, when
// negative), backwards when it is to be a hole.
func grown(o path, by float64, hole bool) path {
	c := o.centre()
	var out path
	for _, q := range o {
		x, y := q.X-c.X, q.Y-c.Y
		out = append(out, point{X: q.X + math.Copysign(by, x)*share(x), Y: q.Y + math.Copysign(by, y)*share(y)})
	}
	if hole {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	return out
}

// share keeps points on an axis of the outline on it.
func share(x float64) float64 { return math.Min(1, math.Abs(x)) }

// decorate prints what is no patch: bands, titles, logos, bar codes, texts.
func (c *composition) decorate(s sheet, d dice, look style) {
	x0, y0, x1, y1 := c.card[0].X, c.card[0].Y, c.card[2].X, c.card[2].Y
	keep := c.keep()
	top, foot := keep[0].Y-y0, y1-keep[2].Y
	left, right := keep[0].X-x0, x1-keep[2].X
	free := c.room == nil
	if d.chance(0.4) && top > 4 && (free || !c.roomAt(keep[0].Y-top/2)) { // a band at the top
		s.paint(ink{rgb: look.second, grain: 0.01}, box(x0, y0, x1-x0, top*d.in(0.15, 0.6)))
	}
	if d.chance(0.25) && foot > 4 && (free || !c.roomAt(keep[2].Y+foot/2)) {
		h := foot * d.in(0.15, 0.5)
		s.paint(ink{rgb: d.vivid(), grain: 0.01}, box(x0, y1-h, x1-x0, h))
	}
	if free && d.chance(0.15) && left > 4 {
		s.paint(ink{rgb: look.second, grain: 0.01}, box(x0, y0, 0.4*left, y1-y0))
	}
	if free && d.chance(0.12) && right > 4 {
		s.paint(ink{rgb: d.vivid(), grain: 0.01}, box(x1-0.35*right, y0, 0.35*right, y1-y0))
	}
	if d.chance(0.2) { // a frame about the block
		s.paint(ink{rgb: look.text}, grown(keep, 1, false), grown(keep, 0.7, true))
	}
	s.decorRow(d, look, box(keep[0].X, y0+1, keep[2].X-keep[0].X, top-2), true, c.room)
	s.decorRow(d, look, box(keep[0].X, keep[2].Y+1, keep[2].X-keep[0].X, foot-2), false, c.room)
}

// keep is the box about the swatches, their numbers and titles.
func (c *composition) keep() path {
	low, high := point{}, point{X: c.laid.w, Y: c.laid.h}
	for _, n := range c.notes {
		f := plain()
		if n.bold {
			f = bold()
		}
		w := f.width(n.text) * n.high
		x := n.x - w*float64(n.aligned+1)/2
		low.X, high.X = math.Min(low.X, x), math.Max(high.X, x+w)
		low.Y, high.Y = math.Min(low.Y, n.y-n.high), math.Max(high.Y, n.y+0.3*n.high)
	}
	return box(low.X-1, low.Y-1, high.X-low.X+2, high.Y-low.Y+2)
}

// roomAt reports whether the strip lies on the card at a height.
func (c *composition) roomAt(y float64) bool {
	low, high := math.Inf(1), math.Inf(-1)
	for _, q := range c.room {
		low, high = math.Min(low, q.Y), math.Max(high, q.Y)
	}
	return y > low-4 && y < high+4
}

// decorRow prints things side by side into a box.
func (s sheet) decorRow(d dice, look style, in path, head bool, room path) {
	x, y, w, h := in[0].X, in[0].Y, in[2].X-in[0].X, in[2].Y-in[0].Y
	if h < 2.5 || w < 8 {
		return
	}
	if room != nil && !room.clear(in) {
		return
	}
	end := x + w
	for x < end-6 {
		wide := math.Min(end-x, h*d.in(1, 5))
		cell := box(x, y, wide, h)
		switch {
		case head && x == in[0].X && d.chance(0.8):
			s.heading(d, look, cell, end)
			x += wide * 0.5
		case d.chance(0.35):
		default:
			s.decor(d, look, cell)
		}
		x += wide + d.in(1, 6)
		if d.chance(0.3) {
			return
		}
	}
}

// heading prints a title.
func (s sheet) heading(d dice, look style, in path, end float64) {
	h := in[2].Y - in[0].Y
	high := math.Min(6, h*d.in(0.25, 0.5))
	text := d.words(d.one(1, 3))
	if w := bold().width(text) * high; w > end-in[0].X {
		high *= (end - in[0].X) / w
	}
	s.print(ink{rgb: look.text.mix(look.second, d.in(0, 0.8))}, bold(), text, in[0].X, in[0].Y+h*0.7, high, -1)
}

// decor prints one thing that is no patch into a box.
func (s sheet) decor(d dice, look style, in path) {
	x, y, w, h := in[0].X, in[0].Y, in[2].X-in[0].X, in[2].Y-in[0].Y
	switch d.weighed(3, 4, 3, 1, 0.6) {
	case 0:
		s.barCode(d, box(x, y+0.1*h, math.Min(w, 3*h), 0.8*h))
	case 1:
		s.paragraph(d, look.text, in, d.in(0.9, 1.6))
	case 2:
		s.logo(d, in)
	case 3: // stripes of print
		n := d.one(3, 6)
		for i := range n {
			s.paint(ink{rgb: d.vivid(), grain: 0.01}, box(x, y+h*float64(i)/float64(n), w, 0.6*h/float64(n)))
		}
	case 4: // coloured dots
		r := 0.3 * math.Min(h, 5)
		colour := d.vivid()
		for i := range d.one(2, 4) {
			if d.chance(0.7) {
				colour = d.vivid()
			}
			s.paint(ink{rgb: colour, grain: 0.01}, ellipse(x+r+float64(i)*2.6*r, y+h/2, r, r))
		}
	}
}

// barCode prints upright bars with digits.
func (s sheet) barCode(d dice, in path) {
	x, y, w, h := in[0].X, in[0].Y, in[2].X-in[0].X, in[2].Y-in[0].Y
	s.paint(ink{rgb: grey(0.85)}, grown(in, 0.5, false))
	unit := w / 60
	for at := x; at < x+w-3*unit; {
		bar := unit * float64(d.one(1, 3))
		s.paint(ink{rgb: grey(0.02)}, box(at, y, bar, 0.8*h))
		at += bar + unit*float64(d.one(1, 3))
	}
	s.print(ink{rgb: grey(0.02)}, plain(), "7 120455 903318"[:d.one(8, 15)], x, y+h, 0.15*h, -1)
}

// paragraph prints lines of invented words.
func (s sheet) paragraph(d dice, text rgb, in path, high float64) {
	x, w := in[0].X, in[2].X-in[0].X
	for y := in[0].Y + high; y < in[2].Y; y += 1.7 * high {
		at := x
		for {
			word := d.word()
			next := at + plain().width(word)*high
			if next > x+w {
				break
			}
			s.print(ink{rgb: text}, plain(), word, at, y, high, -1)
			at = next + 0.5*high
		}
	}
}

// logo prints an invented sign.
func (s sheet) logo(d dice, in path) {
	r := math.Min(in[2].X-in[0].X, in[2].Y-in[0].Y) / 2
	x, y := in[0].X+r, in[0].Y+r
	a, b := ink{rgb: d.vivid(), grain: 0.01}, ink{rgb: d.vivid(), grain: 0.01}
	switch d.IntN(6) {
	case 0:
		s.paint(a, ellipse(x, y, r, r))
		s.paint(b, ellipse(x+0.4*r, y, 0.55*r, 0.55*r))
	case 1:
		s.paint(a, star(x, y, r*d.in(0.35, 0.8), r, d.one(3, 12)))
	case 2: // a drop
		tip := path{{X: x, Y: y - r}, {X: x + 0.5*r, Y: y - 0.1*r}, {X: x, Y: y + 0.4*r}, {X: x - 0.5*r, Y: y - 0.1*r}}
		s.paint(a, tip, ellipse(x, y+0.3*r, 0.62*r, 0.62*r))
	case 3: // waves
		for i := range 3 {
			var wave path
			for k := range 9 {
				wave = append(wave, point{X: x - r + float64(k)*r/4, Y: y + r*(float64(i)*0.5-0.5) + 0.15*r*float64(k%2*2-1)})
			}
			s.paint(a, line(0.16*r, wave...))
		}
	case 4:
		s.paint(a, rounded(x-r, y-r, 2*r, 2*r, 0.4*r))
		s.print(ink{rgb: grey(0.9)}, bold(), d.words(1)[:1], x, y+0.5*r, r, 0)
	case 5: // a ring with a leaf
		s.paint(a, ellipse(x, y, r, r), grown(ellipse(x, y, 0.8*r, 0.8*r), 0, true))
		s.paint(b, leaf(x-0.6*r, y, 1.2*r, 0.6*r, 0.1*r))
	}
}

// paintStrip lays the strip down.
func (c *composition) paintStrip(pic *picture, d dice) {
	t := &c.strip
	s := sheet{t.on, c.cam, pic}
	low := s
	low.cast(t, d)
	pic.shade(low.through(t.body), d.in(0.3, 1.5)*c.scale(), d.in(0.25, 0.55))
	s.paint(ink{rgb: t.plastic, grain: 0.006}, t.body)
	if d.chance(0.2) { // print on the grip
		end := t.body.centre().X * 2
		s.paint(ink{rgb: d.vivid()}, box(end-d.in(4, 9), -0.3*t.width(), 2, 0.6*t.width()))
	}
	for i, q := range t.pads {
		line := &c.series[c.order[i]]
		colour := line.at(t.places[i])
		wet := d.in(0.93, 1.02)
		for k := range colour {
			colour[k] *= wet * d.near(1, 0.015)
		}
		pic.shade(s.through(grown(q, 0.1, false)), 0.15*c.scale(), 0.2)
		s.paint(ink{rgb: colour, grain: d.in(0.015, 0.04)}, q)
	}
}

// cast moves a strip's shadow a little aside.
func (s *sheet) cast(t *strip, d dice) {
	x, y, place := d.in(-0.8, 0.8), d.in(0, 1), t.on.place
	s.place = func(q point) vec { return place(point{X: q.X + x, Y: q.Y + y}) }
}
