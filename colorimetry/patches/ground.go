package patches

import (
	"image"
	"image/draw"
	"math"

	"padband/colorimetry"
)

// Ground is a picture in CIELAB, as small as the search for patches needs it.
// Its points are those of the reduced picture.
type Ground struct {
	Width, Height int
	Scale         float64 // pixels of the picture it was made of, for one point
	lab           []point
	slope         []float32 // CIELAB units a point, of the steeper direction
}

// point is a colour, CIELAB at D50.
type point struct{ l, a, b float32 }

// Reduce makes the ground of an upright picture in sRGB; its longer side has at most
// so many points. A picture that is smaller keeps its size.
func Reduce(m image.Image, longest int) *Ground {
	b := m.Bounds()
	w, h := b.Dx(), b.Dy()
	if w < 1 || h < 1 || longest < 1 {
		return &Ground{Scale: 1}
	}
	scale := max(1, float64(max(w, h))/float64(longest))
	g := &Ground{Width: max(1, int(float64(w)/scale)), Height: max(1, int(float64(h)/scale)), Scale: scale}
	g.lab = make([]point, g.Width*g.Height)
	rgba, ok := m.(*image.RGBA)
	if !ok {
		rgba = image.NewRGBA(image.Rect(0, 0, w, h))
		draw.Draw(rgba, rgba.Rect, m, b.Min, draw.Src)
	}
	columns := make([][2]int, g.Width)
	for x := range columns {
		columns[x][0], columns[x][1] = span(x, g.Scale, w)
	}
	for y := range g.Height {
		g.row(rgba, y, columns)
	}
	g.slopes()
	return g
}

// row makes one row: every point is the mean, in linear light, of the pixels it stands for.
func (g *Ground) row(m *image.RGBA, y int, columns [][2]int) {
	top, bottom := span(y, g.Scale, m.Rect.Dy())
	for x, c := range columns {
		left, right := c[0], c[1]
		var r, gr, b float32
		for j := top; j < bottom; j++ {
			row := m.Pix[j*m.Stride+4*left : j*m.Stride+4*right]
			for k := 0; k+3 < len(row); k += 4 {
				r, gr, b = r+linear[row[k]], gr+linear[row[k+1]], b+linear[row[k+2]]
			}
		}
		n := float32((bottom - top) * (right - left))
		g.lab[y*g.Width+x] = toLab(r/n, gr/n, b/n)
	}
}

// span are the pixels that a point stands for, one at least.
func span(i int, scale float64, n int) (from, to int) {
	from = min(int(float64(i)*scale), n-1)
	return from, max(from+1, min(int(float64(i+1)*scale), n))
}

// curvePoints is how finely the curve of CIELAB is put in a table.
const curvePoints = 4096

var (
	linear [256]float32             // of sRGB
	curve  [curvePoints + 2]float32 // of CIELAB, over 0 to 1
	toXYZ  [3][3]float32            // of linear sRGB, relative to the white of D50
)

func init() {
	for i := range linear {
		v := float64(i) / 255
		if v <= 0.04045 {
			linear[i] = float32(v / 12.92)
		} else {
			linear[i] = float32(math.Pow((v+0.055)/1.055, 2.4))
		}
	}
	for i := range curve {
		t := float64(i) / curvePoints
		if t > 216.0/24389 {
			curve[i] = float32(math.Cbrt(t))
		} else {
			curve[i] = float32((24389.0/27*t + 16) / 116)
		}
	}
	for k, c := range [3]colorimetry.RGB{{R: 1}, {G: 1}, {B: 1}} {
		v := colorimetry.SRGB.XYZ(c)
		toXYZ[0][k], toXYZ[1][k], toXYZ[2][k] = float32(v.X/colorimetry.D50.X), float32(v.Y/colorimetry.D50.Y), float32(v.Z/colorimetry.D50.Z)
	}
}

func toLab(r, g, b float32) point {
	f := [3]float32{}
	for k, m := range toXYZ {
		t := max(0, min(1, m[0]*r+m[1]*g+m[2]*b)) * curvePoints
		i := int(t)
		f[k] = curve[i] + (t-float32(i))*(curve[i+1]-curve[i])
	}
	return point{116*f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])}
}

func (p point) minus(q point) point { return point{p.l - q.l, p.a - q.a, p.b - q.b} }
func (p point) square() float32     { return p.l*p.l + p.a*p.a + p.b*p.b }

