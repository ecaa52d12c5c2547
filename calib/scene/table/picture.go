package table

import (
	"image"
	"math"

	"golang.org/x/image/vector"

	"padband/colorimetry"
)

// point is a place in the photo, in pixels, or on a sheet, in millimetres.
type point = colorimetry.Point

// path is a closed outline.
type path []point

// picture is a photo while it is painted: colours in linear sRGB, row by row.
type picture struct {
	w, h   int
	pix    []float32
	raster vector.Rasterizer
	mask   image.Alpha
}

func newPicture(w, h int) *picture { return &picture{w: w, h: h, pix: make([]float32, 3*w*h)} }

// ink is what a shape is painted with.
type ink struct {
	rgb
	see   float64                // share of what is below that shines through
	grain float64                // standard deviation of a pixel's brightness, relative
	at    func(x, y float64) rgb // colour by the place in the photo; nil: even
}

// bounds is the box of pixels that holds the outlines, cut to the photo.
func (p *picture) bounds(shape []path) image.Rectangle {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, outline := range shape {
		for _, q := range outline {
			x0, y0, x1, y1 = math.Min(x0, q.X), math.Min(y0, q.Y), math.Max(x1, q.X), math.Max(y1, q.Y)
		}
	}
	w, h := float64(p.w), float64(p.h)
	x0, y0, x1, y1 = math.Max(x0, 0), math.Max(y0, 0), math.Min(x1, w), math.Min(y1, h)
	if !(x0 < x1 && y0 < y1) {
		return image.Rectangle{}
	}
	return image.Rect(int(x0), int(y0), min(p.w, int(x1)+1), min(p.h, int(y1)+1))
}

// cover works out how much of each pixel of the box the shape covers.
func (p *picture) cover(shape []path, box image.Rectangle, scale float64) *image.Alpha {
	w, h := box.Dx(), box.Dy()
	p.raster.Reset(w, h)
	for _, outline := range shape {
		for i, q := range cut(outline, box, scale) {
			x, y := float32(q.X/scale-float64(box.Min.X)), float32(q.Y/scale-float64(box.Min.Y))
			if i == 0 {
				p.raster.MoveTo(x, y)
			} else {
				p.raster.LineTo(x, y)
			}
		}
		p.raster.ClosePath()
	}
	if cap(p.mask.Pix) < w*h {
		p.mask.Pix = make([]uint8, w*h)
	}
	p.mask = image.Alpha{Pix: p.mask.Pix[:w*h], Stride: w, Rect: image.Rect(0, 0, w, h)}
	clear(p.mask.Pix)
	p.raster.Draw(&p.mask, p.mask.Rect, image.Opaque, image.Point{})
	return &p.mask
}

// fill paints a shape.
func (p *picture) fill(with ink, shape ...path) {
	box := p.bounds(shape)
	if box.Empty() {
		return
	}
	mask := p.cover(shape, box, 1)
	table, base := noises(), uint32(box.Min.X*7919+box.Min.Y*104729)
	c := with.rgb
	for y := box.Min.Y; y < box.Max.Y; y++ {
		row := mask.Pix[(y-box.Min.Y)*mask.Stride:]
		for x := box.Min.X; x < box.Max.X; x++ {
			a := row[x-box.Min.X]
			if a == 0 {
				continue
			}
			if with.at != nil {
				c = with.at(float64(x)+0.5, float64(y)+0.5)
			}
			share, k := float32(float64(a)/255*(1-with.see)), float32(1)
			if with.grain > 0 {
				k += float32(with.grain) * table[(base+uint32(y)*16807+uint32(x)*3)%noiseSize]
			}
			i := 3 * (y*p.w + x)
			for ch := range 3 {
				p.pix[i+ch] += share * (float32(c[ch])*k - p.pix[i+ch])
			}
		}
	}
}

// shade darkens what lies under a shape with soft edges.
func (p *picture) shade(shape path, soft, depth float64) {
	const coarse = 4
	box := p.bounds([]path{shape})
	if box.Empty() {
		return
	}
	r := max(1, int(soft/coarse))
	box = image.Rect(box.Min.X/coarse-2*r-1, box.Min.Y/coarse-2*r-1, box.Max.X/coarse+2*r+2, box.Max.Y/coarse+2*r+2)
	mask := p.cover([]path{shape}, box, coarse)
	for range 2 {
		smooth(mask.Pix, box.Dx(), box.Dy(), r)
	}
	at := func(x, y int) float64 { return float64(mask.Pix[y*mask.Stride+x]) }
	whole := image.Rect(box.Min.X*coarse, box.Min.Y*coarse, (box.Max.X-1)*coarse, (box.Max.Y-1)*coarse).Intersect(image.Rect(0, 0, p.w, p.h))
	for y := whole.Min.Y; y < whole.Max.Y; y++ {
		v, fy := y/coarse-box.Min.Y, float64(y%coarse)/coarse
		for x := whole.Min.X; x < whole.Max.X; x++ {
			u, fx := x/coarse-box.Min.X, float64(x%coarse)/coarse
			if mask.Pix[v*mask.Stride+u]|mask.Pix[v*mask.Stride+u+1]|mask.Pix[(v+1)*mask.Stride+u]|mask.Pix[(v+1)*mask.Stride+u+1] == 0 {
				continue
			}
			dark := (1-fy)*((1-fx)*at(u, v)+fx*at(u+1, v)) + fy*((1-fx)*at(u, v+1)+fx*at(u+1, v+1))
			k := float32(1 - depth*dark/255)
			i := 3 * (y*p.w + x)
			p.pix[i], p.pix[i+1], p.pix[i+2] = p.pix[i]*k, p.pix[i+1]*k, p.pix[i+2]*k
		}
	}
}

// smooth averages 2r+1 neighbours both ways.
func smooth(v []uint8, w, h, r int) {
	line := make([]int, max(w, h))
	run := func(start, stride, n int) {
		sum := 0
		for k := range n {
			line[k] = int(v[start+k*stride])
			if k <= r {
				sum += line[k]
			}
		}
		for k := range n {
			v[start+k*stride] = uint8(sum / (2*r + 1))
			if k+r+1 < n {
				sum += line[k+r+1]
			}
			if k-r >= 0 {
				sum -= line[k-r]
			}
		}
	}
	for y := range h {
		run(y*w, 1, w)
	}
	for x := range w {
		run(x, w, h)
	}
}

// cut keeps of an outline what lies in the box or near it: far corners would
// overflow the numbers of the rasterizer.
func cut(outline path, box image.Rectangle, scale float64) path {
	const margin = 8
	low := point{X: scale * float64(box.Min.X-margin), Y: scale * float64(box.Min.Y-margin)}
	high := point{X: scale * float64(box.Max.X+margin), Y: scale * float64(box.Max.Y+margin)}
	for side := range 4 {
		depth := func(q point) float64 {
			return [4]float64{q.X - low.X, q.Y - low.Y, high.X - q.X, high.Y - q.Y}[side]
		}
		outline = outline.half(depth)
	}
	return outline
}

// half keeps of an outline what lies where depth is not negative.
func (o path) half(depth func(point) float64) path {
	whole := true
	for _, q := range o {
		whole = whole && depth(q) >= 0
	}
	if whole {
		return o
	}
	var out path
	for i, b := range o {
		a := o[(i+len(o)-1)%len(o)]
		da, db := depth(a), depth(b)
		if (da < 0) != (db < 0) {
			f := da / (da - db)
			out = append(out, point{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)})
		}
		if db >= 0 {
			out = append(out, b)
		}
	}
	return out
}
