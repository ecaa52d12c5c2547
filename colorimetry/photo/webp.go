package photo

import (
	"bytes"
	"encoding/binary"
)

// webpWalk gathers a WebP's header chunks (RFC 9649).
type webpWalk struct {
	h        *header
	extended bool // a VP8X chunk came first
	canvas   [2]int
	picture  bool // the picture's chunk was met
	alpha    bool // an ALPH chunk was met
}

// readWebP reads a WebP's chunks. Profile and Exif block count in an extended file
// alone. A file of several pictures is not read.
func readWebP(data []byte) (*header, error) {
	size := int64(binary.LittleEndian.Uint32(data[4:]))
	if size+8 > int64(len(data)) || size < 4 {
		return nil, brokenWebP("its end is missing")
	}
	w := webpWalk{h: &header{format: formatWebP, depth: 8, chroma: 1, matrix: matrixWebP}}
	for rest := data[12 : 8+size]; len(rest) > 0; {
		if len(rest) < 8 {
			return nil, brokenWebP("it ends within a part's header")
		}
		kind, n := string(rest[:4]), int64(binary.LittleEndian.Uint32(rest[4:]))
		if n+n&1 > int64(len(rest)-8) {
			return nil, brokenWebP("it ends within its " + printable(kind) + " part")
		}
		if err := w.take(kind, rest[8:8+n]); err != nil {
			return nil, err
		}
		rest = rest[8+n+n&1:]
	}
	return w.finish()
}

func brokenWebP(why string) error { return &BrokenError{Format: formatWebP, Why: why} }

func (w *webpWalk) finish() (*header, error) {
	switch {
	case !w.picture:
		return nil, brokenWebP("it holds no picture")
	case w.extended && w.canvas != [2]int{w.h.width, w.h.height}:
		return nil, brokenWebP("its picture has another size than its header says")
	}
	return w.h, nil
}

// take notes one chunk.
func (w *webpWalk) take(kind string, body []byte) error {
	switch kind {
	case "VP8X":
		return w.header(body)
	case "VP8 ", "VP8L":
		if w.picture {
			return brokenWebP("it has two pictures")
		}
		w.picture = true
		if kind == "VP8L" {
			return w.lossless(body)
		}
		return w.lossy(body)
	case "ALPH":
		if w.alpha || w.picture || !w.extended {
			return brokenWebP("its transparency is not where it must be")
		}
		w.alpha = true
	case "ANIM", "ANMF":
		return &UnsupportedError{"this WebP is an animation", "export one picture of it as JPEG or PNG"}
	}
	if w.extended {
		w.describe(kind, body)
	}
	return nil
}

// describe keeps what an extended file says of its colours and of its orientation.
func (w *webpWalk) describe(kind string, body []byte) {
	c := &w.h.colour
	switch {
	case kind == "ICCP" && (c.icc != nil || c.spoil != ""):
		c.icc, c.spoil = nil, "it is there twice"
	case kind == "ICCP" && w.picture:
		c.spoil = "it comes after the picture"
	case kind == "ICCP" && len(body) == 0:
		c.spoil = "it is empty"
	case kind == "ICCP":
		c.icc = body
	case kind == "EXIF" && w.h.exif == nil:
		w.h.exif = bytes.TrimPrefix(body, []byte("Exif\x00\x00"))
	}
}

// header reads the VP8X chunk: flags, then width and height less one, 24 bits each.
func (w *webpWalk) header(body []byte) error {
	if len(body) != 10 || w.extended || w.picture {
		return brokenWebP("its header makes no sense")
	}
	w.extended = true
	w.canvas = [2]int{1 + low24(body[4:]), 1 + low24(body[7:])}
	return nil
}

func low24(b []byte) int { return int(b[0]) | int(b[1])<<8 | int(b[2])<<16 }

// lossy reads the size in a VP8 key frame (RFC 6386, 9.1).
func (w *webpWalk) lossy(body []byte) error {
	if len(body) < 10 || body[0]&1 != 0 || string(body[3:6]) != "\x9d\x01\x2a" {
		return brokenWebP("its picture's header makes no sense")
	}
	w.h.width = int(binary.LittleEndian.Uint16(body[6:])) & 0x3fff
	w.h.height = int(binary.LittleEndian.Uint16(body[8:])) & 0x3fff
	w.h.chroma = 2
	return nil
}

// lossless reads the size in a VP8L picture (RFC 9649, 3.4), and whether its alpha
// counts.
func (w *webpWalk) lossless(body []byte) error {
	if len(body) < 5 || body[0] != 0x2f || body[4]>>5 != 0 || w.alpha {
		return brokenWebP("its picture's header makes no sense")
	}
	bits := binary.LittleEndian.Uint32(body[1:])
	w.h.width, w.h.height = 1+int(bits&0x3fff), 1+int(bits>>14&0x3fff)
	w.h.opaque = bits>>28&1 == 0
	return nil
}
