package photo

import (
	"image"
	"math"
	"runtime"
	"sync"

	"padband/colorimetry"
	"padband/colorimetry/photo/profile"
)

// maxView caps the pixels of a picture made for people.
const maxView = 24_000_000

// Image returns the part of the upright photo within area as an 8-bit sRGB
// picture for people to look at; never for measuring. The area is cut to the
// photo; what is outside is left off, and an area that misses the photo gives
// an empty picture, as does one in none of the regions that [Decode] was asked
// for: what was not read is never shown. Areas above 24 megapixels are thinned to
// every second, third, ... pixel. Colours beyond sRGB are clipped; transparency is
// shown over white.
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
	bands := min(runtime.GOMAXPROCS(0), max(1, h/64))
	var all sync.WaitGroup
	for k := range bands {
		all.Go(func() { p.fill(out, area.Min, step, k*h/bands, (k+1)*h/bands) })
	}
	all.Wait()
	return out
}

// fill writes the rows from one to another of a picture that begins at a place
// of the photo and takes every so many pixels.
func (p *Photo) fill(out *image.RGBA, from image.Point, step, first, last int) {
	direct := p.colour == profile.SRGB()
	for v := first; v < last; v++ {
		row := out.Pix[v*out.Stride:]
		for u := range out.Rect.Dx() {
			x, y := p.turn.stored(from.X+u*step, from.Y+v*step)
			q := p.read(x, y)
			if !direct {
				q = p.inSRGB(q)
			}
			row[4*u], row[4*u+1], row[4*u+2], row[4*u+3] = over(q.r, q.a), over(q.g, q.a), over(q.b, q.a), 255
		}
	}
}

// inSRGB converts a pixel's colour to coded sRGB, clipped.
func (p *Photo) inSRGB(q pixel) pixel {
	linear := colorimetry.SRGB.FromXYZ.Apply(p.colour.XYZ(q.r, q.g, q.b))
	return pixel{coded(linear.X), coded(linear.Y), coded(linear.Z), q.a}
}

// unit keeps a channel within 0 to 1.
func unit(v float64) float64 { return math.Max(0, math.Min(1, v)) }

// over lays a channel over white by its alpha and gives its 8-bit code.
func over(v, a float64) uint8 { return uint8(255*(unit(v)*a+1-a) + 0.5) }

// codedSteps is the number of steps of the table of sRGB srgbCodes. At its
// steepest, near black, one is 12.92 x 255 / 65536 = 0.05 of an 8-bit code.
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
