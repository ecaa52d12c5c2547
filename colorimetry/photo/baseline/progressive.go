package baseline

// markSOF2 begins the frame of a progressive JPEG, ITU-T T.81 table B.1.
const markSOF2 = 0xc2

// progress is a progressive JPEG as far as its scans were read, ITU-T T.81 annex G.
//
// Where its coefficients are not wanted a block needs one thing of the scans before:
// which of its coefficients are not 0, for these have a bit each in a later scan. So
// such a block takes 8 bytes and not 256.
type progress struct {
	*decoder
	across int         // MCUs in a row
	filled []fills     // by channel
	kept   [][64]int32 // coefficients of the wanted blocks in their natural order, tile by tile
}

// fills are the blocks of a channel, row by row.
type fills struct {
	stride int
	not0   []uint64 // bit k: the coefficient at zigzag place k is not 0
	begun  bool     // the first coefficients are there
}

// pass is one scan: for which channels, from which coefficient to which, and the
// bits of them that it holds: all down to low where high is 0, else bit low alone.
type pass struct {
	parts      []int
	start, end int
	high, low  uint
	run        int // blocks still to come that have nothing new
}

// progressive decodes all scans, the first of which has this header, and then the
// wanted blocks.
func (d *decoder) progressive(head []byte) bool {
	if d.restart > 0 { // rare, and counted in another way in each scan
		return false
	}
	p := progress{decoder: d}
	across, down := d.mcus()
	p.across = across
	for _, c := range d.parts {
		p.filled = append(p.filled, fills{stride: across * c.h, not0: make([]uint64, across*c.h*down*c.v)})
	}
	p.kept = make([][64]int32, len(d.picture.pix)/64)
	for {
		s, ok := p.passOf(head)
		if !ok || !p.read(&s) {
			return false
		}
		if head, ok = p.next(); !ok {
			return false
		}
		if head == nil {
			return p.write()
		}
	}
}

// next reads on to the next scan's header; nil is the picture's end. Between scans
// only Huffman tables and comments are taken.
func (p *progress) next() (head []byte, ok bool) {
	for !p.ends() {
		mark, body, ok := p.segment()
		switch {
		case !ok:
			return nil, false
		case mark == markSOS:
			return body, true
		case mark == markDHT && p.huffmanTables(body), mark == markCOM:
		default:
			return nil, false
		}
	}
	return nil, true
}

// passOf reads a scan's header: all channels in their order, or one.
func (p *progress) passOf(body []byte) (s pass, ok bool) {
	if len(body) < 1 || len(body) != 4+2*int(body[0]) {
		return s, false
	}
	n := int(body[0])
	s.start, s.end = int(body[1+2*n]), int(body[2+2*n])
	s.high, s.low = uint(body[3+2*n]>>4), uint(body[3+2*n]&15)
	switch {
	case n != 1 && n != len(p.parts), s.low > 13, s.high != 0 && s.high != s.low+1:
		return s, false
	case s.start == 0 && s.end != 0, s.start > s.end, s.end > 63, s.start > 0 && n > 1:
		return s, false
	}
	for i := range n {
		k := i
		for n == 1 && k < len(p.parts)-1 && p.parts[k].id != body[1] {
			k++
		}
		c, tables := &p.parts[k], body[2+2*i]
		dc, ac := tables>>4, tables&15
		if c.id != body[1+2*i] || dc > 1 || ac > 1 || !p.known[c.tq] {
			return s, false
		}
		c.dc, c.ac, c.quant, c.last = &p.dc[dc], &p.ac[ac], &p.quant[c.tq], 0
		if s.start > 0 && !c.ac.there || s.start == 0 && s.high == 0 && !c.dc.there || !p.filled[k].begun && (s.start > 0 || s.high > 0) {
			return s, false
		}
		p.filled[k].begun = true
		s.parts = append(s.parts, k)
	}
	return s, len(p.parts) == 1 || p.jfif || string([]byte{p.parts[0].id, p.parts[1].id, p.parts[2].id}) != "RGB"
}

// read reads one scan. Of several channels the blocks come MCU by MCU, of one row
// by row, without those that lie beyond the picture.
func (p *progress) read(s *pass) bool {
	b := bits{data: p.data, pos: p.pos}
	ok := true
	if len(s.parts) > 1 {
		for m := 0; m < len(p.picture.at) && ok; m++ {
			ok = p.mcuOf(s, &b, m)
		}
	} else {
		k := s.parts[0]
		c, stride, all := &p.parts[k], p.filled[k].stride, len(p.filled[k].not0)
		for at := 0; at < all && 8*(at/stride) < p.height && ok; at++ {
			if x, y := at%stride, at/stride; 8*x < p.width {
				ok = p.blockOf(s, &b, k, y/c.v*p.across+x/c.h, y%c.v*c.h+x%c.h, at)
			}
		}
	}
	b.fill()
	p.pos = b.pos
	return ok && s.run == 0 && b.n >= 0 && b.n <= 7
}

