package table

import "math"

// strip is the dipped strip: its tip at the origin, along x.
type strip struct {
	on      surface
	body    path
	pads    []path
	places  []float64 // of the pads' colours between the swatches, 0 to 1
	plastic rgb
	ground  path // what it takes of the table, in millimetres of the world
	held    bool // against the bottle
}

// layStrip draws a strip and where it lies.
func (c *composition) layStrip(d dice) bool {
	c.drawStrip(d)
	if c.flask != nil && d.chance(0.3) {
		return c.holdStrip(d)
	}
	if c.flask == nil && d.chance(0.25) {
		return c.stripOnCard(d)
	}
	c.stripBeside(d)
	return true
}

// drawStrip draws the strip itself.
func (c *composition) drawStrip(d dice) {
	n := float64(len(c.order))
	side := d.in(4, 6.5)
	if c.kind == Flat && d.chance(0.4) {
		side = c.tall * d.in(0.7, 1)
	}
	across := side * d.in(0.8, 1.1)
	pitch := side * d.inLog(1.15, 2.2)
	if n > 8 {
		pitch = side * d.in(1.15, 1.5)
	}
	wide, tip, grip := across*d.in(1, 1.25), d.in(0.5, 4), d.in(12, 45)
	if d.chance(0.1) {
		grip = tip + d.in(3, 8)
	}
	long := tip + (n-1)*pitch + side + grip
	bent := d.in(0, 0.2)
	c.strip = strip{body: rounded(0, -wide/2, long, wide, bent*wide), plastic: d.white()}
	corner := 0.0
	if bent > 0.17 { // a strip with round ends has pads with round corners
		corner = bent * across
	}
	for i := range c.order {
		c.strip.pads = append(c.strip.pads, rounded(tip+float64(i)*pitch, -across/2, side, across, corner))
		c.strip.places = append(c.strip.places, d.Float64())
	}
	if d.chance(0.5) { // one pad or two as pale as paper
		for range d.one(1, 2) {
			i := d.IntN(len(c.order))
			if s := c.series[c.order[i]]; s.white >= 0 {
				c.strip.places[i] = math.Abs(s.white - d.in(0, 0.04))
			}
		}
	}
}

// turned puts the middle of the strip at a place, turned.
func (s *strip) turned(turn, x, y, z float64) {
	mid := s.body.centre()
	sin, cos := math.Sincos(turn)
	x, y = x-mid.X*cos+mid.Y*sin, y-mid.X*sin-mid.Y*cos
	s.on = lying(turn, x, y, z)
	s.ground = s.body.moved(turn, x, y)
}

// along draws a turn along the chart's sides: upright or level, either end first.
func (d dice) along(upright bool) float64 {
	turn := d.near(0, 0.06)
	if upright {
		turn += math.Pi / 2
	}
	if d.chance(0.5) {
		turn += math.Pi
	}
	return turn
}

// stripBeside moves the strip away from the chart until it lies free of it.
func (c *composition) stripBeside(d dice) {
	away, turn := math.Pi/2*float64(d.IntN(4)), 0.0
	if d.chance(0.7) {
		turn = d.along(math.Abs(math.Cos(away)) > 0.5)
	} else {
		away, turn = d.in(0, 2*math.Pi), d.in(0, 2*math.Pi)
	}
	keep := c.ground()
	mid := keep.centre()
	slide := d.in(-0.2, 0.2) * math.Min(c.laid.w, c.laid.h)
	gap := d.inLog(2, 18)
	sin, cos := math.Sincos(away)
	for far := 0.0; ; far++ {
		c.strip.turned(turn, mid.X+far*cos-slide*sin, mid.Y+far*sin+slide*cos, 0.2)
		if c.strip.ground.clear(keep) {
			far += gap
			c.strip.turned(turn, mid.X+far*cos-slide*sin, mid.Y+far*sin+slide*cos, 0.2)
			return
		}
	}
}

// ground is what the chart takes of the table.
func (c *composition) ground() path {
	if c.flask != nil {
		return c.flask.ground()
	}
	return c.card
}

// stripOnCard makes room on the card and lays the strip there.
func (c *composition) stripOnCard(d dice) bool {
	long := c.strip.body.centre().X * 2
	x0, y0, x1, y1 := c.card[0].X, c.card[0].Y, c.card[2].X, c.card[2].Y
	side := d.IntN(4)
	slack := func(have float64) float64 { return d.in(-0.5, 0.5) * math.Max(0, have-long-4) }
	mid, upright := point{X: (x0 + x1) / 2, Y: (y0 + y1) / 2}, side%2 == 0
	if upright {
		mid.Y += slack(y1 - y0)
	} else {
		mid.X += slack(x1 - x0)
	}
	edge := c.strip.width() + d.in(3, 9)
	switch side {
	case 0:
		x0 -= edge
		mid.X = x0 + edge/2
	case 1:
		y0 -= edge
		mid.Y = y0 + edge/2
	case 2:
		mid.X = x1 + edge/2
		x1 += edge
	case 3:
		mid.Y = y1 + edge/2
		y1 += edge
	}
	c.card = box(x0, y0, x1-x0, y1-y0)
	turn := d.along(upright)
	turn = math.Round(turn/(math.Pi/2))*math.Pi/2 + d.near(0, 0.015)
	c.strip.turned(turn, mid.X, mid.Y, 0.5)
	c.room = c.strip.ground
	return true
}

// width of the strip.
func (s *strip) width() float64 {
	low, high := 0.0, 0.0
	for _, q := range s.body {
		low, high = math.Min(low, q.Y), math.Max(high, q.Y)
	}
	return high - low
}

// holdStrip holds the strip against the bottle, along its axis, beside the chart.
func (c *composition) holdStrip(d dice) bool {
	f := c.flask
	side := 1.0
	if d.chance(0.5) {
		side = -1
	}
	low, high := f.span(c.cells)
	at := high + (0.5*c.strip.width()+d.in(1, 4))/f.radius
	if side < 0 {
		at = low - (0.5*c.strip.width()+d.in(1, 4))/f.radius
	}
	if math.Abs(at) > 1.1 {
		return false
	}
	turn, mid := d.along(true), c.strip.body.centre()
	slide := d.in(-0.15, 0.15) * f.long
	sin, cos := math.Sincos(turn)
	c.strip.on = surface{place: func(q point) vec {
		x, y := (q.X-mid.X)*cos-(q.Y-mid.Y)*sin, (q.X-mid.X)*sin+(q.Y-mid.Y)*cos
		ts, tc := math.Sincos(at)
		r := f.radius + 0.6
		return vec{r*ts + x*tc, y + slide, f.radius + r*tc - x*ts}
	}}
	c.strip.held = true
	return true
}
