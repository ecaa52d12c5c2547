package page

import (
	"image"
	"math"
)

// frame is a part of a picture, in its pixels.
type frame struct{ x, y, w, h float64 }

// scaled is part of a picture made so large. Made smaller, each pixel is the
// mean of the area it stands for, the part taken to whole pixels; made larger,
// the photo's own pixels are shown where they are, and none invented.
func scaled(m *image.RGBA, part frame, width, height int) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	whole := part.pixels(m.Rect)
	if width > whole.Dx() || height > whole.Dy() {
		enlarge(out, m, part)
		return out
	}
	b := newBox(out, whole.Dx(), whole.Dy())
	for y := whole.Min.Y; y < whole.Max.Y; y++ {
		o := m.PixOffset(whole.Min.X, y)
		b.row(m.Pix[o : o+4*whole.Dx()])
	}
	return out
}

// pixels is the part to whole pixels, at least one, within the picture.
func (f frame) pixels(in image.Rectangle) image.Rectangle {
	x, y := min(int(math.Round(f.x)), in.Max.X-1), min(int(math.Round(f.y)), in.Max.Y-1)
	return image.Rect(x, y, max(x+1, int(math.Round(f.x+f.w))), max(y+1, int(math.Round(f.y+f.h)))).Intersect(in)
}

// enlarge shows, at each pixel's middle, the pixel of the picture that is there.
func enlarge(out, m *image.RGBA, part frame) {
	kx, ky := part.w/float64(out.Rect.Dx()), part.h/float64(out.Rect.Dy())
	for v := range out.Rect.Dy() {
		y := min(int(part.y+(float64(v)+0.5)*ky), m.Rect.Max.Y-1)
		for u := range out.Rect.Dx() {
			x := min(int(part.x+(float64(u)+0.5)*kx), m.Rect.Max.X-1)
			copy(out.Pix[out.PixOffset(u, v):], m.Pix[m.PixOffset(x, y):][:4])
		}
	}
}

// box averages a picture row by row, with no more of it in memory than a row.
type box struct {
	out      *image.RGBA
	w, h     int // of what comes
	across   []float64
	sums     []float64 // of the row being filled, three channels a pixel
	room     float64   // what that row still takes, in rows of what comes
	y        int
	kx, size float64 // how much comes for one pixel: across, and in all
}

func newBox(out *image.RGBA, w, h int) *box {
	n := 3 * out.Rect.Dx()
	b := &box{out: out, w: w, h: h, across: make([]float64, n), sums: make([]float64, n)}
	b.kx, b.room = float64(w)/float64(out.Rect.Dx()), float64(h)/float64(out.Rect.Dy())
	b.size = b.kx * b.room
	return b
}

// row takes the next row, four bytes a pixel.
func (b *box) row(pix []byte) {
	b.squeeze(pix)
	for left := 1.0; left > 0 && b.y < b.out.Rect.Dy(); {
		take := min(left, b.room)
		for i, v := range b.across {
			b.sums[i] += take * v
		}
		left, b.room = left-take, b.room-take
		if b.room < 1e-6 {
			b.flush()
		}
	}
}

// squeeze sums a row across: each pixel of what comes is shared between the one
// or two it lies in.
func (b *box) squeeze(pix []byte) {
	clear(b.across)
	last := b.out.Rect.Dx() - 1
	i, room := 0, b.kx
	for x := range b.w {
		first := min(1, room)
		for c := range 3 {
			b.across[3*i+c] += first * float64(pix[4*x+c])
		}
		room -= first
		if room < 1e-6 && i < last {
			i, room = i+1, b.kx-(1-first)
			for c := range 3 {
				b.across[3*i+c] += (1 - first) * float64(pix[4*x+c])
			}
		}
	}
}

// flush writes the row that is full.
func (b *box) flush() {
	row := b.out.Pix[b.y*b.out.Stride:]
	for i, v := range b.sums {
		row[i/3*4+i%3] = uint8(v/b.size + 0.5)
	}
	for x := range b.out.Rect.Dx() {
		row[4*x+3] = 255
	}
	clear(b.sums)
	b.y, b.room = b.y+1, float64(b.h)/float64(b.out.Rect.Dy())
}
