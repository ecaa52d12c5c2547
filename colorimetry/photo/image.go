package photo

import (
	"encoding/binary"
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
// gives a half, three eighths or a quarter of its size without being decoded whole; then whole is
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
	for samples := 2; samples <= 4; samples++ {
		if p.Width*samples/8 < width {
			continue
		}
		m, ok := baseline.Smaller(data, samples)
		if !ok {
			return nil
		}
		v := smallView{Photo: *p, small: m, matrix: &h.matrix}
		v.turn = turned(p.Facts.Orientation, m.Width, m.Height)
		v.Width, v.Height = m.Width, m.Height
		if swaps(p.Facts.Orientation) {
			v.Width, v.Height = m.Height, m.Width
		}
		return v.image()
	}
	return nil
}

// smallView is a photo's smaller picture while it is made for people.
type smallView struct {
	Photo
	small  *baseline.Small
	matrix *lumaMatrix
}

// image is all of it, upright.
func (t *smallView) image() image.Image {
	out := image.NewRGBA(image.Rect(0, 0, t.Width, t.Height))
	inBands(t.Height, func(first, last int) {
		known := new(knownCodes)
		for v := first; v < last; v++ {
			row := out.Pix[v*out.Stride:]
			for u := range t.Width {
				luma, cb, cr := t.small.Samples(t.turn.stored(u, v))
				binary.NativeEndian.PutUint32(row[4*u:], known.codes(t, luma, cb, cr))
			}
		}
	})
	return out
}

// knownCodes remembers the codes of pixels that were converted, since most come again.
// It holds 4 bytes for each luma of each pair of blue and red differences, whose last
// bit is left out: eyes do not see so fine a change of colour. What no pixel needs
// of it is never touched, and takes no memory. 0 is not known; alpha is always 255.
type knownCodes [1 << 22]uint32

// codes are a pixel's in the picture.
func (k *knownCodes) codes(t *smallView, luma, cb, cr uint8) uint32 {
	e := &k[int(cb>>1)<<15|int(cr>>1)<<8|int(luma)]
	if *e == 0 {
		q := t.matrix.pixel(luma, cb&^1, cr&^1)
		if t.small.Grey {
			q = grey((float64(luma) - t.matrix.zero) * t.matrix.gain)
		}
		c := t.Photo.codes(q)
		*e = binary.NativeEndian.Uint32(c[:])
	}
	return *e
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
