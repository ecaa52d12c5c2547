package table

import "math"

// flask is a bottle that lies on the table, its axis along y: the chart goes around it.
type flask struct {
	radius, long float64
	neck         float64 // radius of the cap
	cap          float64 // its length
	capEnd       float64 // 1: below the label, -1: above
	turn         float64 // of the chart's middle away from the top, radians
	across       bool    // the chart is turned a quarter: its rows run along the axis
	mid          point   // of the chart
	body, lid    rgb
	facing       float64 // angle at which the camera is
	edge         float64 // angle away from there at which the bottle's outline is
	lamp, fill   float64
	shine        float64
}

// widest is how far round the bottle swatches may lie, radians.
const widest = 1.13

// wrap puts the chart around a bottle.
func (c *composition) wrap(d dice) bool {
	f := &flask{across: d.chance(0.2), turn: d.near(0, 0.12), lamp: d.near(0, 0.5), fill: d.in(0.35, 0.75), shine: d.inLog(0.01, 0.1)}
	w, h := c.laid.w, c.laid.h
	cw, ch := c.card[2].X-c.card[0].X, c.card[2].Y-c.card[0].Y
	if f.across {
		w, cw, ch = h, ch, cw
	}
	f.radius = math.Max(9, w/d.in(0.8, 2*widest-0.15))
	f.long = ch * d.in(1.05, 1.4)
	f.neck, f.cap, f.capEnd = f.radius*d.in(0.6, 1.05), f.radius*d.in(0.4, 1), 1
	if d.chance(0.5) {
		f.capEnd = -1
	}
	f.mid = c.laidMiddle()
	f.body, f.lid = pick(d, []rgb{d.white(), d.white(), d.any(), hued(0.08, 0.8, 0.4)}), pick(d, []rgb{d.white(), d.any(), grey(0.03)})
	if cw > 2*math.Pi*f.radius || f.radius > 70 {
		return false
	}
	c.flask, c.on = f, f.surface()
	low, high := f.span(c.cells)
	return low > -widest && high < widest
}

func (c *composition) laidMiddle() point { return point{X: c.laid.w / 2, Y: c.laid.h / 2} }

// polar is the place of the chart on the bottle: the angle from the top, and along the axis.
func (f *flask) polar(q point) (angle, along float64) {
	u, v := q.X-f.mid.X, q.Y-f.mid.Y
	if f.across {
		u, v = -v, u
	}
	return f.turn + u/f.radius, v
}

// surface is the bottle's side: its drawing is the chart's. What lies beyond
// the edge that the camera sees is drawn up to it.
func (f *flask) surface() surface {
	return surface{step: f.radius / 8, place: func(q point) vec {
		angle, along := f.polar(q)
		if f.edge > 0 {
			angle = math.Max(f.facing-f.edge, math.Min(f.facing+f.edge, angle))
		}
		return f.at(f.radius, angle, along)
	}}
}

// at is a place at an angle from the top.
func (f *flask) at(r, angle, along float64) vec {
	sin, cos := math.Sincos(angle)
	return vec{r * sin, along, f.radius + r*cos}
}

// look finds what of the bottle the camera sees.
func (f *flask) look(c *camera) {
	x, z := c.at[0], c.at[2]-f.radius
	f.facing, f.edge = math.Atan2(x, z), math.Acos(math.Min(1, f.radius/math.Hypot(x, z)))
}

// span is the range of angles that the swatches take.
func (f *flask) span(cells []cell) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range cells {
		for _, q := range c.outline {
			a, _ := f.polar(q)
			low, high = math.Min(low, a), math.Max(high, a)
		}
	}
	return low, high
}

// ground is what the bottle takes of the table, with room for how it leans in the photo.
func (f *flask) ground() path {
	w := 1.25 * f.radius
	top, foot := f.ends()
	return box(-w, top-0.2*f.radius, 2*w, foot-top+0.4*f.radius)
}

// ends are where bottle and cap end along the axis.
func (f *flask) ends() (top, foot float64) {
	top, foot = -f.long/2, f.long/2
	if f.capEnd > 0 {
		return top, foot + f.cap
	}
	return top - f.cap, foot
}

