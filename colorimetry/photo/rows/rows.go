// Package rows decodes the ordinary PNG and keeps only the rows that are wanted. Each
// value is the very one that image/png gives. Start at [Decode]. The package leaves
// every other PNG to image/png.
//
// An ordinary PNG is grey or red, green and blue, with or without alpha, in 8 or 16
// bits, row after row, without a palette or a transparent colour and without any
// fault.
package rows

import (
	"compress/zlib"
	"image"
	"image/color"
	"io"
)

// Picture is a decoded PNG, as far as it was wanted. It is an [image.Image].
type Picture struct {
	Width, Height int
	Channels      int  // 1 grey, 2 grey and alpha, 3 red, green and blue, 4 with alpha
	Deep          bool // 16 bits a channel, the high byte first

	at  []int // where each row begins; -1 where it was not wanted
	pix []byte
}

// Decode decodes an ordinary PNG; all else is not ok, a fault at any place included.
// With want nil all rows are kept, else those that one of these areas touches. The
// memory it takes is the picture's, by its header: a caller holds that to its limits
// first.
func Decode(data []byte, want []image.Rectangle) (p *Picture, ok bool) {
	p, packed, ok := parse(data)
	if !ok {
		return nil, false
	}
	p.lay(want)
	z, err := zlib.NewReader(packed)
	if err != nil {
		return nil, false
	}
	if !p.read(z) {
		return nil, false
	}
	var more [1]byte
	if n, err := z.Read(more[:]); n != 0 || err != io.EOF || !packed.empty() {
		return nil, false
	}
	return p, true
}

// size is the bytes of a pixel.
func (p *Picture) size() int {
	if p.Deep {
		return 2 * p.Channels
	}
	return p.Channels
}

// lay gives room to the rows that are wanted.
func (p *Picture) lay(want []image.Rectangle) {
	if want == nil {
		want = []image.Rectangle{p.Bounds()}
	}
	p.at = make([]int, p.Height)
	for y := range p.at {
		p.at[y] = -1
	}
	for _, area := range want {
		area = area.Intersect(p.Bounds())
		for y := area.Min.Y; y < area.Max.Y; y++ {
			p.at[y] = 0
		}
	}
	all := 0
	for y, at := range p.at {
		if at == 0 {
			p.at[y] = all
			all += p.Width * p.size()
		}
	}
	p.pix = make([]byte, all)
}

// read reads all rows and keeps what is wanted of them.
func (p *Picture) read(r io.Reader) bool {
	n := p.Width * p.size()
	now, before := make([]byte, 1+n), make([]byte, 1+n) // the filter's number first
	for _, at := range p.at {
		if _, err := io.ReadFull(r, now); err != nil {
			return false
		}
		if !unfilter(now[0], now[1:], before[1:], p.size()) {
			return false
		}
		if at >= 0 {
			copy(p.pix[at:], now[1:])
		}
		now, before = before, now
	}
	return true
}

// Pixel is the stored bytes of a pixel; nil where it was not wanted.
func (p *Picture) Pixel(x, y int) []byte {
	at := p.at[y]
	if at < 0 {
		return nil
	}
	n := p.size()
	return p.pix[at+x*n : at+x*n+n : at+x*n+n]
}

// Bounds is the whole picture's, whatever of it was wanted.
func (p *Picture) Bounds() image.Rectangle { return image.Rect(0, 0, p.Width, p.Height) }

// ColorModel is that of 16 bits, not multiplied by alpha.
func (p *Picture) ColorModel() color.Model { return color.NRGBA64Model }

// At is the colour of a pixel.
func (p *Picture) At(x, y int) color.Color {
	if !(image.Point{X: x, Y: y}).In(p.Bounds()) || p.at[y] < 0 {
		return color.NRGBA64{}
	}
	q := p.Pixel(x, y)
	var v [4]uint16
	for c := range p.Channels {
		if p.Deep {
			v[c] = uint16(q[2*c])<<8 | uint16(q[2*c+1])
		} else {
			v[c] = uint16(q[c]) * 0x101
		}
	}
	switch p.Channels {
	case 1:
		return color.NRGBA64{R: v[0], G: v[0], B: v[0], A: 0xffff}
	case 2:
		return color.NRGBA64{R: v[0], G: v[0], B: v[0], A: v[1]}
	case 3:
		return color.NRGBA64{R: v[0], G: v[1], B: v[2], A: 0xffff}
	}
	return color.NRGBA64{R: v[0], G: v[1], B: v[2], A: v[3]}
}
