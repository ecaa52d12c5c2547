package scene

import (
	"math"

	"padband/colorimetry"
)

// exposed is the scene in the camera's white-balanced linear raw: for each
// light, each shape's colour and what its texture adds.
type exposed struct {
	colour, rough [][][3]float32 // [light][shape]
	gain          [3]float64     // from integrated raw to balanced, exposed raw
	white         [][3]float32   // [light]: a perfect mirror of the lamp
	matrix        colorimetry.Matrix3
}

// expose integrates every shape's spectrum under every light.
func (c *Config) expose(s *sheet) (*exposed, error) {
	ex := &exposed{}
	mean := c.meanLight()
	if c.Camera.Colorimetric {
		c.Camera.Sensitivity = observer()
	}
	if err := c.balance(ex, &mean); err != nil {
		return nil, err
	}
	for i := range c.Lights {
		power := &c.Lights[i].Power
		colours, roughs := make([][3]float32, len(s.shapes)), make([][3]float32, len(s.shapes))
		for k := range s.shapes {
			m := &s.shapes[k].material
			a, b := c.Camera.raw(&m.spectrum, power), c.Camera.raw(&m.rough, power)
			for ch := range a {
				colours[k][ch] = float32(a[ch] * ex.gain[ch])
				roughs[k][ch] = float32((b[ch] - a[ch]) * ex.gain[ch] * m.texture.amount)
			}
		}
		ex.colour, ex.rough = append(ex.colour, colours), append(ex.rough, roughs)
		w := c.Camera.raw(new(flat(1)), power)
		ex.white = append(ex.white, [3]float32{float32(w[0] * ex.gain[0]), float32(w[1] * ex.gain[1]), float32(w[2] * ex.gain[2])})
	}
	return ex, nil
}

// meanLight is the light that the camera balances for: the lamps as they mix on average over the photo.
func (c *Config) meanLight() (mean Spectrum) {
	for i := range c.Lights {
		l := &c.Lights[i]
		level := 0.0
		for _, x := range []float64{-0.6, -0.2, 0.2, 0.6} {
			for _, y := range []float64{-0.6, -0.2, 0.2, 0.6} {
				level += l.at(x, y) / 16
			}
		}
		mean = mean.plus(level, &l.Power)
	}
	return mean
}

// balance sets the gains and the colour matrix.
func (c *Config) balance(ex *exposed, mean *Spectrum) (err error) {
	k := &c.Camera
	w := k.raw(&c.Surfaces.Card, mean)
	full := k.raw(new(flat(1)), mean)
	level := k.Exposure * full[1] / w[1]
	for i := range ex.gain {
		ex.gain[i] = level / full[i] * k.Balance[i]
	}
	if k.Colorimetric {
		// Balanced raw is XYZ over its white: von Kries to D50, and to sRGB.
		white := colorimetry.Matrix3{{colorimetry.D50.X, 0, 0}, {0, 1, 0}, {0, 0, colorimetry.D50.Z}}
		ex.matrix = colorimetry.SRGB.FromXYZ.Mul(white)
		return nil
	}
	lamp := *mean
	if k.MatrixLamp != "" {
		if lamp, err = lampNamed(k.MatrixLamp); err != nil {
			return err
		}
	}
	ex.matrix = k.colourMatrix(&lamp)
	return nil
}

// lightUp fills the picture: colour times light, texture, the bottle's shade.
func (c *Config) lightUp(p *picture, s *sheet, ids []uint16, ex *exposed, back *perspective) {
	fields := make([]field, len(c.Lights))
	for i := range fields {
		fields[i] = newField(&c.Lights[i], c.Width, c.Height)
	}
	rows := make([][][3]float32, len(fields))
	for i := range rows {
		rows[i] = make([][3]float32, c.Width)
	}
	shade := make([]float32, c.Width)
	for y := range c.Height {
		for i := range fields {
			fields[i].row(y, rows[i])
		}
		c.shadeRow(shade, s, ids[y*c.Width:], y, back)
		for i := range fields {
			c.addRow(p, s, ids[y*c.Width:], y, ex.colour[i], ex.rough[i], rows[i], shade)
		}
	}
}

// shadeRow is the bottle's shade along a row of the photo; 1 off the bottle.
func (c *Config) shadeRow(shade []float32, s *sheet, ids []uint16, y int, back *perspective) {
	for x := range shade {
		shade[x] = 1
		if s.shapes[ids[x]].bottle {
			shade[x] = float32(s.bottle.shade(back.Apply(point{X: float64(x) + 0.5, Y: float64(y) + 0.5}).X))
		}
	}
}

// addRow adds one light's part of a row.
func (c *Config) addRow(p *picture, s *sheet, ids []uint16, y int, colour, rough [][3]float32, light [][3]float32, shade []float32) {
	base := y * c.Width
	r, g, b := p.plane[0][base:base+c.Width], p.plane[1][base:base+c.Width], p.plane[2][base:base+c.Width]
	set := tiles()
	line := (y & (tileSize - 1)) * tileSize
	for x := range r {
		id := ids[x]
		t := set[s.shapes[id].texture.kind][line+(x+int(id)*37)&(tileSize-1)]
		a, d, l, k := &colour[id], &rough[id], &light[x], shade[x]
		r[x] += (a[0] + t*d[0]) * l[0] * k
		g[x] += (a[1] + t*d[1]) * l[1] * k
		b[x] += (a[2] + t*d[2]) * l[2] * k
	}
}

// at is the glare at a place of the photo, as a share of a perfect white.
func (g *Spot) at(x, y float64) float64 {
	u, v := (x-g.X)/g.RX, (y-g.Y)/g.RY
	return g.Peak * math.Exp(-(u*u+v*v)*(u*u+v*v)/2)
}

// addGlare adds the lamp mirrored in the wet pads.
func (c *Config) addGlare(p *picture, s *sheet, ex *exposed, view *perspective) {
	for _, spot := range c.Glares {
		for _, pad := range s.pads {
			pad.through(view).fill(c.Width, c.Height, func(y, x0, x1 int) {
				for x := x0; x < x1; x++ {
					v := float32(spot.at(float64(x)+0.5, float64(y)+0.5))
					for ch := range 3 {
						p.plane[ch][y*c.Width+x] += v * ex.white[0][ch]
					}
				}
			})
		}
	}
}
