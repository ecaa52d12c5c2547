package table

import "math"

// ground is the colour of the table at a place, in millimetres.
type ground func(x, y float64) rgb

// grounds are the kinds of table.
var grounds = []func(d dice) ground{
	planks, planks, tiles, weave, granite, blotchy, even, towel, checks, pebbles, carpet, terrazzo, grass, paving, marble,
}

// drawGround draws a table.
func (d dice) drawGround() ground { return pick(d, grounds)(d) }

func (d dice) seed() uint32 { return d.Uint32() }

// planks is wood: long grain, boards with seams.
func planks(d dice) ground {
	dark, light := d.wood(), d.wood()
	wide, seam, k, seed := d.in(40, 160), d.in(0, 1.2), d.in(0.04, 0.12), d.seed()
	return func(x, y float64) rgb {
		board := math.Floor(y / wide)
		v := y - board*wide
		off := 1000 * spot(int(board), 0, seed)
		bend := 14 * cloud(x*0.006+off, y*0.02, seed)
		ring := math.Abs(math.Mod(bend+y*k*2, 2) - 1)
		f := 0.55*ring + 0.3*cloud(x*0.05+off, y*1.6, seed+1) + 0.15*cloud(x*0.8, y*4, seed+2)
		c := dark.mix(light, f).times(0.85 + 0.3*spot(int(board), 1, seed))
		if v < seam {
			return c.times(0.25)
		}
		return c
	}
}

// tiles are glazed squares with joints.
func tiles(d dice) ground {
	size, joint, seed := d.inLog(12, 150), d.in(0.6, 4), d.seed()
	base, other, cement := d.any(), d.any(), grey(d.in(0.1, 0.7))
	mixed, each := d.in(0, 0.3), d.chance(0.3)
	return func(x, y float64) rgb {
		i, j := math.Floor(x/size), math.Floor(y/size)
		if x-i*size < joint || y-j*size < joint {
			return cement.times(0.8 + 0.4*cloud(x, y, seed))
		}
		f := mixed * spot(int(i), int(j), seed)
		if each {
			f = spot(int(i), int(j), seed)
		}
		return base.mix(other, f).times(0.95 + 0.1*cloud(x*0.1, y*0.1, seed+5))
	}
}

// weave is cloth: threads over and under each other.
func weave(d dice) ground {
	a, b := d.any(), d.any()
	if d.chance(0.6) {
		b = a.mix(b, 0.3)
	}
	thread, seed := d.in(0.5, 1.6), d.seed()
	return func(x, y float64) rgb {
		u, v := x/thread, y/thread
		i, j := math.Floor(u), math.Floor(v)
		u, v = u-i-0.5, v-j-0.5
		c, hollow := a, u
		if (int(i)+int(j))%2 == 0 {
			c, hollow = b, v
		}
		return c.times((1 - 1.4*hollow*hollow) * (0.75 + 0.4*cloud(x*0.2, y*0.2, seed)))
	}
}

// granite is stone with specks.
func granite(d dice) ground {
	base := hued(d.Float64(), d.in(0, 0.25), d.in(0.2, 0.8))
	dark, light, size, seed := grey(d.in(0.01, 0.08)), grey(d.in(0.4, 0.85)), d.in(0.8, 3), d.seed()
	return func(x, y float64) rgb {
		f := clouds(x/size, y/size, 2, seed)
		c := base.times(0.7 + 0.6*cloud(x*0.05, y*0.05, seed+3))
		switch {
		case f < 0.33:
			return c.mix(dark, math.Min(1, (0.33-f)*14))
		case f > 0.66:
			return c.mix(light, math.Min(1, (f-0.66)*14))
		}
		return c
	}
}

// marble has veins.
func marble(d dice) ground {
	base, vein := hued(d.Float64(), d.in(0, 0.12), d.in(0.25, 0.95)), hued(d.Float64(), d.in(0, 0.4), d.in(0.3, 0.7))
	k, seed := d.in(0.008, 0.03), d.seed()
	return func(x, y float64) rgb {
		f := clouds(x*k, y*k, 4, seed)
		line := math.Abs(f-0.5) * 24
		return base.times(0.85+0.3*f).mix(vein, math.Max(0, 0.8-line))
	}
}

// blotchy is plaster or leather.
func blotchy(d dice) ground {
	a := d.any()
	b := a.mix(d.any(), 0.35)
	k, seed := d.inLog(0.01, 0.2), d.seed()
	return func(x, y float64) rgb { return a.mix(b, clouds(x*k, y*k, 3, seed)) }
}

// even is a smooth table top.
func even(d dice) ground {
	a, seed := d.any(), d.seed()
	return func(x, y float64) rgb { return a.times(0.97 + 0.06*cloud(x*0.01, y*0.01, seed)) }
}

// towel has stripes.
func towel(d dice) ground {
	all := []rgb{d.white(), d.any(), d.vivid(), d.any()}
	wide, seed := d.inLog(4, 40), d.seed()
	return func(x, y float64) rgb {
		at := y / wide
		i := math.Floor(at)
		c := all[int(4*spot(int(i), 7, seed))]
		return c.times(0.8 + 0.3*cloud(x*1.2, y*1.2, seed) - 0.08*math.Abs(math.Mod(math.Abs(x), 1.3)-0.65))
	}
}