// mcuOf reads the blocks of one MCU.
func (p *progress) mcuOf(s *pass, b *bits, m int) bool {
	for _, k := range s.parts {
		c := &p.parts[k]
		for i := range c.h * c.v {
			x, y := m%p.across*c.h+i%c.h, m/p.across*c.v+i/c.h
			if !p.blockOf(s, b, k, m, i, y*p.filled[k].stride+x) {
				return false
			}
		}
	}
	return true
}

// blockOf reads what a scan has of block i of channel k in an MCU.
func (p *progress) blockOf(s *pass, b *bits, k, mcu, i, at int) bool {
	c := &p.parts[k]
	var kept *[64]int32
	if tile := p.picture.at[mcu]; tile >= 0 {
		kept = &p.kept[(int(tile)+c.first)/64+i]
	}
	not0 := &p.filled[k].not0[at]
	b.fill()
	ok := true
	switch {
	case s.start == 0 && s.high == 0:
		if ok = c.begin(b); kept != nil {
			kept[0] = c.last << s.low
		}
	case s.start == 0:
		if bit := b.take(1); kept != nil {
			kept[0] |= int32(bit << s.low)
		}
	case s.high == 0:
		ok = s.first(b, c.ac, not0, kept)
	default:
		ok = s.refine(b, c.ac, not0, kept)
	}
	return ok && b.n >= 0
}

// first reads the leading bits of a block's coefficients, G.1.2.2.
func (s *pass) first(b *bits, t *table, not0 *uint64, kept *[64]int32) bool {
	if s.run > 0 {
		s.run--
		return true
	}
	for k := s.start; k <= s.end; k++ {
		run, size, ok := s.code(b, t)
		switch {
		case !ok:
			return false
		case size == 0 && run < 15:
			s.run = 1<<run + int(b.take(run)) - 1
			return true
		case size == 0:
			k += 15
			continue
		}
		if k += run; k > s.end {
			return false
		}
		v := b.value(size) << s.low
		*not0 |= 1 << k
		if kept != nil {
			kept[zigzag[k]] = v
		}
	}
	return true
}

// code reads one symbol: a run of zeros and the size of the value after it.
func (s *pass) code(b *bits, t *table) (run, size int, ok bool) {
	if b.n < 32 {
		b.fill()
	}
	symbol, ok := b.symbol(t)
	return int(symbol >> 4), int(symbol & 15), ok
}

// refine reads one more bit of the coefficients that are not 0, and those that begin
// with this bit, G.1.2.3.
func (s *pass) refine(b *bits, t *table, not0 *uint64, kept *[64]int32) bool {
	k := s.start
	for ; s.run == 0 && k <= s.end; k++ {
		run, size, ok := s.code(b, t)
		if !ok || size > 1 {
			return false
		}
		if size == 0 && run < 15 {
			s.run = 1<<run + int(b.take(run))
			break
		}
		positive := size == 1 && b.take(1) == 1
		if k = s.correct(b, *not0, kept, k, run); k > s.end {
			return false
		}
		if size == 0 {
			continue
		}
		*not0 |= 1 << k
		if kept != nil {
			kept[zigzag[k]] = -1 << s.low
			if positive {
				kept[zigzag[k]] = 1 << s.low
			}
		}
	}
	if s.run > 0 {
		s.run--
		s.correct(b, *not0, kept, k, -1)
	}
	return true
}

// correct reads a bit for each coefficient that is not 0, from k on, up to the zero
// after so many zeros, and returns its place; below 0 it goes on to the end.
func (s *pass) correct(b *bits, not0 uint64, kept *[64]int32, k, zeros int) int {
	for ; k <= s.end; k++ {
		if not0>>k&1 == 0 {
			if zeros == 0 {
				break
			}
			zeros--
			continue
		}
		if b.n < 1 {
			b.fill()
		}
		if b.take(1) == 0 || kept == nil {
			continue
		}
		if v := &kept[zigzag[k]]; *v >= 0 {
			*v += 1 << s.low
		} else {
			*v -= 1 << s.low
		}
	}
	return k
}

// take reads so many bits, at most 16.
func (b *bits) take(n int) uint32 {
	v := uint32(b.acc >> 1 >> (63 - n))
	b.acc <<= uint(n)
	b.n -= n
	return v
}

// write transforms the wanted blocks, when every channel was there.
func (p *progress) write() bool {
	for k := range p.parts {
		if !p.filled[k].begun {
			return false
		}
	}
	for _, at := range p.picture.at {
		for k := range p.parts {
			c := &p.parts[k]
			for i := 0; i < c.h*c.v && at >= 0; i++ {
				block := &p.kept[(int(at)+c.first)/64+i]
				for z, place := range zigzag {
					block[place] *= c.quant[z]
				}
				invert(block, p.picture.pix[int(at)+c.first+(i/c.h*c.stride+i%c.h)<<3:], c.stride)
			}
		}
	}
	return true
}
