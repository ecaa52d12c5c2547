package photo

import (
	"fmt"
	"image"
	"image/color"

	"padband/colorimetry/photo/baseline"
	"padband/colorimetry/photo/rows"
)

// pixel is one stored pixel. Its channels run from 0 (lowest code) to 1 (highest);
// they are not clipped and not multiplied by alpha, which runs from 0 to 1.
type pixel struct{ r, g, b, a float64 }

// pixelReader reads stored pixels out of the decoder's own buffers.
type pixelReader func(x, y int) pixel

// readerFor picks the function that reads a decoded picture, and checks that the
// buffers hold what the bounds promise. Luma and chroma are read by the matrix. half
// is half a code step, which decides what counts as clipped.
func readerFor(img image.Image, matrix lumaMatrix) (read pixelReader, half float64, err error) {
	b := img.Bounds()
	if b.Min != (image.Point{}) || b.Empty() {
		return nil, 0, fmt.Errorf("the picture's bounds are %v", b)
	}
	w, h := b.Dx(), b.Dy()
	half = 0.5 / 255
	var ok bool
	switch m := img.(type) {
	case *baseline.Picture:
		read, ok = readTiles(m, matrix), true
	case *rows.Picture:
		read, ok = readRows(m, matrix), true
		if m.Deep {
			half = 0.5 / 65535
		}
	case *image.YCbCr:
		read, ok = readYCbCr(m, matrix), holdsYCbCr(m)
	case *image.NYCbCrA:
		read, ok = readNYCbCrA(m, matrix), holdsYCbCr(&m.YCbCr) && holds(m.A, m.AStride, w, h, 1)
	case *image.Gray:
		read, ok = readLuma(m, matrix), holds(m.Pix, m.Stride, w, h, 1)
	case *image.RGBA:
		read, ok = readRGBA(m), holds(m.Pix, m.Stride, w, h, 4)
	case *image.NRGBA:
		read, ok = readNRGBA(m), holds(m.Pix, m.Stride, w, h, 4)
	case *image.Paletted:
		read, ok = readPaletted(m), holds(m.Pix, m.Stride, w, h, 1)
	case *image.Gray16:
		read, half, ok = readGray16(m), 0.5/65535, holds(m.Pix, m.Stride, w, h, 2)
	case *image.RGBA64:
		read, half, ok = readRGBA64(m), 0.5/65535, holds(m.Pix, m.Stride, w, h, 8)
	case *image.NRGBA64:
		read, half, ok = readNRGBA64(m), 0.5/65535, holds(m.Pix, m.Stride, w, h, 8)
	default:
		return nil, 0, fmt.Errorf("pictures of kind %T are not read", img)
	}
	if !ok {
		return nil, 0, fmt.Errorf("the picture's rows are shorter than %d x %d pixels need", w, h)
	}
	return read, half, nil
}

func holds(pix []byte, stride, w, h, size int) bool {
	return stride >= w*size && len(pix) >= stride*(h-1)+w*size
}

func holdsYCbCr(m *image.YCbCr) bool {
	last := m.Rect.Max.Sub(image.Pt(1, 1))
	y, c := m.YOffset(last.X, last.Y), m.COffset(last.X, last.Y)
	return y < len(m.Y) && c < len(m.Cb) && c < len(m.Cr)
}

func grey(v float64) pixel { return pixel{v, v, v, 1} }

func readGray16(m *image.Gray16) pixelReader {
	return func(x, y int) pixel { return grey(wide(m.Pix[y*m.Stride+2*x:])) }
}

// wide reads one 16-bit channel.
func wide(b []byte) float64 { return float64(uint16(b[0])<<8|uint16(b[1])) / 65535 }

// readRows reads what was decoded of an ordinary PNG. What was not decoded is
// transparent.
func readRows(m *rows.Picture, matrix lumaMatrix) pixelReader {
	code, size := func(b []byte) float64 { return float64(b[0]) / 255 }, 1
	if m.Deep {
		code, size = wide, 2
	}
	return func(x, y int) pixel {
		b := m.Pixel(x, y)
		switch {
		case b == nil:
			return pixel{}
		case m.Channels == 1 && !m.Deep:
			return grey((float64(b[0]) - matrix.zero) * matrix.gain)
		case m.Channels == 1:
			return grey(code(b))
		case m.Channels == 2:
			return pixel{code(b), code(b), code(b), code(b[size:])}
		case m.Channels == 3:
			return pixel{code(b), code(b[size:]), code(b[2*size:]), 1}
		}
		return pixel{code(b), code(b[size:]), code(b[2*size:]), code(b[3*size:])}
	}
}

// readRGBA reads opaque pixels, because the decoders give this kind of picture for
// nothing else.
func readRGBA(m *image.RGBA) pixelReader {
	return func(x, y int) pixel {
		p := m.Pix[y*m.Stride+4*x:]
		return pixel{float64(p[0]) / 255, float64(p[1]) / 255, float64(p[2]) / 255, float64(p[3]) / 255}.straight()
	}
}

func readNRGBA(m *image.NRGBA) pixelReader {
	return func(x, y int) pixel {
		p := m.Pix[y*m.Stride+4*x:]
		return pixel{float64(p[0]) / 255, float64(p[1]) / 255, float64(p[2]) / 255, float64(p[3]) / 255}
	}
}

func readRGBA64(m *image.RGBA64) pixelReader {
	return func(x, y int) pixel {
		p := m.Pix[y*m.Stride+8*x:]
		return pixel{wide(p), wide(p[2:]), wide(p[4:]), wide(p[6:])}.straight()
	}
}

func readNRGBA64(m *image.NRGBA64) pixelReader {
	return func(x, y int) pixel {
		p := m.Pix[y*m.Stride+8*x:]
		return pixel{wide(p), wide(p[2:]), wide(p[4:]), wide(p[6:])}
	}
}

// readPaletted looks colours up in the palette; a code beyond the palette is
// transparent.
func readPaletted(m *image.Paletted) pixelReader {
	palette := make([]pixel, len(m.Palette))
	for i, c := range m.Palette {
		palette[i] = straightColour(c)
	}
	return func(x, y int) pixel {
		if k := int(m.Pix[y*m.Stride+x]); k < len(palette) {
			return palette[k]
		}
		return pixel{}
	}
}

func straightColour(c color.Color) pixel {
	if n, ok := c.(color.NRGBA); ok {
		return pixel{float64(n.R) / 255, float64(n.G) / 255, float64(n.B) / 255, float64(n.A) / 255}
	}
	r, g, b, a := c.RGBA()
	return pixel{float64(r) / 65535, float64(g) / 65535, float64(b) / 65535, float64(a) / 65535}.straight()
}

// opaque reads pixels whose alpha is to be ignored.
func opaque(read pixelReader) pixelReader {
	return func(x, y int) pixel {
		q := read(x, y)
		q.a = 1
		return q
	}
}

// straight undoes the multiplication by alpha.
func (p pixel) straight() pixel {
	if p.a == 1 || p.a == 0 {
		return p
	}
	return pixel{p.r / p.a, p.g / p.a, p.b / p.a, p.a}
}
