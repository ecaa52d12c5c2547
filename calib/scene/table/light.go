package table

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"sync"
)

// noiseSize is the length of the table of normal numbers, a prime.
const noiseSize = 131071

// noises is a table of normal numbers that is read from drawn places on.
var noises = sync.OnceValue(func() *[noiseSize]float32 {
	d, out := newDice(11, streamNoise), new([noiseSize]float32)
	for i := range out {
		out[i] = float32(d.NormFloat64())
	}
	return out
})

// light is how a photo is lit and taken.
type light struct {
	balance    rgb
	level      float64
	slope      [2]float64 // of the logarithm, over half the photo
	curve      [3]float64
	warm       [2]float64 // change of the balance over half the photo
	edge       float64    // angle of a shadow's edge
	at, soft   float64    // where it is, and how wide, in half photos
	depth      float64    // share of the light it takes
	read, shot float64
	blur       float64 // standard deviation, pixels
	quality    int
}

// drawLight draws lamp, shadow and camera.
func (d dice) drawLight() light {
	warm := d.near(0, 0.13)
	l := light{
		balance: rgb{math.Exp(warm), 1, math.Exp(-warm + d.near(0, 0.06))},
		level:   d.in(0.62, 1.02),
		slope:   [2]float64{d.near(0, 0.16), d.near(0, 0.16)},
		curve:   [3]float64{d.near(-0.05, 0.06), d.near(-0.05, 0.06), d.near(0, 0.05)},
		warm:    [2]float64{d.near(0, 0.02), d.near(0, 0.02)},
		read:    d.inLog(0.0005, 0.004), shot: d.inLog(0.00002, 0.0004),
		blur: d.inLog(0.45, 1.3), quality: d.one(70, 92),
	}
	if d.chance(0.3) {
		l.edge, l.at, l.soft, l.depth = d.in(0, 2*math.Pi), d.in(-0.8, 0.8), d.inLog(0.01, 0.4), d.in(0.15, 0.55)
	}
	return l
}

// glare mirrors a lamp in the photo where no patch is.
func (c *composition) glare(pic *picture, d dice) {
	at, long, wide := point{X: d.in(0, c.cam.w), Y: d.in(0, c.cam.h)}, d.in(15, 120), d.in(15, 60)
	for _, r := range c.regions() {
		if r.Polygon.centre().Distance(at) < 3.2*math.Max(long, wide) {
			return
		}
	}
	peak, turn := d.in(0.2, 1.2), d.in(0, math.Pi)
	sin, cos := math.Sincos(turn)
	reach := 3 * math.Max(long, wide)
	for y := max(0, int(at.Y-reach)); y < min(pic.h, int(at.Y+reach)); y++ {
		for x := max(0, int(at.X-reach)); x < min(pic.w, int(at.X+reach)); x++ {
			u, v := float64(x)-at.X, float64(y)-at.Y
			u, v = (u*cos+v*sin)/long, (v*cos-u*sin)/wide
			add := float32(peak * math.Exp(-(u*u+v*v)/2))
			for ch := range 3 {
				pic.pix[3*(y*pic.w+x)+ch] += add
			}
		}
	}
}

// over is the light at a place of the photo, from -1 to 1 each way.
func (l *light) over(x, y float64) (k, warm float64) {
	k = l.level * math.Exp(l.slope[0]*x+l.slope[1]*y+l.curve[0]*x*x+l.curve[1]*y*y+l.curve[2]*x*y)
	if l.depth > 0 {
		f := (x*math.Cos(l.edge) + y*math.Sin(l.edge) - l.at) / l.soft
		f = math.Max(0, math.Min(1, f/2+0.5))
		k *= 1 - l.depth*f*f*(3-2*f)
	}
	return k, l.warm[0]*x + l.warm[1]*y
}

