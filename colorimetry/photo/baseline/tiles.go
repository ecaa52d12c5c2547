package baseline

import (
	"image"
	"image/color"
)

// Picture is a decoded JPEG, as far as it was wanted: a tile of samples for every
// minimum coded unit (MCU) that a wanted area touches. It is an [image.Image].
type Picture struct {
	Width, Height int
	Grey          bool // luma alone

	across       int     // MCUs in a row
	right, down  int     // log2 of an MCU's pixels
	narrow, flat int     // log2 of the pixels across and down that share a chroma sample
	at           []int32 // where each MCU's tile begins; -1 for none
	cb, cr       int     // where a tile's chroma begins
	pix          []byte
}

// newPicture lays out the tiles.
func (d *decoder) newPicture(want []image.Rectangle) *Picture {
	side := d.side
	across, down := d.mcus()
	luma := d.parts[0]
	p := &Picture{Width: shrunk(d.width, d.samples), Height: shrunk(d.height, d.samples), Grey: len(d.parts) == 1, across: across}
	p.right, p.down = side+log2(luma.h), side+log2(luma.v)
	size := 0
	for k := range d.parts {
		c := &d.parts[k]
		c.first, c.stride = size, c.h<<side
		size += c.h * c.v << (2 * side)
	}
	if !p.Grey {
		p.narrow, p.flat = log2(luma.h/d.parts[1].h), log2(luma.v/d.parts[1].v)
		p.cb, p.cr = d.parts[1].first, d.parts[2].first
	}
	p.at = make([]int32, across*down)
	p.pix = make([]byte, p.lay(want, size))
	return p
}

// shrunk is a length in samples where 8 pixels have so many.
func shrunk(n, samples int) int { return (n*samples + 7) / 8 }

// log2 is that of 1, 2 or 4.
func log2(n int) int { return n >> 1 }

// lay gives a tile of so many bytes to every MCU that is wanted, all with nil, and
// returns the bytes of all.
func (p *Picture) lay(want []image.Rectangle, size int) int {
	if want != nil {
		for m := range p.at {
			p.at[m] = -1
		}
	}
	for _, area := range want {
		if area = area.Intersect(p.Bounds()); area.Empty() {
			continue
		}
		for y := area.Min.Y >> p.down; y <= (area.Max.Y-1)>>p.down; y++ {
			for x := area.Min.X >> p.right; x <= (area.Max.X-1)>>p.right; x++ {
				p.at[y*p.across+x] = 0
			}
		}
	}
	all := 0
	for m, at := range p.at {
		if at == 0 {
			p.at[m] = int32(all)
			all += size
		}
	}
	return all
}

// Samples are the codes of a pixel; of a grey picture luma is the only one. All
// are 0 where nothing was wanted.
func (p *Picture) Samples(x, y int) (luma, cb, cr uint8) {
	at := p.at[y>>p.down*p.across+x>>p.right]
	if at < 0 {
		return 0, 0, 0
	}
	tile := p.pix[at:]
	x, y = x&(1<<p.right-1), y&(1<<p.down-1)
	luma = tile[y<<p.right+x]
	if p.Grey {
		return luma, 0, 0
	}
	k := y>>p.flat<<(p.right-p.narrow) + x>>p.narrow
	return luma, tile[p.cb+k], tile[p.cr+k]
}

// Has tells whether a pixel was decoded.
func (p *Picture) Has(x, y int) bool {
	return (image.Point{X: x, Y: y}).In(p.Bounds()) && p.at[y>>p.down*p.across+x>>p.right] >= 0
}

// Bounds is the whole picture's, whatever of it was wanted.
func (p *Picture) Bounds() image.Rectangle { return image.Rect(0, 0, p.Width, p.Height) }

// ColorModel is that of luma and chroma, or of grey.
func (p *Picture) ColorModel() color.Model {
	if p.Grey {
		return color.GrayModel
	}
	return color.YCbCrModel
}

// At is the colour of a pixel.
func (p *Picture) At(x, y int) color.Color {
	if !p.Has(x, y) {
		return p.ColorModel().Convert(color.Transparent)
	}
	luma, cb, cr := p.Samples(x, y)
	if p.Grey {
		return color.Gray{Y: luma}
	}
	return color.YCbCr{Y: luma, Cb: cb, Cr: cr}
}