// meets is where a pixel's ray meets the bottle's side: the angle, the place
// along the axis, and the distance in lengths of the ray.
func (f *flask) meets(c *camera, p point) (angle, along, far float64, ok bool) {
	r := c.ray(p.X, p.Y)
	x, z := c.at[0], c.at[2]-f.radius
	a, b, k := r[0]*r[0]+r[2]*r[2], x*r[0]+z*r[2], x*x+z*z-f.radius*f.radius
	root := b*b - a*k
	if root < 0 {
		return 0, 0, 0, false
	}
	far = (-b - math.Sqrt(root)) / a
	along = c.at[1] + far*r[1]
	return math.Atan2(x+far*r[0], z+far*r[2]), along, far, far > 0
}

// hides reports whether the bottle stands between the camera and the table's place at a pixel.
func (f *flask) hides(c *camera, p point) bool {
	_, along, _, ok := f.meets(c, p)
	top, foot := f.ends()
	return ok && along > top-2 && along < foot+2
}

// outline is the hull of a piece of the bottle in the photo.
func (f *flask) outline(c *camera, r, from, to float64) path {
	var all path
	for i := range 48 {
		for _, v := range []float64{from, to} {
			all = append(all, c.project(f.at(r, 2*math.Pi*float64(i)/48, v)))
		}
	}
	return hull(all)
}

// paint paints the bottle without its label, and its shadow on the table.
func (f *flask) paint(pic *picture, c *camera) {
	half := f.long / 2
	lie := sheet{lying(0, 0, 0, 0), c, pic}
	soft := 0.12 * f.radius * c.focal / c.at[2]
	pic.shade(lie.through(box(-1.1*f.radius, -half, 2.2*f.radius, f.long)), 2*soft, 0.45)
	shift := 0.5 * f.radius * math.Sin(-f.lamp)
	pic.shade(lie.through(box(shift-0.9*f.radius, -half, 1.8*f.radius, f.long)), soft, 0.4)
	from, to := half, half+f.cap
	if f.capEnd < 0 {
		from, to = -half-f.cap, -half
	}
	pic.fill(ink{rgb: f.lid, grain: 0.01}, f.outline(c, f.neck, from, to))
	for k := range 24 { // ribs of the cap
		a := f.facing + (float64(k)-11.5)*0.12
		rib := path{
			c.project(f.at(f.neck, a, from)), c.project(f.at(f.neck, a+0.04, from)),
			c.project(f.at(f.neck, a+0.04, to)), c.project(f.at(f.neck, a, to)),
		}
		pic.fill(ink{rgb: f.lid.times(0.6), see: 0.4}, rib)
	}
	pic.fill(ink{rgb: f.body, grain: 0.01}, f.outline(c, f.radius, -half, half))
}

// light shades the side of the bottle by its curve.
func (f *flask) light(pic *picture, c *camera) {
	top, foot := f.ends()
	whole := f.outline(c, f.radius, top, foot)
	b := pic.bounds([]path{whole})
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			angle, along, _, ok := f.meets(c, point{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			if !ok || along < top || along > foot {
				continue
			}
			k := float32(f.fill + (1-f.fill)*math.Max(0, math.Cos(angle-f.lamp)))
			away := (angle - f.lamp - 0.9) / 0.05
			add := float32(f.shine * math.Exp(-away*away/2))
			i := 3 * (y*pic.w + x)
			for ch := range 3 {
				pic.pix[i+ch] = pic.pix[i+ch]*k + add
			}
		}
	}
}

// hull is the convex hull (Andrew's monotone chain).
func hull(all path) path {
	sorted := append(path(nil), all...)
	sortPoints(sorted)
	var out path
	for range 2 {
		floor := len(out)
		for _, p := range sorted {
			for len(out) >= floor+2 && turnOf(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		out = out[:len(out)-1]
		for i, j := 0, len(sorted)-1; i < j; i, j = i+1, j-1 {
			sorted[i], sorted[j] = sorted[j], sorted[i]
		}
	}
	return out
}

func turnOf(a, b, c point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