// checks is a checked cloth.
func checks(d dice) ground {
	a, b, size, seed := d.white(), d.vivid(), d.inLog(5, 35), d.seed()
	return func(x, y float64) rgb {
		f := 0.0
		if int(math.Floor(x/size))%2 == 0 {
			f += 0.5
		}
		if int(math.Floor(y/size))%2 == 0 {
			f += 0.5
		}
		return a.mix(b, f).times(0.88 + 0.2*cloud(x*1.5, y*1.5, seed))
	}
}

// pebbles are round stones or leather cells: the nearest of scattered points.
func pebbles(d dice) ground {
	size, seed := d.inLog(4, 22), d.seed()
	a, b := d.any(), d.any()
	return func(x, y float64) rgb {
		u, v := x/size, y/size
		i, j := math.Floor(u), math.Floor(v)
		first, second, which := 9.0, 9.0, 0.0
		for p := i - 1; p <= i+1; p++ {
			for q := j - 1; q <= j+1; q++ {
				dx, dy := p+spot(int(p), int(q), seed)-u, q+spot(int(p), int(q), seed+1)-v
				r := dx*dx + dy*dy
				if r < first {
					first, second, which = r, first, spot(int(p), int(q), seed+2)
				} else if r < second {
					second = r
				}
			}
		}
		edge := math.Min(1, 4*(math.Sqrt(second)-math.Sqrt(first)))
		return a.mix(b, which).times(0.15 + 0.85*edge*(1-0.4*first))
	}
}

// carpet is short pile.
func carpet(d dice) ground {
	a, b, seed := d.any(), d.any(), d.seed()
	return func(x, y float64) rgb {
		f := cloud(x*1.4, y*1.4, seed)
		return a.mix(b, cloud(x*0.03, y*0.03, seed+1)).times(0.35 + 1.1*f)
	}
}

// terrazzo is chips in cement.
func terrazzo(d dice) ground {
	base, size, seed := d.any().mix(grey(0.6), 0.6), d.in(4, 14), d.seed()
	all := []rgb{d.any(), d.any(), d.vivid(), grey(0.8), grey(0.1)}
	return func(x, y float64) rgb {
		i, j := math.Floor(x/size), math.Floor(y/size)
		u, v := x/size-i-0.5, y/size-j-0.5
		turn := math.Pi * spot(int(i), int(j), seed)
		sin, cos := math.Sincos(turn)
		u, v = u*cos+v*sin, v*cos-u*sin
		r := 0.15 + 0.3*spot(int(i), int(j), seed+1)
		if math.Abs(u)+1.5*math.Abs(v) < r {
			return all[int(5*spot(int(i), int(j), seed+2))]
		}
		return base.times(0.92 + 0.16*cloud(x, y, seed))
	}
}

// grass is long thin blades, light and dark.
func grass(d dice) ground {
	a, b, seed := hued(d.in(0.2, 0.36), d.in(0.5, 0.9), d.in(0.15, 0.4)), hued(d.in(0.17, 0.3), d.in(0.3, 0.8), d.in(0.5, 0.85)), d.seed()
	lean := d.in(-0.4, 0.4)
	return func(x, y float64) rgb {
		u := x + lean*y + 3*cloud(x*0.05, y*0.05, seed)
		f := 0.6*cloud(u*0.5, y*0.04, seed+1) + 0.4*cloud(u*1.3, y*0.08, seed+2)
		return a.mix(b, math.Max(0, math.Min(1, 2.2*f-0.6)))
	}
}

// paving is bricks in running bond.
func paving(d dice) ground {
	a, b, seed := hued(d.in(0, 0.09), d.in(0.2, 0.7), d.in(0.3, 0.7)), hued(d.in(0, 0.09), d.in(0.2, 0.7), d.in(0.3, 0.7)), d.seed()
	long, wide, joint, cement := d.in(30, 120), d.in(15, 40), d.in(1, 4), grey(d.in(0.1, 0.5))
	return func(x, y float64) rgb {
		j := math.Floor(y / wide)
		u := x + math.Mod(j, 2)*long/2
		i := math.Floor(u / long)
		if u-i*long < joint || y-j*wide < joint {
			return cement.times(0.8 + 0.4*cloud(x, y, seed))
		}
		return a.mix(b, spot(int(i), int(j), seed)).times(0.75 + 0.5*clouds(x*0.3, y*0.3, 2, seed))
	}
}

// lay paints the whole photo with the table, turned and moved.
func (p *picture) lay(g ground, c *camera, turn float64) {
	sin, cos := math.Sincos(turn)
	for y := range p.h {
		for x := range p.w {
			q := c.onTable(float64(x)+0.5, float64(y)+0.5)
			v := g(q.X*cos+q.Y*sin+5000, q.Y*cos-q.X*sin+5000)
			i := 3 * (y*p.w + x)
			p.pix[i], p.pix[i+1], p.pix[i+2] = float32(v[0]), float32(v[1]), float32(v[2])
		}
	}
}
