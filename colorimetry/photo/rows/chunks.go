package rows

import (
	"encoding/binary"
	"hash/crc32"
	"io"
	"strings"
)

const signature = "\x89PNG\r\n\x1a\n"

// channels are those of the colour types that are read here.
var channels = map[byte]int{0: 1, 2: 3, 4: 2, 6: 4}

// parse reads all chunks. Those of the picture must follow one another.
func parse(data []byte) (p *Picture, packed *packedData, ok bool) {
	rest, ok := strings.CutPrefix(string(data[:min(len(data), len(signature))]), signature)
	if !ok || rest != "" {
		return nil, nil, false
	}
	packed = &packedData{}
	last := ""
	for data = data[len(signature):]; ; {
		kind, body, after, ok := chunk(data)
		if !ok || (kind == "IHDR") != (p == nil) {
			return nil, nil, false
		}
		switch kind {
		case "IHDR":
			p, ok = header(body)
		case "IDAT":
			ok = last == "IDAT" || packed.parts == nil
			packed.parts = append(packed.parts, body)
		case "PLTE", "tRNS":
			ok = false
		case "IEND":
			return p, packed, len(body) == 0 && packed.parts != nil
		}
		if !ok {
			return nil, nil, false
		}
		last, data = kind, after
	}
}

// chunk reads one chunk and checks its sum.
func chunk(data []byte) (kind string, body, after []byte, ok bool) {
	if len(data) < 12 {
		return "", nil, nil, false
	}
	n := int64(binary.BigEndian.Uint32(data))
	if n > int64(len(data)-12) {
		return "", nil, nil, false
	}
	end := 8 + int(n)
	if crc32.ChecksumIEEE(data[4:end]) != binary.BigEndian.Uint32(data[end:]) {
		return "", nil, nil, false
	}
	return string(data[4:8]), data[8:end], data[end+4:], true
}

// header reads size and kind.
func header(body []byte) (p *Picture, ok bool) {
	if len(body) != 13 {
		return nil, false
	}
	p = &Picture{Channels: channels[body[9]], Deep: body[8] == 16}
	w, h := binary.BigEndian.Uint32(body), binary.BigEndian.Uint32(body[4:])
	if p.Channels == 0 || !p.Deep && body[8] != 8 || string(body[10:]) != "\x00\x00\x00" {
		return nil, false
	}
	if w == 0 || h == 0 || w > mostSide || h > mostSide || uint64(w)*uint64(h) > mostPixels {
		return nil, false
	}
	p.Width, p.Height = int(w), int(h)
	return p, true
}

// A larger picture is not begun: where image/png decides after a fault, the time is
// taken twice.
const (
	mostSide   = 1 << 16
	mostPixels = 64_000_000
)

// packedData reads the bodies of the picture's chunks, and no byte more than is
// asked for.
type packedData struct{ parts [][]byte }

func (d *packedData) empty() bool {
	for len(d.parts) > 0 && len(d.parts[0]) == 0 {
		d.parts = d.parts[1:]
	}
	return len(d.parts) == 0
}

func (d *packedData) Read(to []byte) (n int, err error) {
	if d.empty() {
		return 0, io.EOF
	}
	n = copy(to, d.parts[0])
	d.parts[0] = d.parts[0][n:]
	return n, nil
}

func (d *packedData) ReadByte() (byte, error) {
	if d.empty() {
		return 0, io.EOF
	}
	c := d.parts[0][0]
	d.parts[0] = d.parts[0][1:]
	return c, nil
}
