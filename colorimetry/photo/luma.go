package photo

import (
	"image"

	"padband/colorimetry/photo/baseline"
)

// lumaMatrix converts the codes of a luma and two chroma planes of 8 bits to red,
// green and blue: 0 is the lowest code and 1 the highest, and nothing is clipped.
type lumaMatrix struct {
	gain, zero float64 // of luma: its channel is gain * (code - zero)
	middle     float64 // code of no chroma
	rCr, gCb   float64
	gCr, bCb   float64
}

// newLumaMatrix makes the matrix of ITU-T H.273, 8.3, for luma of which red has the
// share kr and blue the share kb. Full codes run from 0 to 255; narrow ones from 16 to
// 235, chroma from 16 to 240.
//
// The codes may be the upper 8 of depth bits, with the rest cut off. Each code then
// stands for the middle of the values that it may have had, which is at most (1 -
// 2^(8-depth)) / 2 of an 8-bit code away, 0.375 for 10 bits.
func newLumaMatrix(kr, kb float64, full bool, depth int) lumaMatrix {
	step := float64(int(1) << (depth - 8))
	lost := (step - 1) / 2 / step // of an 8-bit code
	most := float64(int(1)<<depth - 1)
	m := lumaMatrix{gain: 1.0 / 219, zero: 16 - lost, middle: 128 - lost}
	chroma := 1.0 / 224
	if full {
		m.gain, m.zero, chroma = step/most, -lost, step/most
	}
	kg := 1 - kr - kb
	m.rCr, m.bCb = 2*(1-kr)*chroma, 2*(1-kb)*chroma
	m.gCb, m.gCr = -kb/kg*m.bCb, -kr/kg*m.rCr
	return m
}

// Luma's share of red and blue in ITU-R BT.601, by ITU-T H.273 table 4 (values 5 and 6).
const (
	red601  = 0.299
	blue601 = 0.114
)

// matrixJFIF is that of JPEG pictures (ITU-T T.871, 7).
var matrixJFIF = newLumaMatrix(red601, blue601, true, 8)

// matrixWebP is that of lossy WebP pictures: BT.601 in narrow codes (RFC 9649, 2.5).
var matrixWebP = newLumaMatrix(red601, blue601, false, 8)

// pixel converts one pixel.
func (m *lumaMatrix) pixel(luma, cb, cr uint8) pixel {
	y := (float64(luma) - m.zero) * m.gain
	b, r := float64(cb)-m.middle, float64(cr)-m.middle
	return pixel{r: y + m.rCr*r, g: y + m.gCb*b + m.gCr*r, b: y + m.bCb*b, a: 1}
}

// readYCbCr converts pixels in floating point and without clipping. Each pixel has the
// colour sample of its cell.
func readYCbCr(m *image.YCbCr, matrix lumaMatrix) pixelReader {
	return func(x, y int) pixel {
		k := m.COffset(x, y)
		return matrix.pixel(m.Y[m.YOffset(x, y)], m.Cb[k], m.Cr[k])
	}
}

// readTiles reads the pixels that were decoded of an ordinary JPEG.
func readTiles(m *baseline.Picture, matrix lumaMatrix) pixelReader {
	if m.Grey {
		return func(x, y int) pixel {
			luma, _, _ := m.Samples(x, y)
			return grey((float64(luma) - matrix.zero) * matrix.gain)
		}
	}
	return func(x, y int) pixel { return matrix.pixel(m.Samples(x, y)) }
}

// readNYCbCrA reads luma and chroma that are not multiplied by the alpha beside them.
func readNYCbCrA(m *image.NYCbCrA, matrix lumaMatrix) pixelReader {
	read := readYCbCr(&m.YCbCr, matrix)
	return func(x, y int) pixel {
		q := read(x, y)
		q.a = float64(m.A[m.AOffset(x, y)]) / 255
		return q
	}
}

// readLuma reads a picture of luma alone.
func readLuma(m *image.Gray, matrix lumaMatrix) pixelReader {
	return func(x, y int) pixel {
		return grey((float64(m.Pix[y*m.Stride+x]) - matrix.zero) * matrix.gain)
	}
}
