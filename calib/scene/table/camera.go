package table

import "math"

// vec is a place or a direction: millimetres, x to the right and y down on
// the table, z up from it.
type vec [3]float64

func (a vec) plus(k float64, b vec) vec { return vec{a[0] + k*b[0], a[1] + k*b[1], a[2] + k*b[2]} }
func (a vec) dot(b vec) float64         { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// about turns a vector about a unit axis (Rodrigues' formula).
func (a vec) about(axis vec, turn float64) vec {
	sin, cos := math.Sincos(turn)
	return vec{}.plus(cos, a).plus(sin, axis.cross(a)).plus((1-cos)*axis.dot(a), axis)
}

// camera is a pinhole.
type camera struct {
	at, right, down, ahead vec
	focal                  float64 // pixels
	w, h                   float64
}

// newCamera looks down on the table, tilted towards a direction of the table
// and rolled about its own axis.
func newCamera(w, h int, focal, tilt, towards, roll float64) *camera {
	c := &camera{right: vec{1, 0, 0}, down: vec{0, 1, 0}, ahead: vec{0, 0, -1}, focal: focal, w: float64(w), h: float64(h)}
	for _, v := range []*vec{&c.right, &c.down, &c.ahead} {
		*v = v.about(vec{math.Cos(towards), math.Sin(towards), 0}, tilt)
	}
	c.right, c.down = c.right.about(c.ahead, roll), c.down.about(c.ahead, roll)
	return c
}

// project is where a place is seen.
func (c *camera) project(v vec) point {
	v = v.plus(-1, c.at)
	z := v.dot(c.ahead)
	return point{X: c.w/2 + c.focal*v.dot(c.right)/z, Y: c.h/2 + c.focal*v.dot(c.down)/z}
}

// ray is the direction in which the camera sees a pixel; its length is no matter.
func (c *camera) ray(x, y float64) vec {
	return c.ahead.plus((x-c.w/2)/c.focal, c.right).plus((y-c.h/2)/c.focal, c.down)
}

// onTable is the place of the table's plane that a pixel shows.
func (c *camera) onTable(x, y float64) point {
	r := c.ray(x, y)
	k := -c.at[2] / r[2]
	return point{X: c.at[0] + k*r[0], Y: c.at[1] + k*r[1]}
}

// frame moves the camera until all places lie within a share of the picture
// and touch one of its sides, then shifts it by shares x, y (-1 to 1) of the room that is left.
func (c *camera) frame(places []vec, share, x, y float64) {
	var mid vec
	for _, p := range places {
		mid = mid.plus(1/float64(len(places)), p)
	}
	far := 500.0
	c.at = mid.plus(-far, c.ahead)
	for range 8 {
		low, high := c.seen(places)
		grow := math.Max((high.X-low.X)/(share*c.w), (high.Y-low.Y)/(share*c.h))
		z := mid.plus(-1, c.at).dot(c.ahead)
		c.at = c.at.plus(z*(1-grow), c.ahead)
		low, high = c.seen(places)
		z = mid.plus(-1, c.at).dot(c.ahead)
		c.at = c.at.plus(((low.X+high.X)/2-c.w/2)*z/c.focal, c.right).plus(((low.Y+high.Y)/2-c.h/2)*z/c.focal, c.down)
	}
	low, high := c.seen(places)
	z := mid.plus(-1, c.at).dot(c.ahead)
	room := func(side, size float64) float64 { return math.Max(0, 0.97*side-size) / 2 }
	c.at = c.at.plus(x*room(c.w, high.X-low.X)*z/c.focal, c.right).plus(y*room(c.h, high.Y-low.Y)*z/c.focal, c.down)
}

// seen is the box of the photo that holds the places.
func (c *camera) seen(places []vec) (low, high point) {
	low, high = point{X: math.Inf(1), Y: math.Inf(1)}, point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range places {
		q := c.project(p)
		low.X, low.Y = math.Min(low.X, q.X), math.Min(low.Y, q.Y)
		high.X, high.Y = math.Max(high.X, q.X), math.Max(high.Y, q.Y)
	}
	return low, high
}

// surface is where a flat drawing lies in the world.
type surface struct {
	place func(point) vec
	step  float64 // sides longer than this are divided, as the surface is curved; 0: straight
}

// lying is a surface on the table, turned, moved and lifted.
func lying(turn, x, y, z float64) surface {
	sin, cos := math.Sincos(turn)
	return surface{place: func(q point) vec { return vec{x + q.X*cos - q.Y*sin, y + q.X*sin + q.Y*cos, z} }}
}

// sheet is a surface seen by a camera: what is painted on it comes into the photo.
type sheet struct {
	surface
	*camera
	*picture
}

// through is where an outline is seen.
func (s sheet) through(o path) path {
	if s.step > 0 {
		o = o.finer(s.step)
	}
	out := make(path, len(o))
	for i, q := range o {
		out[i] = s.project(s.place(q))
	}
	return out
}

// paint fills a shape of the sheet.
func (s sheet) paint(with ink, shape ...path) {
	seen := make([]path, len(shape))
	for i, o := range shape {
		seen[i] = s.through(o)
	}
	s.fill(with, seen...)
}

// print writes a text: aligned -1 from x on, 0 about it, 1 up to it; y is the base line.
func (s sheet) print(with ink, f face, text string, x, y, high float64, aligned int) {
	x -= high * f.width(text) * float64(aligned+1) / 2
	for _, shape := range f.write(text, x, y, high) {
		s.paint(with, shape...)
	}
}
