package scene

import (
	"math"
	"slices"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// A pair is two photos of one scene from the same hand: without the phone's lamp, and with
// it.

// flashWay is how a pair is taken.
type flashWay struct {
	name   string
	auto   bool // the camera balances each photo for its own light; else as in the first
	plain  bool // the camera's tone is the plain sRGB curve
	noGlow bool // the lamp is never mirrored in the wet pads
	still  bool // no shift between the photos
	even   bool // the lamp's light does not fall off
	strong bool // the lamp is four to eight times the light around
}

// shot is one photo of a pair, decoded, with what the scene knows of it.
type shot struct {
	photo  *photo.Photo
	placed charts.Placed
	said   calib.Photo
	truth  []Truth
	gain   float64 // from light to the camera's linear scale: exposure time and sensitivity
	matrix colorimetry.Matrix3
	full   [3]float64 // the camera's raw of a perfect white in the mean light
}

// take renders one photo and samples it at marks: its own where nil. matrix, unless nil, is
// the camera's colour matrix. glow are mirror images of the last light.
func (c Config) take(marks *charts.Marks, matrix *colorimetry.Matrix3, noise uint64, glow []Spot) (out shot, err error) {
	prints, err := c.allPrints()
	if err != nil {
		return out, err
	}
	s := c.lay(prints)
	view, err := seenFrom(&c.Layout, float64(c.Width), float64(c.Height))
	if err != nil {
		return out, err
	}
	told := c.describe(s, &view, prints)
	if marks == nil {
		marks = &told.Marks
	}
	ex, err := c.expose(s)
	if err != nil {
		return out, err
	}
	if matrix != nil {
		ex.matrix = *matrix
	}
	p, err := c.shootWith(s, ex, &view, glow, noise)
	if err != nil {
		return out, err
	}
	file, err := c.encode(p, ex.matrix)
	if err != nil {
		return out, err
	}
	if out.photo, err = photo.Decode(file, photo.Limits{}); err != nil {
		return out, err
	}
	out.said, out.placed, err = strip.Samples(out.photo, told.Chart, *marks)
	mean := c.meanLight()
	out.truth, out.gain, out.matrix = told.Truth, ex.gain[1], ex.matrix
	out.full = c.Camera.raw(new(flat(1)), &mean)
	return out, err
}

// shootWith is [Config.shoot] with mirror images of the last light and grain of its own.
func (c Config) shootWith(s *sheet, ex *exposed, view *perspective, glow []Spot, grain uint64) (*picture, error) {
	p, ids := newPicture(c.Width, c.Height), c.paintIDs(s, view)
	back, _ := view.Inverse()
	c.lightUp(p, s, ids, ex, &back)
	c.drawCasts(p, s, ids, view, &back)
	err := c.drawLabels(p, s, view, &back)
	c.addGlare(p, s, ex, view)
	last, mirror := len(c.Lights)-1, *ex
	w := ex.white[last]
	for i := range w {
		w[i] *= float32(c.Lights[last].Level)
	}
	mirror.white = [][3]float32{w}
	c.Glares = glow
	c.addGlare(p, s, &mirror, view)
	c.Seed += grain
	c.finish(p)
	return p, err
}

// flashed is the same scene with the phone's own lamp on, held at once after the first photo.
func (c Config) flashed(d dice, way flashWay, first *shot) (Config, []Spot, error) {
	n := c
	name := pick(d, []string{"LED-B3", "LED-B4", "LED-B5", randomLamp(LED, c.Seed)})
	power, err := lampNamed(name)
	if err != nil {
		return n, nil, err
	}
	// A phone's lamp has some tens of candela: from 20 to 40 cm a few hundred lux, where
	// rooms have one hundred to one thousand (common practice, no source).
	ratio := d.inLog(0.4, 4)
	if way.strong {
		ratio = d.inLog(4, 8)
	}
	bright := c.Camera.raw(new(flat(1)), &power)
	l := Light{Lamp: name, Power: power, Level: ratio * first.full[1] / bright[1]}
	// Light of a small lamp at height h falls off as (1 + r²/h²)^-2; the photo's half width
	// is 0.4 to 0.65 of h, and the lamp lies a little beside the lens.
	half := d.in(0.4, 0.65)
	l.Curve = [3]float64{-2 * half * half, -2 * half * half * 9 / 16, 0}
	l.Slope = [2]float64{d.near(0, 0.1), d.near(0, 0.1)}
	if way.even {
		l.Curve, l.Slope = [3]float64{}, [2]float64{}
	}
	n.Lights = append(slices.Clone(c.Lights), l)
	n.Layout.Turn += d.near(0, 0.15) * math.Pi / 180
	shift := [2]float64{d.near(0, 4), d.near(0, 4)}
	for i := range n.Layout.Keystone {
		n.Layout.Keystone[i] += (shift[i%2] + d.near(0, 0.5)) / float64(c.Width)
	}
	if way.still {
		n.Layout = c.Layout
	}
	n.meter(d, way, ratio, first, &c.Camera)
	return n, n.mirrored(d), nil
}

// meter exposes and balances the photo with the lamp.
func (c *Config) meter(d dice, way flashWay, ratio float64, first *shot, before *Camera) {
	k := &c.Camera
	switch c.Fault {
	case Over:
	case Dark:
		k.Exposure = math.Min(0.7, k.Exposure*(1+ratio))
	default:
		k.Exposure = d.in(0.5, 0.88)
	}
	if !way.auto {
		c.lock(before, first)
	}
	if c.Fault != Over {
		k.Exposure /= c.brightest(first.matrix)
	}
}

// brightest is the highest channel of white anywhere between the edges, over the mean
// of green: what a camera exposes for.
func (c *Config) brightest(matrix colorimetry.Matrix3) float64 {
	mean := c.meanLight()
	full, most := c.Camera.raw(new(flat(1)), &mean), 0.0
	m := c.Camera.saturated(matrix)
	for i := -3; i <= 3; i++ {
		for j := -3; j <= 3; j++ {
			var raw colorimetry.XYZ
			for k := range c.Lights {
				l := &c.Lights[k]
				w, level := c.Camera.raw(new(flat(1)), &l.Power), l.at(0.27*float64(i), 0.27*float64(j))
				raw.X += level * w[0] / full[0] * c.Camera.Balance[0]
				raw.Y += level * w[1] / full[1] * c.Camera.Balance[1]
				raw.Z += level * w[2] / full[2] * c.Camera.Balance[2]
			}
			for k := range m {
				most = math.Max(most, m[k][0]*raw.X+m[k][1]*raw.Y+m[k][2]*raw.Z)
			}
		}
	}
	return most
}

// lock balances the camera as it was for the first photo.
func (c *Config) lock(as *Camera, first *shot) {
	mean := c.meanLight()
	full := c.Camera.raw(new(flat(1)), &mean)
	for i := range full {
		c.Camera.Balance[i] = as.Balance[i] * full[i] / first.full[i] * first.full[1] / full[1]
	}
}

// mirrored puts the lamp's image into some wet pads.
func (c *Config) mirrored(d dice) (out []Spot) {
	f := c.measure()
	view, err := seenFrom(&c.Layout, float64(c.Width), float64(c.Height))
	if err != nil {
		return nil
	}
	for _, q := range f.padBoxes() {
		at := q.through(&view).centre()
		g := Spot{X: at.X + d.near(0, 0.3*f.size), Y: at.Y + d.near(0, 0.3*f.size), Peak: d.inLog(0.05, 1)}
		g.RX, g.RY = f.size*d.in(0.08, 0.5), f.size*d.in(0.08, 0.5)
		if d.chance(0.35) {
			out = append(out, g)
		}
	}
	return out
}

// takePair takes both photos of a scene. first, unless nil, is the first one, taken before.
func takePair(c Config, way flashWay, first *shot) (a, b shot, err error) {
	if way.plain {
		c.Camera.Contrast, c.Camera.Lift, c.Camera.Shoulder = 0, 1, 1
	}
	if first != nil {
		a = *first
	} else if a, err = c.take(nil, nil, 0, nil); err != nil {
		return a, b, err
	}
	n, glow, err := c.flashed(newDice(c.Seed, 77), way, &a)
	if err != nil {
		return a, b, err
	}
	if way.noGlow {
		glow = nil
	}
	matrix := &a.matrix
	if way.auto {
		matrix = nil
	}
	s, err := c.marked()
	if err != nil {
		return a, b, err
	}
	b, err = n.take(&s, matrix, 1<<40, glow)
	b.said.Lamp = charts.LampFlash
	return a, b, err
}

// marked is the marks of a scene that is not rendered.
func (c Config) marked() (charts.Marks, error) {
	prints, err := c.allPrints()
	if err != nil {
		return charts.Marks{}, err
	}
	s := c.lay(prints)
	view, err := seenFrom(&c.Layout, float64(c.Width), float64(c.Height))
	return c.describe(s, &view, prints).Marks, err
}
