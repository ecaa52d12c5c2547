package scene

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"
	"math"

	"padband/colorimetry"
)

// encode develops the raw picture and writes the file.
func (c *Config) encode(p *picture, matrix colorimetry.Matrix3) ([]byte, error) {
	m := c.Camera.saturated(matrix)
	var buf bytes.Buffer
	switch c.Format {
	case PNGP3:
		err := png.Encode(&buf, c.deep(p, colorimetry.DisplayP3.FromXYZ.Mul(colorimetry.SRGB.ToXYZ).Mul(m)))
		return withCICP(buf.Bytes(), primariesP3), err
	case PNGDeep:
		err := png.Encode(&buf, c.deep(p, m))
		return withCICP(buf.Bytes(), primariesSRGB), err
	case PNG:
		err := png.Encode(&buf, c.develop(p, m))
		return buf.Bytes(), err
	case JPEG, JPEGSRGB:
		err := jpeg.Encode(&buf, c.develop(p, m), &jpeg.Options{Quality: c.Quality})
		return c.described(buf.Bytes()), err
	}
	return nil, fmt.Errorf("scene: no format %q", c.Format)
}

// described puts what the format and the camera say in front of a JPEG's picture.
func (c *Config) described(file []byte) []byte {
	if len(file) < 2 {
		return file
	}
	if c.Format == JPEGSRGB {
		file = withICC(file, srgbProfile())
	}
	if c.Exif != nil {
		file = c.Exif.into(file)
	}
	return file
}

// saturated is the colour matrix with the camera's saturation: away from the luminance.
func (c *Camera) saturated(m colorimetry.Matrix3) colorimetry.Matrix3 {
	k := c.Saturation
	if k == 0 {
		k = 1
	}
	luminance := [3]float64{0.2126, 0.7152, 0.0722}
	var s colorimetry.Matrix3
	for i := range s {
		for j := range s {
			s[i][j] = (1 - k) * luminance[j]
		}
		s[i][i] += k
	}
	return s.Mul(m)
}

// developed calls put with each pixel's three codes (0 to top, not rounded).
func (c *Config) developed(p *picture, m colorimetry.Matrix3, top float64, put func(i int, code [3]float32)) {
	table := c.Camera.toneTable(top)
	var f [3][3]float32
	for i := range f {
		for j := range f {
			f[i][j] = float32(m[i][j])
		}
	}
	for i := range p.plane[0] {
		r, g, b := p.plane[0][i], p.plane[1][i], p.plane[2][i]
		put(i, [3]float32{
			look(table, f[0][0]*r+f[0][1]*g+f[0][2]*b),
			look(table, f[1][0]*r+f[1][1]*g+f[1][2]*b),
			look(table, f[2][0]*r+f[2][1]*g+f[2][2]*b),
		})
	}
}

// look reads a tone table at linear light v.
func look(table []float32, v float32) float32 {
	v = min(1, max(0, v))
	at := float32(math.Sqrt(float64(v))) * toneSize
	i := int(at)
	return table[i] + (at-float32(i))*(table[i+1]-table[i])
}

// develop makes the 8-bit picture.
func (c *Config) develop(p *picture, m colorimetry.Matrix3) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, p.w, p.h))
	c.developed(p, m, 255, func(i int, code [3]float32) {
		px := out.Pix[4*i : 4*i+4]
		px[0], px[1], px[2], px[3] = uint8(code[0]+0.5), uint8(code[1]+0.5), uint8(code[2]+0.5), 255
	})
	return out
}

// deep makes the 16-bit picture.
func (c *Config) deep(p *picture, m colorimetry.Matrix3) *image.RGBA64 {
	out := image.NewRGBA64(image.Rect(0, 0, p.w, p.h))
	c.developed(p, m, 65535, func(i int, code [3]float32) {
		px := out.Pix[8*i : 8*i+8]
		for ch, v := range code {
			binary.BigEndian.PutUint16(px[2*ch:], uint16(v+0.5))
		}
		px[6], px[7] = 255, 255
	})
	return out
}

// Colour primaries of a cICP chunk (ITU-T H.273, table 2).
const (
	primariesSRGB = "\x01"
	primariesP3   = "\x0c"
)

// withCICP puts a chunk that names the primaries, with the sRGB curve and full
// range, behind the header of a PNG. Source: PNG (third edition), 11.3.2.6; ITU-T H.273.
func withCICP(file []byte, primaries string) []byte {
	const header = 33 // signature and IHDR
	if len(file) < header {
		return file
	}
	chunk := append([]byte{0, 0, 0, 4}, "cICP"+primaries+"\x0d\x00\x01"...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return append(append(append([]byte(nil), file[:header]...), chunk...), file[header:]...)
}
