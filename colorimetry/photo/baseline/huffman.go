package baseline

// lookBits is how many bits a table is looked up by: 10 hold most codes of a
// detailed photo with the value that follows, and two tables of luma stay in the
// nearest cache.
const lookBits = 10

// stepBits is how many bits are passed over at once where no value is wanted.
const stepBits = 12

// table is a Huffman table, ITU-T T.81 annex C.
type table struct {
	there bool
	// quick has, for the next lookBits bits, a code with the whole value after it:
	// value<<16 | run<<8 | bits of both. 0 where they are longer.
	quick [1 << lookBits]int32
	// codes has the code alone: symbol<<8 | its bits. 0 where it is longer.
	codes [1 << lookBits]uint16
	// steps has, for the next stepBits bits, as many whole codes with their values as
	// end in them: places passed<<8 | bits of all, with endRun places for the end. 0
	// where not one ends. They are filled in for the tables of a scan.
	steps [1 << stepBits]uint16
	// from[n] is the least code of over n bits, aligned to 16 bits; skip[n] takes a
	// code of n bits to its symbol's place.
	from    [17]uint32
	skip    [17]int32
	symbols [256]byte
}

// endRun is the run that ends a block in a quick entry.
const endRun = 128

// huffmanTables reads Huffman tables.
func (d *decoder) huffmanTables(body []byte) bool {
	for len(body) > 0 {
		if len(body) < 17 || body[0]>>4 > 1 || body[0]&15 > 1 {
			return false
		}
		t, ac := &d.dc[body[0]&15], body[0]>>4 == 1
		if ac {
			t = &d.ac[body[0]&15]
		}
		n := 0
		for _, c := range body[1:17] {
			n += int(c)
		}
		if n == 0 || n > 256 || len(body) < 17+n || !t.fill(body[1:17], body[17:17+n], ac) {
			return false
		}
		body = body[17+n:]
	}
	return true
}

// fill builds the table from the number of codes of each length and the symbols.
func (t *table) fill(counts, symbols []byte, ac bool) bool {
	*t = table{there: true}
	copy(t.symbols[:], symbols)
	code, at := uint32(0), int32(0)
	for i, n := range counts {
		bits := i + 1
		t.skip[bits] = at - int32(code)
		for range n {
			if code >= 1<<bits { // more codes than there are
				return false
			}
			if bits <= lookBits {
				t.enter(code, bits, t.symbols[at], ac)
			}
			code, at = code+1, at+1
		}
		t.from[bits] = code << (16 - bits)
		code <<= 1
	}
	return true
}

// enter puts one code into the look-up tables.
func (t *table) enter(code uint32, bits int, symbol byte, ac bool) {
	free := lookBits - bits
	first := code << free
	for k := range uint32(1) << free {
		t.codes[first|k] = uint16(symbol)<<8 | uint16(bits)
		if ac {
			t.quick[first|k] = quickEntry(symbol, bits, k, free)
		}
	}
}

// quickEntry is the entry of an AC symbol with the bits that follow its code.
func quickEntry(symbol byte, bits int, after uint32, free int) int32 {
	run, size := int32(symbol>>4), int(symbol&15)
	switch {
	case symbol == 0x00:
		return endRun<<8 | int32(bits)
	case symbol == 0xf0:
		return 15<<8 | int32(bits)
	case size == 0 || size > free:
		return 0
	}
	v := extend(after>>(free-size), size)
	return v<<16 | run<<8 | int32(bits+size)
}

// fillSteps builds the table that passes over values.
func (t *table) fillSteps() {
	for i := range t.steps {
		used, places := 0, 0
		for {
			e := t.quick[i<<used&(1<<stepBits-1)>>(stepBits-lookBits)]
			bits, run := int(e&63), int(e>>8&0xff)
			if e == 0 || used+bits > stepBits || places+run >= 64 && run != endRun {
				break
			}
			used += bits
			if run == endRun {
				places += endRun
				break
			}
			places += run + 1
		}
		t.steps[i] = uint16(places<<8 | used)
	}
}

// extend is EXTEND of ITU-T T.81 figure F.12.
func extend(v uint32, size int) int32 {
	x := int32(v)
	if size > 0 && x < 1<<(size-1) {
		x += -1<<size + 1
	}
	return x
}
