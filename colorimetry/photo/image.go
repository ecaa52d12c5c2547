package photo

import (
	"image"

	"padband/colorimetry"
)

// maxView caps the pixels of a picture made for people.
const maxView = 24_000_000

// Image returns the part of the upright photo within area as an 8-bit sRGB
// picture for people to look at; never for measuring. The area is cut to the
// photo; what is outside is left off, and an area that misses the photo gives
// an empty picture. Areas above 24 megapixels are thinned to every second,
// third, ... pixel. Colours beyond sRGB are clipped; transparency is shown over white.
func (p *Photo) Image(area image.Rectangle) image.Image {
	area = area.Intersect(image.Rect(0, 0, p.Width, p.Height))
	step := 1
	for area.Dx()/step*(area.Dy()/step) > maxView {
		step++
	}
	w, h := (area.Dx()+step-1)/step, (area.Dy()+step-1)/step
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for v := range h {
		row := out.Pix[v*out.Stride:]
		for u := range w {
			x, y := p.turn.stored(area.Min.X+u*step, area.Min.Y+v*step)
			r, g, b := p.seen(p.read(x, y))
			row[4*u], row[4*u+1], row[4*u+2], row[4*u+3] = r, g, b, 255
		}
	}
	return out
}

// seen converts one pixel to 8-bit sRGB over white.
func (p *Photo) seen(q pixel) (r, g, b uint8) {
	if p.colour != transformSRGB() {
		c := colorimetry.SRGB.RGB(p.colour.xyz(q.r, q.g, q.b))
		q.r, q.g, q.b = c.R, c.G, c.B
	}
	over := func(v float64) uint8 { return uint8(255*unit(unit(v)*q.a+1-q.a) + 0.5) }
	return over(q.r), over(q.g), over(q.b)
}
