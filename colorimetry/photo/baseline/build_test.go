package baseline

import (
	"encoding/binary"
	"math/rand/v2"
)

// spec is a JPEG that is made of random blocks.
type spec struct {
	width, height int
	sampling      []byte // of each channel: across in the high nibble, down in the low
	restart       int
	wide          bool // 16-bit quantisation steps
	seed          uint64
}

// lengths are the code lengths of both Huffman tables: a code of each length up to
// 9 bits, some of the lengths about the look-up's, the rest as long as can be.
func lengths(symbols int) (counts [16]byte) {
	for bits, left := 2, symbols; bits <= 16 && left > 0; bits++ {
		n := 1
		if bits >= lookBits {
			n = 6
		}
		if bits == 16 {
			n = left
		}
		n = min(n, left)
		counts[bits-1] = byte(n)
		left -= n
	}
	return counts
}

// writer writes the bits of a scan.
type writer struct {
	out  []byte
	acc  uint32
	have int
}

func (w *writer) put(v uint32, bits int) {
	for i := bits - 1; i >= 0; i-- {
		w.acc, w.have = w.acc<<1|v>>i&1, w.have+1
		if w.have == 8 {
			w.flush()
		}
	}
}

func (w *writer) flush() {
	w.out = append(w.out, byte(w.acc))
	if byte(w.acc) == 0xff {
		w.out = append(w.out, 0)
	}
	w.acc, w.have = 0, 0
}

// pad fills the last byte up with ones.
func (w *writer) pad() {
	for w.have > 0 {
		w.put(1, 1)
	}
}

// code writes the code of a table's symbol number i.
func (w *writer) code(counts [16]byte, i int) {
	code := uint32(0)
	for bits, n := range counts {
		if i < int(n) {
			w.put(code+uint32(i), bits+1)
			return
		}
		i -= int(n)
		code = (code + uint32(n)) << 1
	}
}

// dcSymbols and acSymbols are the symbols in the order of their codes.
func dcSymbols() (out []byte) {
	for i := range 13 {
		out = append(out, byte(i*5%13))
	}
	return append(out, 13, 14, 15, 16)
}

func acSymbols() (out []byte) {
	out = []byte{0x00, 0x01, 0xf0, 0x02, 0x11, 0x05}
	for run := range 16 {
		for size := range 15 {
			if s := byte(run<<4 | (size + 1)); s != 0x01 && s != 0x02 && s != 0x11 && s != 0x05 {
				out = append(out, s)
			}
		}
	}
	return out
}

// randomBlock writes the codes of a block: short values mostly, some of every size.
func (w *writer) randomBlock(rng *rand.Rand) {
	dc, ac := dcSymbols(), acSymbols()
	i := rng.IntN(4)
	if rng.IntN(20) == 0 {
		i = rng.IntN(len(dc))
	}
	w.code(lengths(len(dc)), i)
	w.put(rng.Uint32(), int(dc[i]))
	for k := 1; k < 64; {
		i := rng.IntN(6)
		if rng.IntN(3) == 0 {
			i = rng.IntN(len(ac))
		}
		s := ac[i]
		if s != 0 && k+int(s>>4) > 63 {
			i, s = 0, 0
		}
		w.code(lengths(len(ac)), i)
		w.put(rng.Uint32(), int(s&15))
		if s == 0 {
			return
		}
		k += int(s>>4) + 1
	}
}

// segment is a marker with its length and body.
func segment(mark byte, body ...byte) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xff, mark}, uint16(len(body)+2)), body...)
}

// head is everything before the scan's data.
func (s spec) head(rng *rand.Rand) []byte {
	out := []byte{0xff, 0xd8}
	for t := range byte(2) {
		steps := []byte{t}
		if s.wide {
			steps[0] |= 0x10
		}
		for range 64 {
			if s.wide {
				steps = append(steps, byte(rng.IntN(2)))
			}
			steps = append(steps, byte(1+rng.IntN(40)))
		}
		out = append(out, segment(markDQT, steps...)...)
	}
	n := len(s.sampling)
	frame := []byte{8, byte(s.height >> 8), byte(s.height), byte(s.width >> 8), byte(s.width), byte(n)}
	scan := []byte{byte(n)}
	for k, f := range s.sampling {
		t := byte(min(k, 1))
		frame = append(frame, byte(k+1), f, t)
		scan = append(scan, byte(k+1), t<<4|t)
	}
	out = append(out, segment(markSOF0, frame...)...)
	for t := range byte(2) {
		for class, symbols := range [][]byte{dcSymbols(), acSymbols()} {
			counts := lengths(len(symbols))
			body := append([]byte{byte(class)<<4 | t}, counts[:]...)
			out = append(out, segment(markDHT, append(body, symbols...)...)...)
		}
	}
	if s.restart > 0 {
		out = append(out, segment(markDRI, byte(s.restart>>8), byte(s.restart))...)
	}
	return append(out, segment(markSOS, append(scan, 0, 63, 0)...)...)
}

// file is the whole JPEG.
func (s spec) file() []byte {
	rng := rand.New(rand.NewPCG(s.seed, 1))
	w := writer{out: s.head(rng)}
	h, v, blocks := 1, 1, 1
	if len(s.sampling) == 3 {
		h, v, blocks = int(s.sampling[0]>>4), int(s.sampling[0]&15), 0
		for _, f := range s.sampling {
			blocks += int(f>>4) * int(f&15)
		}
	}
	all := ((s.width + 8*h - 1) / (8 * h)) * ((s.height + 8*v - 1) / (8 * v))
	for mcu := 1; mcu <= all; mcu++ {
		for range blocks {
			w.randomBlock(rng)
		}
		if s.restart > 0 && mcu%s.restart == 0 && mcu < all {
			w.pad()
			w.out = append(w.out, 0xff, markRST0+byte((mcu/s.restart-1)%8))
		}
	}
	w.pad()
	return append(w.out, 0xff, markEOI)
}