// expose lights the picture and takes the photo.
func (p *picture) expose(l light, d dice) ([]byte, error) {
	const coarse = 8 // the light is worked out on a coarse grid
	cols, rows := p.w/coarse+2, p.h/coarse+2
	grid := make([][2]float32, cols*rows)
	for j := range rows {
		for i := range cols {
			k, warm := l.over(2*float64(i*coarse)/float64(p.w)-1, 2*float64(j*coarse)/float64(p.h)-1)
			grid[j*cols+i] = [2]float32{float32(k), float32(warm)}
		}
	}
	for y := range p.h {
		j, fy := y/coarse, float32(y%coarse)/coarse
		for x := range p.w {
			at, fx := j*cols+x/coarse, float32(x%coarse)/coarse
			a, b, c, e := grid[at], grid[at+1], grid[at+cols], grid[at+cols+1]
			k := (1-fy)*((1-fx)*a[0]+fx*b[0]) + fy*((1-fx)*c[0]+fx*e[0])
			warm := (1-fy)*((1-fx)*a[1]+fx*b[1]) + fy*((1-fx)*c[1]+fx*e[1])
			i := 3 * (y*p.w + x)
			p.pix[i] *= k * (1 + warm) * float32(l.balance[0])
			p.pix[i+1] *= k
			p.pix[i+2] *= k * (1 - warm) * float32(l.balance[2])
		}
	}
	p.blur(l.blur)
	return p.develop(l, d)
}

// blur smooths by a Gaussian.
func (p *picture) blur(sd float64) {
	r := int(math.Ceil(2.5 * sd))
	kernel, sum := make([]float32, 2*r+1), float32(0)
	for i := range kernel {
		k := float64(i - r)
		kernel[i] = float32(math.Exp(-k * k / (2 * sd * sd)))
		sum += kernel[i]
	}
	for i := range kernel {
		kernel[i] /= sum
	}
	line := make([]float32, 3*p.w)
	for y := range p.h {
		row := p.pix[3*y*p.w : 3*(y+1)*p.w]
		copy(line, row)
		for x := r; x < p.w-r; x++ {
			for ch := range 3 {
				v := float32(0)
				for i, k := range kernel {
					v += k * line[3*(x+i-r)+ch]
				}
				row[3*x+ch] = v
			}
		}
	}
	p.blurDown(kernel, r)
}

// blurDown smooths along the columns, all of a row at once.
func (p *picture) blurDown(kernel []float32, r int) {
	w := 3 * p.w
	keep := make([][]float32, 2*r+1)
	for y := range keep {
		keep[y] = append([]float32(nil), p.pix[y*w:(y+1)*w]...)
	}
	for y := r; y < p.h-r; y++ {
		row := p.pix[y*w : (y+1)*w]
		for x := range row {
			v := float32(0)
			for i, k := range kernel {
				v += k * keep[(y+i-r)%len(keep)][x]
			}
			row[x] = v
		}
		if next := y + r + 1; next < p.h {
			copy(keep[next%len(keep)], p.pix[next*w:(next+1)*w])
		}
	}
}

// levels is sRGB's curve from linear light in steps of 1/4095, IEC 61966-2-1.
var levels = sync.OnceValue(func() *[4096]uint8 {
	out := new([4096]uint8)
	for i := range out {
		v := float64(i) / 4095
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		out[i] = uint8(255*v + 0.5)
	}
	return out
})

// develop adds noise and writes the file.
func (p *picture) develop(l light, d dice) ([]byte, error) {
	out := image.NewRGBA(image.Rect(0, 0, p.w, p.h))
	table, curve := noises(), levels()
	at := uint32(d.IntN(noiseSize))
	read, shot := float32(l.read*l.read), float32(l.shot)
	for i := range p.w * p.h {
		for ch := range 3 {
			v := p.pix[3*i+ch]
			at += 1 + uint32(i>>10)&1
			if at >= noiseSize {
				at -= noiseSize
			}
			v += float32(math.Sqrt(float64(read+shot*max(v, 0)))) * table[at]
			out.Pix[4*i+ch] = curve[int(4095*min(1, max(0, v)))]
		}
		out.Pix[4*i+3] = 255
	}
	var file bytes.Buffer
	err := jpeg.Encode(&file, out, &jpeg.Options{Quality: l.quality})
	return file.Bytes(), err
}