// slopes measures how steeply the colour changes at every point: the larger of both
// directions, over two points.
func (g *Ground) slopes() {
	g.slope = make([]float32, len(g.lab))
	for y := range g.Height {
		up, down := max(0, y-1), min(g.Height-1, y+1)
		for x := range g.Width {
			left, right := max(0, x-1), min(g.Width-1, x+1)
			across := g.lab[y*g.Width+right].minus(g.lab[y*g.Width+left]).square()
			along := g.lab[down*g.Width+x].minus(g.lab[up*g.Width+x]).square()
			g.slope[y*g.Width+x] = float32(math.Sqrt(float64(max(across, along)))) / 2
		}
	}
}

// At is the colour of the point at a place of the ground, the nearest one within it.
func (g *Ground) At(at colorimetry.Point) colorimetry.Lab {
	x, y := max(0, min(int(at.X), g.Width-1)), max(0, min(int(at.Y), g.Height-1))
	p := g.lab[y*g.Width+x]
	return colorimetry.Lab{L: float64(p.l), A: float64(p.a), B: float64(p.b)}
}

// Light is L* at a place of the ground.
func (g *Ground) Light(at colorimetry.Point) float64 {
	x, y := max(0, min(int(at.X), g.Width-1)), max(0, min(int(at.Y), g.Height-1))
	return float64(g.lab[y*g.Width+x].l)
}

// Has reports whether a place lies on the ground.
func (g *Ground) Has(at colorimetry.Point) bool {
	return at.X >= 0 && at.Y >= 0 && at.X < float64(g.Width) && at.Y < float64(g.Height)
}

// Spread is how uneven the ground is within four corners: the root mean square of the
// distance to the mean colour, CIELAB units; 0 where no point lies within.
func (g *Ground) Spread(corners [4]colorimetry.Point) float64 {
	_, spread := g.Within(corners)
	return spread
}

// Within is the mean colour of the points within four corners, and their root mean
// square distance from it, CIELAB units. Corners that hold no point give the colour at
// their middle.
func (g *Ground) Within(corners [4]colorimetry.Point) (colorimetry.Lab, float64) {
	var n float64
	var sum, squares [3]float64
	g.each(corners, func(p point) {
		for i, v := range [3]float64{float64(p.l), float64(p.a), float64(p.b)} {
			sum[i] += v
			squares[i] += v * v
		}
		n++
	})
	if n == 0 {
		return g.At(middleOf(corners)), 0
	}
	variance := 0.0
	for i := range sum {
		sum[i] /= n
		variance += max(0, squares[i]/n-sum[i]*sum[i])
	}
	return colorimetry.Lab{L: sum[0], A: sum[1], B: sum[2]}, math.Sqrt(variance)
}

func middleOf(c [4]colorimetry.Point) colorimetry.Point {
	return colorimetry.Point{X: (c[0].X + c[1].X + c[2].X + c[3].X) / 4, Y: (c[0].Y + c[1].Y + c[2].Y + c[3].Y) / 4}
}

// each calls with every point of the ground whose middle lies within a convex figure.
func (g *Ground) each(c [4]colorimetry.Point, f func(point)) {
	top, bottom := c[0].Y, c[0].Y
	for _, p := range c {
		top, bottom = min(top, p.Y), max(bottom, p.Y)
	}
	for y := max(0, int(math.Floor(top))); y <= min(g.Height-1, int(bottom)); y++ {
		left, right := math.Inf(1), math.Inf(-1)
		at := float64(y) + 0.5
		for i, p := range c {
			q := c[(i+1)%4]
			if (p.Y > at) == (q.Y > at) {
				continue
			}
			x := p.X + (at-p.Y)*(q.X-p.X)/(q.Y-p.Y)
			left, right = min(left, x), max(right, x)
		}
		if left > right {
			continue
		}
		for x := max(0, int(math.Ceil(left-0.5))); x <= min(g.Width-1, int(math.Ceil(right-0.5))-1); x++ {
			f(g.lab[y*g.Width+x])
		}
	}
}

// Slope is how steeply the colour changes at a place of the ground, CIELAB units a point.
func (g *Ground) Slope(at colorimetry.Point) float64 {
	x, y := max(0, min(int(at.X), g.Width-1)), max(0, min(int(at.Y), g.Height-1))
	return float64(g.slope[y*g.Width+x])
}
