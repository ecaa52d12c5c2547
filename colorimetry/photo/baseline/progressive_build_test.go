package baseline

import (
	onebits "math/bits"
	"math/rand/v2"
)

// scans is a progressive JPEG that is made of random codes: what a decoder reads is
// drawn as it would read it, so that every draw is a file without fault.
type scans struct {
	spec
	rng  *rand.Rand
	out  writer
	not0 map[[3]int]uint64 // by channel and place of a block: the coefficients that are not 0
	run  int               // blocks still to come that have nothing new
	left int               // blocks of the scan after this one
}

// scanSymbols are those of scans after the first coefficient: ends of blocks, runs of
// zeros, and values of up to 10 bits after runs.
func scanSymbols() (out []byte) {
	out = []byte{0x00, 0x01, 0x11, 0xf0, 0x21, 0x10, 0x20, 0x02}
	for run := range 16 {
		for size := range 11 {
			if s := byte(run<<4 | size); s != 0x00 && s != 0x01 && s != 0x11 && s != 0xf0 && s != 0x21 && s != 0x10 && s != 0x20 && s != 0x02 {
				out = append(out, s)
			}
		}
	}
	return out
}

// symbol writes one of the symbols.
func (s *scans) symbol(symbol byte) {
	all := scanSymbols()
	for i, v := range all {
		if v == symbol {
			s.out.code(lengths(len(all)), i)
			return
		}
	}
}

// ends writes that this block, and perhaps some after it, has nothing more.
func (s *scans) ends() {
	n := 0
	for n < 3 && 1<<(n+1) <= s.left && s.rng.IntN(2) == 0 {
		n++
	}
	extra := s.rng.IntN(1 << n)
	if 1<<n+extra > s.left+1 {
		extra = 0
	}
	s.symbol(byte(n << 4))
	s.out.put(uint32(extra), n)
	s.run = 1<<n + extra
}

// first writes the leading bits of a block's coefficients.
func (s *scans) first(block [3]int, start, end int) {
	if s.run > 0 {
		s.run--
		return
	}
	for k := start; k <= end; k++ {
		run, size := s.rng.IntN(4), 1+s.rng.IntN(3)
		if s.rng.IntN(10) == 0 {
			size = 10
		}
		switch {
		case s.rng.IntN(12) == 0 && k+15 <= end:
			s.symbol(0xf0)
			k += 15
		case s.rng.IntN(4) == 0 || k+run > end:
			s.ends()
			s.run--
			return
		default:
			s.symbol(byte(run<<4 | size))
			s.out.put(s.rng.Uint32(), size)
			k += run
			s.not0[block] |= 1 << k
		}
	}
}

// zero is the place after so many zeros from k on, over the end where there is none.
func (s *scans) zero(block [3]int, k, end, zeros int) int {
	for ; k <= end; k++ {
		if s.not0[block]>>k&1 != 0 {
			continue
		}
		if zeros == 0 {
			break
		}
		zeros--
	}
	return k
}

// refine writes one more bit of the coefficients, and new ones.
func (s *scans) refine(block [3]int, start, end int) {
	k := start
	bitsTo := func(to int) { // from k, of all that are not 0
		n := onebits.OnesCount64(s.not0[block] >> k << k & (1<<to - 1))
		for range n {
			s.out.put(s.rng.Uint32(), 1)
		}
	}
	for s.run == 0 && k <= end {
		run, symbol := s.rng.IntN(3), byte(1)
		if s.rng.IntN(12) == 0 {
			run, symbol = 15, 0
		}
		at := s.zero(block, k, end, run)
		if at > end || s.rng.IntN(4) == 0 {
			s.ends()
			break
		}
		s.symbol(byte(run<<4) | symbol)
		if symbol == 1 {
			s.out.put(s.rng.Uint32(), 1)
		}
		bitsTo(at)
		if symbol == 1 {
			s.not0[block] |= 1 << at
		}
		k = at + 1
	}
	if s.run > 0 {
		s.run--
		bitsTo(end + 1)
	}
}

// scan writes one scan of some channels, each by its blocks across and down.
func (s *scans) scan(channels []int, start, end, high, low int) {
	head := []byte{byte(len(channels))}
	for _, k := range channels {
		t := byte(min(k, 1))
		head = append(head, byte(k+1), t<<4|t)
	}
	s.out.out = append(s.out.out, segment(markSOS, append(head, byte(start), byte(end), byte(high<<4|low))...)...)
	blocks := s.blocks(channels)
	s.run = 0
	for i, block := range blocks {
		s.left = len(blocks) - 1 - i
		switch {
		case start == 0 && high == 0:
			n := s.rng.IntN(4)
			s.out.code(lengths(len(dcSymbols())), n)
			s.out.put(s.rng.Uint32(), int(dcSymbols()[n]))
		case start == 0:
			s.out.put(s.rng.Uint32(), 1)
		case high == 0:
			s.first(block, start, end)
		default:
			s.refine(block, start, end)
		}
	}
	s.out.pad()
}

// blocks are those of a scan in their order.
func (s *scans) blocks(channels []int) (out [][3]int) {
	h0, v0 := s.factors(0)
	across, down := (s.width+8*h0-1)/(8*h0), (s.height+8*v0-1)/(8*v0)
	if len(channels) == 1 {
		h, v := s.factors(channels[0])
		for y := range down * v {
			for x := range across * h {
				if 8*x < s.width && 8*y < s.height {
					out = append(out, [3]int{channels[0], x, y})
				}
			}
		}
		return out
	}
	for m := range across * down {
		for _, k := range channels {
			h, v := s.factors(k)
			for i := range h * v {
				out = append(out, [3]int{k, m%across*h + i%h, m/across*v + i/h})
			}
		}
	}
	return out
}

// factors are a channel's sampling.
func (s *scans) factors(k int) (h, v int) {
	if len(s.sampling) == 1 {
		return 1, 1
	}
	return int(s.sampling[k] >> 4), int(s.sampling[k] & 15)
}

// progressive is a file of a spec's size and sampling in up to eleven scans.
func (s spec) progressive() []byte {
	rng := rand.New(rand.NewPCG(s.seed, 2))
	p := scans{spec: s, rng: rng, not0: map[[3]int]uint64{}}
	p.out.out = withScanTables(s.head(rng), len(s.sampling))
	var all []int
	for k := range s.sampling {
		all = append(all, k)
	}
	p.scan(all, 0, 0, 0, 1)
	for k := range all {
		p.scan([]int{k}, 1, 5, 0, 2)
		p.scan([]int{k}, 6, 63, 0, 2)
	}
	for k := range all {
		p.scan([]int{k}, 1, 63, 2, 1)
	}
	if rng.IntN(2) == 0 {
		p.scan(all, 0, 0, 1, 0)
	}
	p.scan([]int{0}, 1, 63, 1, 0)
	return append(p.out.out, 0xff, markEOI)
}

// withScanTables turns the head of a sequential file into that of a progressive one:
// its frame, and tables for the symbols of scans, without the scan's header.
func withScanTables(head []byte, channels int) []byte {
	head = head[:len(head)-2-(6+2*channels)]
	for i := 2; i < len(head); i += 2 + int(head[i+2])<<8 + int(head[i+3]) {
		if head[i+1] == markSOF0 {
			head[i+1] = markSOF2
		}
	}
	symbols := scanSymbols()
	counts := lengths(len(symbols))
	for t := range byte(2) {
		head = append(head, segment(markDHT, append(append([]byte{0x10 | t}, counts[:]...), symbols...)...)...)
	}
	return head
}
