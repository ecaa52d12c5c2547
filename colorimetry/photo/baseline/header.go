package baseline

import "bytes"

// Markers, ITU-T T.81 table B.1.
const (
	markSOF0  = 0xc0 // baseline
	markDHT   = 0xc4
	markRST0  = 0xd0
	markEOI   = 0xd9
	markSOS   = 0xda
	markDQT   = 0xdb
	markDRI   = 0xdd
	markAPP0  = 0xe0
	markAPP14 = 0xee
	markAPP15 = 0xef
	markCOM   = 0xfe
)

// header reads all segments up to and with the header of the scan, or of the first
// of a progressive JPEG.
func (d *decoder) header() bool {
	if !bytes.HasPrefix(d.data, []byte{0xff, 0xd8}) {
		return false
	}
	d.pos = 2
	for {
		mark, body, ok := d.segment()
		if !ok {
			return false
		}
		switch {
		case mark == markSOS && d.several:
			d.firstScan = body
			return d.parts != nil
		case mark == markSOS:
			return d.scanHeader(body)
		case mark == markSOF0, mark == markSOF2:
			d.several = mark == markSOF2
			ok = d.frame(body)
		case mark == markDQT:
			ok = d.quantTables(body)
		case mark == markDHT:
			ok = d.huffmanTables(body)
		case mark == markDRI:
			ok = len(body) == 2
			if ok {
				d.restart = int(body[0])<<8 | int(body[1])
			}
		case mark == markAPP0:
			d.jfif = bytes.HasPrefix(body, []byte("JFIF\x00"))
		case mark == markAPP14: // it may say that the channels are red, green and blue
			ok = !bytes.HasPrefix(body, []byte("Adobe"))
		case mark > markAPP0 && mark <= markAPP15, mark == markCOM:
		default:
			ok = false
		}
		if !ok {
			return false
		}
	}
}

// segment reads one segment.
func (d *decoder) segment() (mark byte, body []byte, ok bool) {
	rest := d.data[d.pos:]
	if len(rest) < 4 || rest[0] != 0xff {
		return 0, nil, false
	}
	n := int(rest[2])<<8 | int(rest[3])
	if n < 2 || n > len(rest)-2 {
		return 0, nil, false
	}
	d.pos += 2 + n
	return rest[1], rest[4 : 2+n], true
}

// frame reads the frame header: size and channels.
func (d *decoder) frame(body []byte) bool {
	if d.parts != nil || len(body) < 6 || body[0] != 8 {
		return false
	}
	n := int(body[5])
	if n != 1 && n != 3 || len(body) != 6+3*n {
		return false
	}
	d.height, d.width = int(body[1])<<8|int(body[2]), int(body[3])<<8|int(body[4])
	if d.height == 0 || d.width == 0 || int64(d.width)*int64(d.height) > mostPixels {
		return false
	}
	for k := range n {
		c := body[6+3*k:]
		d.parts = append(d.parts, component{id: c[0], h: int(c[1] >> 4), v: int(c[1] & 15), tq: c[2]})
	}
	return d.sampled()
}

// sampled holds the channels to what image/jpeg reads.
func (d *decoder) sampled() bool {
	p := d.parts
	for _, c := range p {
		if c.tq > 3 || c.h < 1 || c.v < 1 || c.h > 4 || c.v > 4 || c.h == 3 || c.v == 3 {
			return false
		}
	}
	if len(p) == 1 { // its blocks come one by one whatever its factors say, A.2.2
		p[0].h, p[0].v = 1, 1
		return true
	}
	if p[0].id == p[1].id || p[0].id == p[2].id || p[1].id == p[2].id || p[0].v == 4 {
		return false
	}
	ok := ratios[[2]int{p[0].h / p[1].h, p[0].v / p[1].v}]
	whole := p[0].h%p[1].h == 0 && p[0].v%p[1].v == 0
	return ok && whole && p[1].h == p[2].h && p[1].v == p[2].v && p[0].h*p[0].v+2*p[1].h*p[1].v <= 10
}

// quantTables reads quantisation tables.
func (d *decoder) quantTables(body []byte) bool {
	for len(body) > 0 {
		wide, t := int(body[0]>>4), body[0]&15
		body = body[1:]
		if wide > 1 || t > 3 || len(body) < 64*(1+wide) {
			return false
		}
		for i := range 64 {
			v := int32(body[0])
			if wide == 1 {
				v = v<<8 | int32(body[1])
			}
			d.quant[t][i], body = v, body[1+wide:]
		}
		d.known[t] = true
	}
	return true
}

// scanHeader reads the scan header: all channels in their order, all coefficients.
func (d *decoder) scanHeader(body []byte) bool {
	n := len(d.parts)
	if n == 0 || len(body) != 4+2*n || int(body[0]) != n || body[1+2*n] != 0 || body[2+2*n] != 63 || body[3+2*n] != 0 {
		return false
	}
	for k := range d.parts {
		p, tables := &d.parts[k], body[2+2*k]
		dc, ac := tables>>4, tables&15
		if body[1+2*k] != p.id || dc > 1 || ac > 1 || !d.known[p.tq] || !d.dc[dc].there || !d.ac[ac].there {
			return false
		}
		p.dc, p.ac, p.quant = &d.dc[dc], &d.ac[ac], &d.quant[p.tq]
		p.ac.fillSteps()
	}
	return n == 1 || d.jfif || string([]byte{d.parts[0].id, d.parts[1].id, d.parts[2].id}) != "RGB"
}

// ends tells whether the picture's end follows its scan.
func (d *decoder) ends() bool {
	return bytes.HasPrefix(d.data[d.pos:], []byte{0xff, markEOI})
}
