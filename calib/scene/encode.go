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

// Exif is what the camera says of the photo.
type Exif struct {
	Make, Model string
	Taken       string // "2006:01:02 15:04:05"
	Offset      string // "+01:00"
	ISO         uint16
	Exposure    [2]uint32 // seconds, a fraction
}

// into puts the EXIF block behind the start of a JPEG file.
// Source: Exif 2.32 (CIPA DC-008), 4.5 and 4.6; TIFF 6.0.
func (e *Exif) into(file []byte) []byte {
	body := append([]byte("Exif\x00\x00"), e.tiff()...)
	segment := []byte{0xff, 0xe1}
	segment = binary.BigEndian.AppendUint16(segment, uint16(len(body)+2))
	segment = append(segment, body...)
	return append(append(append([]byte(nil), file[:2]...), segment...), file[2:]...)
}

// entry is one field of a directory.
type entry struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

func text(tag uint16, s string) entry {
	return entry{tag, 2, uint32(len(s) + 1), append([]byte(s), 0)}
}

func short(tag, v uint16) entry {
	return entry{tag, 3, 1, binary.BigEndian.AppendUint16(nil, v)}
}

// tiff is the block itself: the main directory and the Exif one.
func (e *Exif) tiff() []byte {
	out := []byte("MM\x00\x2a\x00\x00\x00\x08")
	main := []entry{text(0x010f, e.Make), text(0x0110, e.Model), short(0x0112, 1), text(0x0132, e.Taken), {0x8769, 4, 1, []byte{0, 0, 0, 0}}}
	fraction := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, e.Exposure[0]), e.Exposure[1])
	sub := []entry{{0x829a, 5, 1, fraction}, short(0x8827, e.ISO), text(0x9003, e.Taken), text(0x9011, e.Offset), short(0x9209, 16)}
	at := 8 + uint32(len(directory(main, 8)))
	main[len(main)-1].value = binary.BigEndian.AppendUint32(nil, at)
	out = append(out, directory(main, 8)...)
	return append(out, directory(sub, at)...)
}

// directory writes entries in order of their tags, then their long values; at is its place in the block.
func directory(entries []entry, at uint32) []byte {
	out := binary.BigEndian.AppendUint16(nil, uint16(len(entries)))
	long := at + 2 + 12*uint32(len(entries)) + 4
	var tail []byte
	for _, e := range entries {
		out = binary.BigEndian.AppendUint16(binary.BigEndian.AppendUint16(out, e.tag), e.kind)
		out = binary.BigEndian.AppendUint32(out, e.count)
		if len(e.value) <= 4 {
			out = append(out, append(e.value, 0, 0, 0, 0)[:4]...)
			continue
		}
		out = binary.BigEndian.AppendUint32(out, long+uint32(len(tail)))
		tail = append(tail, e.value...)
		if len(tail)%2 == 1 {
			tail = append(tail, 0)
		}
	}
	out = append(out, 0, 0, 0, 0)
	return append(out, tail...)
}
