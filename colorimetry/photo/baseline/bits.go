package baseline

import "encoding/binary"

// bits reads the bits of a scan.
type bits struct {
	data []byte
	pos  int    // next byte
	acc  uint64 // the next bits, from the top; bits after them are theirs that follow, or 0
	n    int    // how many of acc are read in, up to 63; below 0 when more were taken than there are
}

// fill reads in bytes until 56 bits or more are there, or a marker or the end stops it.
func (b *bits) fill() {
	if b.pos+8 <= len(b.data) {
		w := binary.BigEndian.Uint64(b.data[b.pos:])
		if !hasFF(w) {
			b.acc |= w >> b.n
			k := (63 - b.n) >> 3
			b.pos += k
			b.n += 8 * k
			return
		}
	}
	b.fillSlowly()
}

// hasFF tells whether a byte of w is 0xff.
func hasFF(w uint64) bool {
	v := ^w
	return (v-0x0101010101010101)&^v&0x8080808080808080 != 0
}

// fillSlowly reads byte by byte, and takes out the zeros that follow 0xff.
func (b *bits) fillSlowly() {
	for b.n <= 55 && b.pos < len(b.data) {
		c := b.data[b.pos]
		if c == 0xff {
			if b.pos+1 >= len(b.data) || b.data[b.pos+1] != 0 {
				return
			}
			b.pos++
		}
		b.pos++
		b.acc |= uint64(c) << (56 - b.n)
		b.n += 8
	}
}

// marker ends an interval: it drops the rest of the last byte and expects the
// marker right there.
func (b *bits) marker(code byte) bool {
	b.fill() // what is left to read before a marker is there now
	if b.n < 0 || b.n > 7 || b.pos+2 > len(b.data) || b.data[b.pos] != 0xff || b.data[b.pos+1] != code {
		return false
	}
	*b = bits{data: b.data, pos: b.pos + 2}
	return true
}
