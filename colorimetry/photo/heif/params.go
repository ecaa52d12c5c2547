package heif

// params are what an HEVC sequence parameter set says (ITU-T H.265, 7.3.2.2).
type params struct {
	width, height int // after its own cropping
	chroma, depth int
	code          CodePoints
	codeGiven     bool
}

const nalSPS = 33 // H.265 table 7-1

// readConfig finds the parameter set in a decoder configuration (ISO/IEC 14496-15, 8.3.3.1).
func readConfig(config []byte) (p params, err error) {
	c := cursor{data: config}
	c.take(22)
	for range c.int(1) {
		kind := c.int(1) & 0x3f
		for range c.int(2) {
			unit := c.take(c.int(2))
			if c.short {
				return p, broken("its decoder settings are too short")
			}
			if kind == nalSPS && len(unit) > 2 {
				return readSPS(unit)
			}
		}
	}
	return p, broken("its decoder settings lack the picture's parameters")
}

// unescape takes the bytes out that keep start codes from arising (H.265, 7.4.2).
func unescape(unit []byte) []byte {
	out := make([]byte, 0, len(unit))
	zeros := 0
	for _, b := range unit {
		if zeros >= 2 && b == 3 {
			zeros = 0
			continue
		}
		if b == 0 {
			zeros++
		} else {
			zeros = 0
		}
		out = append(out, b)
	}
	return out
}

// readSPS reads a sequence parameter set up to its video usability information.
func readSPS(unit []byte) (p params, err error) {
	b := &bits{data: unescape(unit)[2:]}
	b.skip(4)
	sub := b.bits(3)
	b.skip(1)
	skipProfile(b, sub)
	b.ue()
	p.chroma = b.ue()
	if p.chroma == 3 {
		b.skip(1)
	}
	p.width, p.height = b.ue(), b.ue()
	if b.flag() {
		p.crop(b)
	}
	p.depth = 8 + b.ue()
	if chroma := 8 + b.ue(); chroma != p.depth && p.chroma > 0 {
		return p, unsupported("this HEIC has luma and chroma of different depths")
	}
	if b.short || p.width <= 0 || p.height <= 0 || p.chroma > 3 || p.depth > 16 {
		return p, broken("its picture's parameters make no sense")
	}
	p.usability(b, sub)
	return p, nil
}

// crop takes the conformance window off.
func (p *params) crop(b *bits) {
	across, down := 1, 1
	if p.chroma == 1 || p.chroma == 2 {
		across = 2
	}
	if p.chroma == 1 {
		down = 2
	}
	left, right, top, bottom := b.ue(), b.ue(), b.ue(), b.ue()
	p.width -= across * (left + right)
	p.height -= down * (top + bottom)
}

// skipProfile passes over profile, tier and level (H.265, 7.3.3).
func skipProfile(b *bits, sub int) {
	b.skip(88 + 8)
	var profile, level [8]bool
	for k := range sub {
		profile[k], level[k] = b.flag(), b.flag()
	}
	if sub > 0 {
		b.skip(2 * (8 - sub))
	}
	for k := range sub {
		if profile[k] {
			b.skip(88)
		}
		if level[k] {
			b.skip(8)
		}
	}
}

// usability goes on to what the set says of colour. What cannot be read to
// there says nothing.
func (p *params) usability(b *bits, sub int) {
	poc := 4 + b.ue()
	first := sub
	if b.flag() {
		first = 0
	}
	for range sub - first + 1 {
		b.ues(3)
	}
	b.ues(6)
	if enabled := b.flag(); enabled && b.flag() { // and written here
		skipScalingLists(b)
	}
	b.skip(2)
	if b.flag() { // PCM
		b.skip(8)
		b.ues(2)
		b.skip(1)
	}
	skipReferenceSets(b)
	if b.flag() {
		for range min(b.ue(), 33) {
			b.skip(poc + 1)
		}
	}
	b.skip(2)
	if b.flag() {
		p.readColour(b)
	}
}

// readColour reads the beginning of the video usability information (H.265, E.2.1).
func (p *params) readColour(b *bits) {
	if b.flag() && b.bits(8) == 255 {
		b.skip(32)
	}
	if b.flag() {
		b.skip(1)
	}
	if !b.flag() {
		return
	}
	b.skip(3)
	code := CodePoints{2, 2, 2, b.flag()}
	if b.flag() {
		code.Primaries, code.Transfer, code.Matrix = b.bits(8), b.bits(8), b.bits(8)
	}
	if !b.short {
		p.code, p.codeGiven = code, true
	}
}
