package photo

import (
	"image"
	"math"
	"runtime"
	"sync"

	"padband/colorimetry"
	"padband/colorimetry/photo/baseline"
	"padband/colorimetry/photo/profile"
)

// maxView caps the pixels of a picture that is made for people.
const maxView = 24_000_000

// Image returns the part of the upright photo within area as an 8-bit sRGB
// picture. It is for people to look at, never for measuring. The area is cut to
// the photo. An area that misses the photo gives an empty picture, and so does
// one that lies in none of the regions that [Decode] was asked for: what was not
// read is never shown. Areas above 24 megapixels are thinned to every second,
// third, ... pixel. Colours beyond sRGB are clipped; transparency is shown over
// white.
func (p *Photo) Image(area image.Rectangle) image.Image {
	area = area.Intersect(image.Rect(0, 0, p.Width, p.Height))
	if p.Wants(area) != nil {
		area = image.Rectangle{}
	}
	step := 1
	for area.Dx()/step*(area.Dy()/step) > maxView {
		step++
	}
	w, h := (area.Dx()+step-1)/step, (area.Dy()+step-1)/step
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	inBands(h, func(first, last int) { p.fill(out, area.Min, step, first, last) })
	return out
}

// inBands shares out the rows of a picture to the processors.
func inBands(rows int, fill func(first, last int)) {
	bands := min(runtime.GOMAXPROCS(0), max(1, rows/64))
	var all sync.WaitGroup
	for k := range bands {
		all.Go(func() { fill(k*rows/bands, (k+1)*rows/bands) })
	}
	all.Wait()
}

// Glance reads a photo for people to look at. It returns what [Decode] tells of the
// photo, and a picture of all of it as [Photo.Image] makes them: of the photo's size
// or smaller, but at least width pixels wide where the photo is. An ordinary JPEG
// gives a half, a third or a quarter of its size without being decoded whole; then whole is
// false, and p is like a photo decoded for no region. The errors are those of Decode.
func Glance(data []byte, limits Limits, width int) (p *Photo, picture image.Image, whole bool, err error) {
	limits = limits.withDefaults()
	h, err := readHeader(data, limits)
	if err != nil {
		return nil, nil, false, err
	}
	if h.format == formatJPEG {
		sum := digest(data)
		p = of(h)
		if small := p.smaller(data, h, width); small != nil {
			p.read, p.want = func(int, int) pixel { return pixel{} }, []colorimetry.Region{}
			p.Facts.SHA256 = <-sum
			return p, small, false, nil
		}
	}
	if p, err = Decode(data, limits); err != nil {
		return nil, nil, false, err
	}
	return p, p.Image(image.Rect(0, 0, p.Width, p.Height)), true, nil
}

// smaller is a picture of the photo as small as its width allows; nil where there is
// no such.
func (p *Photo) smaller(data []byte, h *header, width int) image.Image {
	for side := 1; side <= 2; side++ {
		if p.Width<<side/8 < width {
			continue
		}
		m, ok := baseline.Smaller(data, side)
		if !ok {
			return nil
		}
		v := tilesView{Photo: *p, tiles: m, matrix: &h.matrix}
		v.turn = turned(p.Facts.Orientation, m.Width, m.Height)
		v.Width, v.Height = m.Width, m.Height
		if swaps(p.Facts.Orientation) {
			v.Width, v.Height = m.Height, m.Width
		}
		v.thirds = side == 2 && 2*(v.Width/3) >= width
		return v.image()
	}
	return nil
}

// tilesView is a photo's smaller picture while it is made for people.
type tilesView struct {
	Photo
	tiles  *baseline.Picture
	matrix *lumaMatrix
	thirds bool // of three pixels, across and down, two are made
}

