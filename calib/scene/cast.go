package scene

// shadowOf is the soft shadow that a thing casts on what lies under it.
type shadowOf struct {
	outline quad // upright
	shift   point
	soft    float64
	depth   float64
	above   int // shapes from this one on are not shaded
}

// cast lets the thing painted next cast a shadow, down and to the right.
func (s *sheet) cast(outline quad, shift, soft, depth float64) {
	s.casts = append(s.casts, shadowOf{outline, point{X: 0.7 * shift, Y: shift}, soft, depth, len(s.shapes)})
}

// cover is the share of light taken at a place of the plane.
func (c *shadowOf) cover(at point) float64 {
	inside := func(v, lo, hi float64) float64 { return logistic(4*(v-lo)/c.soft) * logistic(4*(hi-v)/c.soft) }
	x, y := at.X-c.shift.X, at.Y-c.shift.Y
	return c.depth * inside(x, c.outline[0].X, c.outline[2].X) * inside(y, c.outline[0].Y, c.outline[2].Y)
}

// drawCasts darkens the picture by the shadows that things cast.
func (c *Config) drawCasts(p *picture, s *sheet, ids []uint16, view, back *perspective) {
	for i := range s.casts {
		shadow := &s.casts[i]
		q := shadow.outline
		m := 2*shadow.soft + shadow.shift.Y
		area := box(q[0].X-m, q[0].Y-m, q[2].X-q[0].X+2*m, q[2].Y-q[0].Y+2*m)
		area.through(view).fill(c.Width, c.Height, func(row, x0, x1 int) {
			for k := x0; k < x1; k++ {
				if int(ids[row*c.Width+k]) < shadow.above {
					p.dim(row*c.Width+k, 1-shadow.cover(back.Apply(point{X: float64(k) + 0.5, Y: float64(row) + 0.5})))
				}
			}
		})
	}
}
