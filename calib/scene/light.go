package scene

import "math"

// gridStep is the distance of the nodes at which light is computed, pixels.
const gridStep = 8

// at is the light's level at a place (-1 to 1 across the photo), before drift.
func (l *Light) at(x, y float64) float64 {
	v := l.Level * math.Exp(l.Slope[0]*x+l.Slope[1]*y+l.Curve[0]*x*x+l.Curve[1]*y*y+l.Curve[2]*x*y)
	if s := l.Share; s != nil {
		v *= s.Low + (s.High-s.Low)*logistic((x*math.Cos(s.Angle)+y*math.Sin(s.Angle)-s.At)/s.Soft)
	}
	if l.Shadow != nil {
		v *= 1 - l.Shadow.cover(x, y)
	}
	return v
}

// cover is the share of the light that the shadow takes at a place.
func (s *Shade) cover(x, y float64) float64 {
	mx, my := (s.X0+s.X1)/2, (s.Y0+s.Y1)/2
	cos, sin := math.Cos(s.Angle), math.Sin(s.Angle)
	u, v := (x-mx)*cos+(y-my)*sin, (y-my)*cos-(x-mx)*sin
	inside := func(t, half float64) float64 {
		return logistic((t+half)/s.Soft) * logistic((half-t)/s.Soft)
	}
	return s.Depth * inside(u, (s.X1-s.X0)/2) * inside(v, (s.Y1-s.Y0)/2)
}

// field is one light over the photo, tabulated: [node][channel].
type field struct {
	columns int
	nodes   [][3]float32
}

// newField tabulates a light for a photo.
func newField(l *Light, w, h int) field {
	f := field{columns: w/gridStep + 2}
	rows := h/gridStep + 2
	for j := range rows {
		for i := range f.columns {
			x, y := 2*float64(i*gridStep)/float64(w)-1, 2*float64(j*gridStep)/float64(h)-1
			v := l.at(x, y)
			var node [3]float32
			for c := range node {
				node[c] = float32(v * (1 + l.Drift[0][c]*x + l.Drift[1][c]*y))
			}
			f.nodes = append(f.nodes, node)
		}
	}
	return f
}

// row interpolates the light along a row of pixels.
func (f *field) row(y int, out [][3]float32) {
	j, fy := y/gridStep, (float32(y%gridStep)+0.5)/gridStep
	upper, lower := f.nodes[j*f.columns:], f.nodes[(j+1)*f.columns:]
	var left, right [3]float32
	for x := range out {
		if x%gridStep == 0 {
			i := x / gridStep
			for c := range left {
				left[c] = upper[i][c] + fy*(lower[i][c]-upper[i][c])
				right[c] = upper[i+1][c] + fy*(lower[i+1][c]-upper[i+1][c])
			}
		}
		fx := (float32(x%gridStep) + 0.5) / gridStep
		for c := range left {
			out[x][c] = left[c] + fx*(right[c]-left[c])
		}
	}
}

// drawLights draws the lamps of the scene's class and their fields, and what
// the fault does to them.
func (c *Config) drawLights(d dice) error {
	name := pick(d, goodLamps)
	switch {
	case c.Fault == OddLamp:
		name = pick(d, oddLamps)
	case c.Class == Fair, c.Class == Bad && d.chance(0.35):
		name = pick(d, fairLamps)
	}
	amplitude := d.in(0.01, 0.07)
	switch {
	case c.Fault == Steep:
		amplitude = d.in(0.4, 1.1)
	case c.Class == Fair:
		amplitude = d.in(0.04, 0.18)
	case c.Class == Bad:
		amplitude = d.in(0.02, 0.14)
	}
	first, err := drawLight(d, name, amplitude)
	if err != nil {
		return err
	}
	c.Lights = []Light{first}
	switch c.Fault {
	case Mixed:
		return c.mixLights(d, name, amplitude)
	case Shadow:
		return c.castShadow(d, name)
	}
	return nil
}

