package scene

import "math"

// picture is a photo in linear light: three planes.
type picture struct {
	w, h  int
	plane [3][]float32
}

func newPicture(w, h int) *picture {
	p := &picture{w: w, h: h}
	for i := range p.plane {
		p.plane[i] = make([]float32, w*h)
	}
	return p
}

// finish is what lens and sensor do: stray light, blur, noise, clipping, sharpening.
func (c *Config) finish(p *picture) {
	k := &c.Camera
	d := newDice(c.Seed, streamPixels)
	for i := range p.plane {
		addFlare(p.plane[i], float32(k.Flare))
		if k.Blur > 1 {
			p.blur(i, k.Blur)
		}
		addNoise(p.plane[i], k.Read, k.Shot, d.IntN(noiseSize))
		if k.Blur > 0 {
			p.blur(i, math.Min(k.Blur, 0.6))
		}
		if k.Sharpen > 0 {
			p.sharpen(i, float32(k.Sharpen))
		}
	}
}

// addFlare adds a share of the mean.
func addFlare(v []float32, share float32) {
	if share == 0 {
		return
	}
	sum := 0.0
	for i := 0; i < len(v); i += 16 {
		sum += float64(v[i])
	}
	add := share * float32(sum/float64(len(v)/16))
	for i := range v {
		v[i] += add
	}
}

// addNoise adds read and shot noise, from a table started at a drawn place, and clips at full scale.
func addNoise(v []float32, read, shot float64, at int) {
	if read == 0 && shot == 0 {
		return
	}
	table := noises()
	r2, s := float32(read*read), float32(shot)
	for i, x := range v {
		variance := r2 + s*max(x, 0)
		// The stride is odd and grows, so that no two rows meet the table alike.
		v[i] = min(1, x+float32(math.Sqrt(float64(variance)))*table[(at+i+i>>17*7919)&(noiseSize-1)])
	}
}

// blur smooths a plane by a Gaussian (a short kernel, or three boxes when wide).
func (p *picture) blur(i int, sd float64) {
	if sd < 1.2 {
		k := float32(math.Exp(-1 / (2 * sd * sd)))
		side := k / (1 + 2*k)
		p.three(i, side)
		return
	}
	// Three boxes of half-width r have the variance 3 ((2r+1)^2 - 1) / 12.
	r := max(1, int(math.Round((math.Sqrt(4*sd*sd+1)-1)/2)))
	for range 3 {
		p.boxes(i, r)
	}
}

// three smooths with the kernel side, 1-2 side, side both ways.
func (p *picture) three(i int, side float32) {
	v := p.plane[i]
	mid := 1 - 2*side
	for y := range p.h {
		row := v[y*p.w : (y+1)*p.w]
		last := row[0]
		for x := 0; x+1 < len(row); x++ {
			now := row[x]
			row[x] = mid*now + side*(last+row[x+1])
			last = now
		}
	}
	last := append([]float32(nil), v[:p.w]...)
	for y := 0; y+1 < p.h; y++ {
		row, next := v[y*p.w:(y+1)*p.w], v[(y+1)*p.w:(y+2)*p.w]
		for x, now := range row {
			row[x] = mid*now + side*(last[x]+next[x])
			last[x] = now
		}
	}
}

// boxes averages 2r+1 neighbours both ways.
func (p *picture) boxes(i, r int) {
	v := p.plane[i]
	line := make([]float32, max(p.w, p.h))
	for y := range p.h {
		runningMean(v[y*p.w:], line[:p.w], 1, r)
	}
	for x := range p.w {
		runningMean(v[x:], line[:p.h], p.w, r)
	}
}

// runningMean replaces every stride-th value by the mean of its neighbours; line is room for one line.
func runningMean(v, line []float32, stride, r int) {
	n := len(line)
	for k := range line {
		line[k] = v[k*stride]
	}
	sum := float32(0)
	for k := -r; k <= r; k++ {
		sum += line[min(n-1, max(0, k))]
	}
	for k := range line {
		v[k*stride] = sum / float32(2*r+1)
		sum += line[min(n-1, k+r+1)] - line[max(0, k-r)]
	}
}

// sharpen takes away a share of the blurred picture.
func (p *picture) sharpen(i int, amount float32) {
	old := append([]float32(nil), p.plane[i]...)
	p.three(i, 0.25)
	v := p.plane[i]
	for k := range v {
		v[k] = old[k] + amount*(old[k]-v[k])
	}
}
