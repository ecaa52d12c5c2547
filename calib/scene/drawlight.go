package scene

import "math"

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
	c.Lights[0].Shadow = &Shade{X0: x - w, Y0: y - h, X1: x + w, Y1: y + h, Soft: d.in(0.01, 0.10), Angle: d.near(0, 0.4), Depth: d.in(0.45, 0.97)}
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