// image is all of it, upright.
func (t *tilesView) image() image.Image {
	w, h := t.Width, t.Height
	if t.thirds {
		w, h = 2*(w/3), 2*(h/3)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	inBands(h, func(first, last int) {
		var known recentCodes
		for v := first; v < last; v++ {
			row := out.Pix[v*out.Stride:]
			for u := range w {
				*(*[4]uint8)(row[4*u:]) = known.codes(t, t.at(u, v))
			}
		}
	})
	return out
}

// at is a pixel of the picture as luma, blue and red difference, a byte each. Where
// three pixels become two, its luma is the mean of the one and a half that it covers
// across and down; eyes do not see so fine a change of colour.
func (t *tilesView) at(u, v int) uint32 {
	if !t.thirds {
		luma, cb, cr := t.tiles.Samples(t.turn.stored(u, v))
		return uint32(luma)<<16 | uint32(cb)<<8 | uint32(cr)
	}
	// the one that it covers whole, and the middle one, of which it covers half
	u0, v0 := u/2*3+u%2*2, v/2*3+v%2*2
	u1, v1 := u/2*3+1, v/2*3+1
	luma, cb, cr := t.tiles.Samples(t.turn.stored(u0, v0))
	beside := t.tiles.Luma(t.turn.stored(u1, v0))
	below := t.tiles.Luma(t.turn.stored(u0, v1))
	across := t.tiles.Luma(t.turn.stored(u1, v1))
	mean := (4*uint32(luma) + 2*uint32(beside) + 2*uint32(below) + uint32(across) + 4) / 9
	return mean<<16 | uint32(cb)<<8 | uint32(cr)
}

// recentCodes remembers the pixels converted last: those near one another repeat.
type recentCodes [1 << 13]struct {
	of    uint32 // and one, so that nothing is not black
	codes [4]uint8
}

// codes are a pixel's in the picture.
func (r *recentCodes) codes(t *tilesView, of uint32) [4]uint8 {
	e := &r[of*0x9e3779b1>>(32-13)]
	if e.of != of+1 {
		q := t.matrix.pixel(uint8(of>>16), uint8(of>>8), uint8(of))
		if t.tiles.Grey {
			q = grey((float64(of>>16) - t.matrix.zero) * t.matrix.gain)
		}
		e.of, e.codes = of+1, t.Photo.codes(q)
	}
	return e.codes
}

// fill writes the rows from one to another of a picture that begins at a place
// of the photo and takes every so many pixels.
func (p *Photo) fill(out *image.RGBA, from image.Point, step, first, last int) {
	var known recent
	for v := first; v < last; v++ {
		row := out.Pix[v*out.Stride:]
		for u := range out.Rect.Dx() {
			x, y := p.turn.stored(from.X+u*step, from.Y+v*step)
			*(*[4]uint8)(row[4*u:]) = known.codes(p, p.read(x, y))
		}
	}
}

// recent remembers the pixels that were converted last, because pixels near one
// another repeat.
type recent [1 << 12]struct {
	of    pixel
	codes [4]uint8
	known bool
}

// codes are the picture's codes for a stored pixel.
func (r *recent) codes(p *Photo, q pixel) [4]uint8 {
	mix := math.Float64bits(q.r)*0x9e3779b97f4a7c15 ^ math.Float64bits(q.g)*0xc2b2ae3d27d4eb4f ^ math.Float64bits(q.b)*0x165667b19e3779f9
	e := &r[mix>>52]
	if !e.known || e.of != q {
		e.of, e.codes, e.known = q, p.codes(q), true
	}
	return e.codes
}

func (p *Photo) codes(q pixel) [4]uint8 {
	if p.colour != profile.SRGB() {
		q = p.inSRGB(q)
	}
	return [4]uint8{over(q.r, q.a), over(q.g, q.a), over(q.b, q.a), 255}
}

// inSRGB converts a pixel's colour to coded sRGB, clipped.
func (p *Photo) inSRGB(q pixel) pixel {
	linear := colorimetry.SRGB.FromXYZ.Apply(p.colour.XYZ(q.r, q.g, q.b))
	return pixel{coded(linear.X), coded(linear.Y), coded(linear.Z), q.a}
}

// unit keeps a channel within 0 to 1.
func unit(v float64) float64 { return max(0, min(1, v)) }

// over lays a channel over white by its alpha and gives its 8-bit code.
func over(v, a float64) uint8 { return uint8(255*(unit(v)*a+1-a) + 0.5) }

// codedSteps is the number of steps in the table srgbCodes. Where the table is
// steepest, near black, one step is 12.92 x 255 / 65536 = 0.05 of an 8-bit code.
const codedSteps = 1 << 16

var srgbCodes = sync.OnceValue(func() *[codedSteps + 1]float32 {
	var t [codedSteps + 1]float32
	for i := range t {
		t[i] = float32(colorimetry.SRGB.Encode(float64(i) / codedSteps))
	}
	return &t
})

// coded is sRGB's code, 0 to 1, of linear light.
func coded(v float64) float64 { return float64(srgbCodes()[int(unit(v)*codedSteps+0.5)]) }
