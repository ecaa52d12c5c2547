package photo

import (
	"encoding/binary"
	"image"
)

// webpOf lays out a WebP file of chunks.
func webpOf(chunks ...[]byte) []byte {
	body := join(append([][]byte{[]byte("WEBP")}, chunks...)...)
	return join([]byte("RIFF"), binary.LittleEndian.AppendUint32(nil, uint32(len(body))), body)
}

// riffChunk is one chunk with its length and its padding.
func riffChunk(kind string, body []byte) []byte {
	b := join([]byte(kind), binary.LittleEndian.AppendUint32(nil, uint32(len(body))), body)
	if len(body)%2 == 1 {
		b = append(b, 0)
	}
	return b
}

// extendedHeader is the VP8X chunk of a picture of w by h.
func extendedHeader(flags byte, w, h int) []byte {
	w, h = w-1, h-1
	return riffChunk("VP8X", []byte{flags, 0, 0, 0, byte(w), byte(w >> 8), byte(w >> 16), byte(h), byte(h >> 8), byte(h >> 16)})
}

// bitWriter packs bits, the lowest of a byte first.
type bitWriter struct {
	out  []byte
	used int
}

func (w *bitWriter) put(v uint32, n int) {
	for k := range n {
		if w.used%8 == 0 {
			w.out = append(w.out, 0)
		}
		w.out[w.used/8] |= byte(v>>k&1) << (w.used % 8)
		w.used++
	}
}

// code puts a prefix code of 8 bits, which runs from its highest bit.
func (w *bitWriter) code(v uint8) {
	for k := 7; k >= 0; k-- {
		w.put(uint32(v>>k&1), 1)
	}
}

// eightBitCode describes a prefix code that gives each of 256 values 8 bits and
// the rest of the alphabet none (RFC 9649, 3.7.2).
func (w *bitWriter) eightBitCode(alphabet int) {
	w.put(0, 1)    // not a simple code
	w.put(12-4, 4) // lengths of 12 codes of lengths follow
	for _, length := range []int{17, 18, 0, 1, 2, 3, 4, 5, 16, 6, 7, 8} {
		w.put(map[int]uint32{0: 1, 8: 1}[length], 3)
	}
	w.put(0, 1) // all lengths of the alphabet follow
	for k := range alphabet {
		w.put(map[bool]uint32{true: 1}[k < 256], 1) // length 0 has code 0, length 8 code 1
	}
}

// losslessChunk packs a picture as VP8L: each channel of each pixel in 8 bits.
func losslessChunk(m *image.NRGBA, alphaMeant uint32) []byte {
	var w bitWriter
	w.put(0x2f, 8)
	w.put(uint32(m.Rect.Dx()-1), 14)
	w.put(uint32(m.Rect.Dy()-1), 14)
	w.put(alphaMeant, 1)
	w.put(0, 3) // version
	w.put(0, 3) // no transform, no colour cache, one set of codes
	w.eightBitCode(256 + 24)
	w.eightBitCode(256)
	w.eightBitCode(256)
	w.eightBitCode(256)
	w.put(1, 1) // distances: a simple code
	w.put(0, 2) // of one value of one bit
	w.put(0, 1) // which is 0
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			c := m.NRGBAAt(x, y)
			w.code(c.G)
			w.code(c.R)
			w.code(c.B)
			w.code(c.A)
		}
	}
	return riffChunk("VP8L", w.out)
}

// losslessWebP is a picture as an extended lossless WebP with more chunks
// before and behind the picture's.
func losslessWebP(m *image.NRGBA, before, behind []byte) []byte {
	return webpOf(extendedHeader(0, m.Rect.Dx(), m.Rect.Dy()), before, losslessChunk(m, 1), behind)
}
