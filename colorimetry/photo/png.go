package photo

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"

	"padband/colorimetry"
	"padband/colorimetry/photo/profile"
)

// pngWalk gathers a PNG's header chunks.
type pngWalk struct {
	h      *header
	pixels bool  // picture data has begun
	bytes  int64 // of an uncompressed picture
}

// readPNG reads a PNG's chunks. When several chunks speak of colour, the order of the
// PNG specification holds: cICP, iCCP, sRGB, then gAMA with cHRM.
func readPNG(data []byte) (*header, int64, error) {
	w := pngWalk{h: &header{format: formatPNG, chroma: 1, matrix: matrixJFIF}}
	for i := len(pngSignature); ; {
		if len(data)-i < 12 {
			return nil, 0, brokenPNG("its end is missing")
		}
		n := int64(binary.BigEndian.Uint32(data[i:]))
		kind := string(data[i+4 : i+8])
		if n > int64(len(data)-i-12) {
			return nil, 0, brokenPNG("it ends within its " + printable(kind) + " part")
		}
		if (kind == "IHDR") != (i == len(pngSignature)) {
			return nil, 0, brokenPNG("its header is not where it must be")
		}
		if kind == "IEND" {
			return w.finish()
		}
		if err := w.take(kind, data[i+8:i+8+int(n)]); err != nil {
			return nil, 0, err
		}
		i += 12 + int(n)
	}
}

func brokenPNG(why string) error { return &BrokenError{Format: formatPNG, Why: why} }

// printable keeps a chunk's name on one line.
func printable(kind string) string { return fmt.Sprintf("%.8q", kind) }

func (w *pngWalk) finish() (*header, int64, error) {
	if !w.pixels {
		return nil, 0, brokenPNG("it holds no picture")
	}
	// Deflate packs at most 1032 bytes into one (RFC 1951: 258 bytes in 2 bits).
	return w.h, w.bytes / 1032, nil
}

// take notes one chunk.
func (w *pngWalk) take(kind string, body []byte) error {
	switch kind {
	case "IHDR":
		return w.header(body)
	case "IDAT":
		w.pixels = true
		return nil
	case "eXIf":
		if w.h.exif == nil {
			w.h.exif = bytes.TrimPrefix(body, []byte("Exif\x00\x00"))
		}
		return nil
	}
	if w.pixels {
		return nil // colour statements stand before the picture
	}
	c := &w.h.colour
	switch kind {
	case "cICP":
		return w.codePoints(body)
	case "iCCP":
		if c.icc != nil || c.spoil != "" {
			c.icc, c.spoil = nil, "it is there twice"
			return nil
		}
		c.icc, c.spoil = inflateProfile(body)
	case "sRGB":
		c.srgb = true
	case "gAMA":
		if len(body) == 4 {
			c.gamma = float64(binary.BigEndian.Uint32(body)) / 100000
		}
	case "cHRM":
		c.prims = parseCHRM(body)
	}
	return nil
}

// pngChannels are the channels of each PNG colour type.
var pngChannels = map[byte]int64{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}

func (w *pngWalk) header(body []byte) error {
	if len(body) != 13 {
		return brokenPNG("its header has the wrong length")
	}
	width, height := binary.BigEndian.Uint32(body), binary.BigEndian.Uint32(body[4:])
	depth, kind := body[8], body[9]
	channels, ok := pngChannels[kind]
	if !ok || width > 1<<31-1 || height > 1<<31-1 || depth == 0 || depth > 16 {
		return brokenPNG("its header makes no sense")
	}
	w.h.width, w.h.height, w.h.depth = int(width), int(height), int(depth)
	w.h.grey = kind == 0 || kind == 4
	// This figure is only compared, never allocated. Below 2^31 * 2^26 it cannot
	// overflow for sizes that pass the pixel cap, and larger ones are refused by that
	// cap.
	w.bytes = int64(width) * int64(height) / 8 * channels * int64(depth)
	if int64(width)*int64(height) > 1<<40 {
		w.bytes = 1 << 50
	}
	return nil
}

// codePoints reads a cICP chunk: primaries, transfer, matrix and range as in ITU-T H.273.
func (w *pngWalk) codePoints(body []byte) error {
	refuse := func(what string) error {
		return &UnsupportedError{what, "export it as an ordinary sRGB or Display P3 PNG or JPEG"}
	}
	if len(body) != 4 {
		return refuse("this PNG declares a colour space that is not read")
	}
	c := profile.CodePoints{Primaries: int(body[0]), Transfer: int(body[1])}
	_, _, known := c.Transform()
	switch {
	case c.HighRange():
		return refuse("this PNG is a high dynamic range picture (PQ or HLG)")
	case !known || body[2] != 0 || body[3] != 1:
		return refuse(fmt.Sprintf("this PNG declares colour code points %d, %d, %d, %d", body[0], body[1], body[2], body[3]))
	}
	w.h.colour.cicp = c
	return nil
}

// inflateProfile unpacks an iCCP chunk: a name, a zero, a method and the packed profile.
func inflateProfile(body []byte) (data []byte, spoil string) {
	k := bytes.IndexByte(body, 0)
	if k < 1 || k > 79 || len(body) < k+2 || body[k+1] != 0 {
		return nil, "its name or packing is wrong"
	}
	z, err := zlib.NewReader(bytes.NewReader(body[k+2:]))
	if err != nil {
		return nil, "it cannot be unpacked"
	}
	data, err = io.ReadAll(io.LimitReader(z, profile.MaxBytes+1))
	switch {
	case err != nil:
		return nil, "it cannot be unpacked"
	case len(data) > profile.MaxBytes:
		return nil, "it is too large"
	case len(data) == 0:
		return nil, "it is empty"
	}
	return data, ""
}

// parseCHRM reads white point and primaries, 8 numbers of 1/100000.
func parseCHRM(body []byte) *profile.Primaries {
	if len(body) != 32 {
		return nil
	}
	var v [8]float64
	for i := range v {
		v[i] = float64(binary.BigEndian.Uint32(body[4*i:])) / 100000
	}
	xy := func(k int) colorimetry.Chromaticity { return colorimetry.Chromaticity{X: v[k], Y: v[k+1]} }
	return &profile.Primaries{White: xy(0), Red: xy(2), Green: xy(4), Blue: xy(6)}
}
