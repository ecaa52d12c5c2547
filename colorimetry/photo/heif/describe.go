package heif

import (
	"bytes"
	"encoding/binary"
)

// describe adds what lies about the picture: its turns, colour and camera facts.
func (r *reader) describe(m *metaBox, p *Picture) (err error) {
	it := m.items[m.primary]
	if m.transparent() {
		return &UnsupportedError{"this HEIC is transparent in places", "export the photo as PNG or JPEG"}
	}
	if p.Turns, err = m.readTurns(it, p.Width, p.Height); err != nil {
		return err
	}
	if err := m.readColour(it, p); err != nil {
		return err
	}
	p.Exif = r.exif(m)
	return nil
}

// transparent tells whether the primary item has an alpha beside it.
func (m *metaBox) transparent() bool {
	for _, ref := range m.references {
		if ref.kind != "auxl" || len(ref.to) == 0 || ref.to[0] != m.primary || m.items[ref.from] == nil {
			continue
		}
		for _, p := range m.property(m.items[ref.from], "auxC") {
			kind, _, _ := bytes.Cut(p.body[min(4, len(p.body)):], []byte{0})
			if s := string(kind); s == "urn:mpeg:mpegB:cicp:systems:auxiliary:alpha" || s == "urn:mpeg:hevc:2015:auxid:1" {
				return true
			}
		}
	}
	return false
}

// readColour reads the colr boxes of the item; its first tile's stand in for
// what it does not say, and after them the coded picture's own statement.
func (m *metaBox) readColour(it *item, p *Picture) error {
	sources := []*item{it}
	if tiles := m.tiles(); p.grid != nil {
		sources = append(sources, m.items[tiles[0]])
	}
	for _, from := range sources {
		icc, code := p.ICC != nil || p.ICCTwice, p.CodeGiven
		for _, b := range m.property(from, "colr") {
			if err := p.takeColour(b.body, icc, code); err != nil {
				return err
			}
		}
	}
	if sps := p.coded[0].sps; !p.CodeGiven && sps.codeGiven {
		p.Code, p.CodeGiven = sps.code, true
	}
	return nil
}

// takeColour notes one colr box; what an earlier source gave is kept.
func (p *Picture) takeColour(body []byte, icc, code bool) error {
	c := cursor{data: body}
	switch kind := c.kind(); kind {
	case "prof", "rICC":
		switch {
		case icc:
		case p.ICC != nil || p.ICCTwice:
			p.ICC, p.ICCTwice = nil, true
		default:
			p.ICC = c.data
		}
	case "nclx":
		if !code {
			p.Code = CodePoints{c.int(2), c.int(2), c.int(2), c.int(1)>>7 == 1}
			p.CodeGiven = true
		}
	}
	return shortIn(&c, "colr")
}

// exif returns the TIFF structure of the Exif item that describes the primary
// item, or of one that describes none; nil when there is none that can be read.
func (r *reader) exif(m *metaBox) []byte {
	for _, id := range m.order {
		it := m.items[id]
		if it.kind != "Exif" || !m.describes(id) {
			continue
		}
		pieces, err := r.bytes(m, it)
		if err != nil || len(pieces) != 1 || len(pieces[0]) < 4 {
			return []byte{} // there and not readable
		}
		body := pieces[0]
		skip := uint64(binary.BigEndian.Uint32(body)) + 4
		return body[min(skip, uint64(len(body))):]
	}
	return nil
}

// describes tells whether an item's references say that it describes the
// primary item, or nothing else.
func (m *metaBox) describes(id uint32) bool {
	other := false
	for _, ref := range m.references {
		if ref.kind != "cdsc" || ref.from != id {
			continue
		}
		for _, to := range ref.to {
			if to == m.primary {
				return true
			}
			other = true
		}
	}
	return !other
}
