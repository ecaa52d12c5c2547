package baseline

// zigzag has the place of each coefficient in its block, ITU-T T.81 figure A.6.
var zigzag = [64]uint8{
	0, 1, 8, 16, 9, 2, 3, 10, 17, 24, 32, 25, 18, 11, 4, 5,
	12, 19, 26, 33, 40, 48, 41, 34, 27, 20, 13, 6, 7, 14, 21, 28,
	35, 42, 49, 56, 57, 50, 43, 36, 29, 22, 15, 23, 30, 37, 44, 51,
	58, 59, 52, 45, 38, 31, 39, 46, 53, 60, 61, 54, 47, 55, 62, 63,
}

// scan decodes all MCUs.
func (d *decoder) scan() bool {
	b := bits{data: d.data, pos: d.pos}
	all := len(d.picture.at)
	for m := range all {
		if !d.mcu(&b, m) {
			return false
		}
		if done := m + 1; d.restart > 0 && done%d.restart == 0 && done < all {
			if !b.marker(markRST0 + byte((done/d.restart-1)%8)) {
				return false
			}
			for k := range d.parts {
				d.parts[k].last = 0
			}
		}
	}
	b.fill()
	d.pos = b.pos
	return b.n >= 0 && b.n <= 7
}

// mcu decodes the blocks of one MCU into its tile, or passes over them.
func (d *decoder) mcu(b *bits, m int) bool {
	at := d.picture.at[m]
	if at < 0 {
		return d.pass(b)
	}
	var block [64]int32
	for k := range d.parts {
		p := &d.parts[k]
		for i := range p.h * p.v {
			block = [64]int32{}
			only, ok := p.block(b, &block, lastOf[d.samples])
			if !ok {
				return false
			}
			d.write(&block, only, d.picture.pix[int(at)+p.first+(i/p.h*p.stride+i%p.h)<<d.side:], p.stride)
		}
	}
	return true
}

// lastOf is the last coefficient that is used, in zigzag order, where a block
// gives so many samples a side.
var lastOf = [9]int{2: 4, 3: 12, 4: 24, 8: 63}

// write transforms a block and writes its samples.
func (d *decoder) write(block *[64]int32, only bool, dst []byte, stride int) {
	switch {
	case d.samples == 2:
		invert2(block, dst, stride)
	case d.samples == 3:
		invert3(block, dst, stride)
	case d.samples == 4:
		invert4(block, dst, stride)
	case only:
		flat(block[0], dst, stride)
	default:
		invert(block, dst, stride)
	}
}

// pass passes over the blocks of one MCU, for their bits and faults alone.
func (d *decoder) pass(b *bits) bool {
	for k := range d.parts {
		p := &d.parts[k]
		for range p.h * p.v {
			if !p.begin(b) || !p.skip(b, 1) {
				return false
			}
		}
	}
	return true
}

// begin decodes the first coefficient of a block.
func (p *component) begin(b *bits) bool {
	b.fill()
	size, ok := b.symbol(p.dc)
	if !ok || size > 16 {
		return false
	}
	p.last += b.value(int(size))
	return true
}

// block decodes the coefficients of one block as far as the last that is used,
// multiplied by their quantisation steps. only tells that all but the first are 0.
func (p *component) block(b *bits, block *[64]int32, last int) (only, ok bool) {
	if !p.begin(b) {
		return false, false
	}
	block[0] = p.last * p.quant[0]
	return p.rest(b, block, last)
}

// rest decodes the coefficients after the first. The bits are held in variables
// of its own, which is a fifth of the time.
func (p *component) rest(b *bits, block *[64]int32, last int) (only, ok bool) {
	acc, n, quick, quant := b.acc, b.n, &p.ac.quick, p.quant
	for k := 1; k <= last; k++ {
		if n < 32 {
			b.acc, b.n = acc, n
			b.fill()
			acc, n = b.acc, b.n
		}
		e := quick[acc>>(64-lookBits)]
		if e != 0 {
			acc <<= uint(e) & 63
			n -= int(e & 63)
		} else {
			b.acc, b.n = acc, n
			if e, ok = b.long(p.ac); !ok {
				return false, false
			}
			acc, n = b.acc, b.n
		}
		if k += int(e >> 8 & 0xff); k > last {
			b.acc, b.n = acc, n
			if k > 63 {
				return k == endRun+1, n >= 0 && k >= endRun
			}
			return false, p.skip(b, k+1)
		}
		block[zigzag[k]&63] = e >> 16 * quant[k&63]
	}
	b.acc, b.n = acc, n
	return false, p.skip(b, last+1)
}

// skip passes over the coefficients from k on.
func (p *component) skip(b *bits, k int) bool {
	acc, n, steps := b.acc, b.n, &p.ac.steps
	for k < 64 {
		if n < 32 {
			b.acc, b.n = acc, n
			b.fill()
			acc, n = b.acc, b.n
		}
		e := steps[acc>>(64-stepBits)]
		next := k + int(e>>8)
		if e != 0 && (next <= 64 || next >= endRun && next <= endRun+63) {
			acc <<= uint(e) & 63
			n -= int(e & 63)
			k = next
			continue
		}
		b.acc, b.n = acc, n
		run, ok := b.place(p.ac)
		if !ok {
			return false
		}
		acc, n = b.acc, b.n
		if k += run; k > 63 && k < endRun {
			return false
		}
		k++
	}
	b.acc, b.n = acc, n
	return n >= 0
}

// place decodes one AC code for its run alone.
func (b *bits) place(t *table) (run int, ok bool) {
	e := t.quick[b.acc>>(64-lookBits)]
	if e == 0 {
		e, ok = b.long(t)
		return int(e >> 8 & 0xff), ok
	}
	b.acc <<= uint(e) & 63
	b.n -= int(e & 63)
	return int(e >> 8 & 0xff), true
}

// symbol decodes one Huffman code. At least 16 bits must have been filled in, unless there are no more.
func (b *bits) symbol(t *table) (byte, bool) {
	if e := t.codes[b.acc>>(64-lookBits)]; e != 0 {
		b.acc <<= e & 15
		b.n -= int(e & 15)
		return byte(e >> 8), true
	}
	next := uint32(b.acc >> 48)
	for n := lookBits + 1; n <= 16; n++ {
		if next < t.from[n] {
			at := int32(next>>(16-n)) + t.skip[n]
			b.acc <<= uint(n)
			b.n -= n
			return t.symbols[at&0xff], true
		}
	}
	return 0, false
}

// value reads the value of so many bits, up to 16.
func (b *bits) value(size int) int32 {
	v := extend(uint32(b.acc>>1>>(63-size)), size)
	b.acc <<= uint(size)
	b.n -= size
	return v
}

// long is the entry of an AC code that with its value is too long for the quick table.
func (b *bits) long(t *table) (int32, bool) {
	symbol, ok := b.symbol(t)
	size := int(symbol & 15)
	if !ok || size == 0 && symbol != 0 && symbol != 0xf0 {
		return 0, false
	}
	switch symbol {
	case 0x00:
		return endRun << 8, true
	case 0xf0:
		return 15 << 8, true
	}
	return b.value(size)<<16 | int32(symbol>>4)<<8, true
}