// drawLight draws one lamp's field; amplitude is half of its range in the logarithm.
func drawLight(d dice, name string, amplitude float64) (Light, error) {
	power, err := lampNamed(name)
	if err != nil {
		return Light{}, err
	}
	l := Light{Lamp: name, Power: power, Level: 1}
	angle := d.in(0, 2*math.Pi)
	l.Slope = [2]float64{amplitude * math.Cos(angle), amplitude * math.Sin(angle)}
	vignette := d.in(0, 0.05)
	l.Curve = [3]float64{d.near(0, amplitude*0.35) - vignette, d.near(0, amplitude*0.35) - vignette, d.near(0, amplitude*0.3)}
	for axis := range l.Drift {
		l.Drift[axis] = [3]float64{d.near(0, 0.006+0.04*amplitude), 0, d.near(0, 0.006+0.04*amplitude)}
	}
	return l, nil
}

// mixLights adds a second lamp that reaches one side of the photo.
func (c *Config) mixLights(d dice, name string, amplitude float64) error {
	other := name
	for other == name {
		other = pick(d, append(append([]string{}, goodLamps...), fairLamps...))
	}
	second, err := drawLight(d, other, amplitude)
	if err != nil {
		return err
	}
	low, high := d.in(0.05, 0.35), d.in(0.5, 1.2)
	strip, chart := c.centres()
	angle, at, soft := math.Atan2(chart.Y-strip.Y, chart.X-strip.X)+d.near(0, 0.7), d.near(0, 0.3), d.in(0.1, 0.5)
	second.Share = &Share{low, high, angle, at, soft}
	c.Lights[0].Share = &Share{1, d.in(0.2, 0.7), angle, at, soft}
	c.Lights = append(c.Lights, second)
	return nil
}

// centres are the middles of strip and chart, from -1 to 1 across the photo.
func (c *Config) centres() (strip, chart point) {
	f := c.measure()
	boxes := f.padBoxes()
	first, last := boxes[0].centre(), boxes[len(boxes)-1].centre()
	w, h := float64(c.Width), float64(c.Height)
	strip = point{X: (first.X+last.X)/w - 1, Y: (first.Y+last.Y)/h - 1}
	return strip, point{X: (2*f.blockX+f.blockW)/w - 1, Y: (2*f.blockY+f.blockH)/h - 1}
}

// castShadow puts a shadow into the first light and leaves some light from around.
func (c *Config) castShadow(d dice, name string) error {
	around := name
	if d.chance(0.6) {
		around = pick(d, append([]string{"daylight 9000", "daylight 12000"}, goodLamps...))
	}
	second, err := drawLight(d, around, 0.05)
	if err != nil {
		return err
	}
	second.Level = d.in(0.15, 0.45)
	c.Lights = append(c.Lights, second)
	strip, chart := c.centres()
	over := pick(d, []point{strip, chart})
	x, y, w, h := over.X+d.near(0, 0.25), over.Y+d.near(0, 0.25), d.in(0.12, 0.7), d.in(0.12, 0.7)
	c.Lights[0].Shadow = &Shade{
		X0:    x - w,
		Y0:    y - h,
		X1:    x + w,
		Y1:    y + h,
		Soft:  d.in(0.01, 0.10),
		Angle: d.near(0, 0.4),
		Depth: d.in(0.45, 0.97),
	}
	return nil
}

// drawCamera draws a camera and how it took this photo.
func (c *Config) drawCamera(d dice) {
	k := &c.Camera
	k.Name, k.Sensitivity = drawSensor(d)
	if d.chance(0.55) {
		k.MatrixLamp = pick(d, []string{"D50", "D55", "D65"})
	}
	cast := 0.03
	if c.Class != Good {
		cast = 0.08
	}
	k.Balance = [3]float64{math.Exp(d.near(0, cast)), 1, math.Exp(d.near(0, cast))}
	k.Exposure = d.in(0.5, 0.88)
	k.Saturation, k.Contrast, k.Lift = d.in(1, 1.18), d.in(0, 0.3), d.in(0.88, 1.05)
	k.Shoulder = 1
	if d.chance(0.5) {
		k.Shoulder = d.in(0.6, 0.95)
	}
	k.Read, k.Shot = d.inLog(0.0005, 0.003), d.inLog(2e-5, 3e-4)
	k.Blur, k.Sharpen, k.Flare = d.in(0.5, 0.9), d.in(0, 0.6), d.in(0.001, 0.012)
	switch c.Fault {
	case Over:
		k.Exposure = d.in(1.0, 2.1)
	case Dark:
		k.Exposure = d.inLog(0.025, 0.12)
		k.Read, k.Shot = k.Read*2, k.Shot*3
	case Blurred:
		k.Blur = d.in(3, 11)
	}
}

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
