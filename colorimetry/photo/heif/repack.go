package heif

import (
	"bytes"
	"encoding/binary"
)

// Repack writes the coded picture as a plain file of its own: the tiles of one
// grid, and nothing else. A decoder that gets it meets no other item, turns
// nothing and reads no box of the original's; its picture is Width by Height
// pixels.
//
// Of a picture of more than 8 bits the tiles say their matrix and range, since
// the decoder converts it by them (see [Picture.Deep]).
//
// A picture of one piece becomes a grid of one tile, unless it is of luma
// alone: the decoder that is known (libheif 1.18.2) smooths the chroma of a
// single picture and leaves that of a grid as coded, and takes no grey grid.
func (p *Picture) Repack() []byte {
	w := packer{p: p}
	w.gather()
	head := join(boxOf("ftyp", []byte("heic\x00\x00\x00\x00mif1heic")), w.meta(0))
	head = join(boxOf("ftyp", []byte("heic\x00\x00\x00\x00mif1heic")), w.meta(len(head)+8))
	total := 0
	for _, it := range w.items {
		total += it.size
	}
	out := make([]byte, 0, len(head)+8+total)
	out = append(out, head...)
	out = be32(out, uint32(8+total))
	out = append(out, "mdat"...)
	for _, it := range w.items {
		for _, piece := range it.data {
			out = append(out, piece...)
		}
	}
	return out
}

// packer lays the new file out.
type packer struct {
	p       *Picture
	items   []packed
	configs [][]byte
}

// packed is one item of the new file; its number is its place, from 1.
type packed struct {
	kind          string
	data          [][]byte
	size          int
	config        int // its decoder settings' place; -1 for a grid
	width, height int
}

// gather lists the items: the tiles or the one picture, and the grid last.
func (w *packer) gather() {
	for _, c := range w.p.coded {
		w.add(packed{kind: "hvc1", data: c.data, config: w.config(c.config), width: c.width, height: c.height})
	}
	if g := w.gridOf(); g != nil {
		body := []byte{0, 1, byte(g.rows - 1), byte(g.columns - 1)}
		body = be32(be32(body, uint32(w.p.Width)), uint32(w.p.Height))
		w.add(packed{kind: "grid", data: [][]byte{body}, config: -1, width: w.p.Width, height: w.p.Height})
	}
}

// gridOf is the grid that is written; nil for none.
func (w *packer) gridOf() *grid {
	if w.p.grid == nil && w.p.Chroma > 0 {
		return &grid{rows: 1, columns: 1}
	}
	return w.p.grid
}

func (w *packer) add(it packed) {
	for _, piece := range it.data {
		it.size += len(piece)
	}
	w.items = append(w.items, it)
}

// config gives the place of decoder settings; tiles share them.
func (w *packer) config(config []byte) int {
	for i, c := range w.configs {
		if string(c) == string(config) {
			return i
		}
	}
	w.configs = append(w.configs, config)
	return len(w.configs) - 1
}

// meta is the meta box for items' bytes that begin at a place of the file.
func (w *packer) meta(at int) []byte {
	last := uint16(len(w.items))
	var infos, places []byte
	for i, it := range w.items {
		id := uint16(i + 1)
		infos = append(infos, fullBox("infe", 2, 0, be16(be16(nil, id), 0), []byte(it.kind), []byte{0})...)
		places = be16(be16(be16(places, id), 0), 1)
		places = be32(be32(places, uint32(at)), uint32(it.size))
		at += it.size
	}
	parts := [][]byte{
		fullBox("hdlr", 0, 0, make([]byte, 4), []byte("pict"), make([]byte, 13)),
		fullBox("pitm", 0, 0, be16(nil, last)),
		fullBox("iloc", 0, 0, []byte{0x44, 0}, be16(nil, last), places),
		fullBox("iinf", 0, 0, be16(nil, last), infos),
		w.properties(),
	}
	if w.gridOf() != nil {
		ref := be16(be16(nil, last), last-1)
		for id := range last - 1 {
			ref = be16(ref, id+1)
		}
		parts = append(parts, fullBox("iref", 0, 0, boxOf("dimg", ref)))
	}
	return fullBox("meta", 0, 0, parts...)
}

// properties is the iprp box: all decoder settings, the channels' depths, then
// each item's size.
func (w *packer) properties() []byte {
	var all, ties []byte
	for _, c := range w.configs {
		all = append(all, boxOf("hvcC", c)...)
	}
	channels := 3
	if w.p.Chroma == 0 {
		channels = 1
	}
	depths := uint16(len(w.configs) + 1)
	if w.p.Deep() {
		all = append(all, w.code()...)
		depths++
	}
	all = append(all, fullBox("pixi", 0, 0, []byte{byte(channels)}, bytes.Repeat([]byte{byte(w.p.Depth)}, channels))...)
	for i, it := range w.items {
		all = append(all, fullBox("ispe", 0, 0, be32(be32(nil, uint32(it.width)), uint32(it.height)))...)
		ties = be16(ties, uint16(i+1))
		size := depths + uint16(i+1)
		if it.config < 0 {
			ties = be16(be16(append(ties, 2), size), depths)
			continue
		}
		config := 0x8000 | uint16(it.config+1)
		if w.p.Deep() {
			ties = be16(be16(be16(be16(append(ties, 4), size), depths), depths-1), config)
			continue
		}
		ties = be16(be16(be16(append(ties, 3), size), depths), config)
	}
	return boxOf("iprp", boxOf("ipco", all), fullBox("ipma", 0, 1, be32(nil, uint32(len(w.items))), ties))
}

// code is the colr box of a deep picture: its matrix and range. Primaries and
// transfer do not matter to the decoder.
func (w *packer) code() []byte {
	matrix, full := w.p.Matrix()
	flags := byte(0)
	if full {
		flags = 0x80
	}
	return boxOf("colr", []byte("nclx"), be16(be16(be16(nil, 1), 13), uint16(matrix)), []byte{flags})
}

func be16(b []byte, v uint16) []byte { return binary.BigEndian.AppendUint16(b, v) }
func be32(b []byte, v uint32) []byte { return binary.BigEndian.AppendUint32(b, v) }

func join(parts ...[]byte) (out []byte) {
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

func boxOf(kind string, parts ...[]byte) []byte {
	body := join(parts...)
	return join(be32(nil, uint32(8+len(body))), []byte(kind), body)
}

func fullBox(kind string, version byte, flags byte, parts ...[]byte) []byte {
	return boxOf(kind, append([][]byte{{version, 0, 0, flags}}, parts...)...)
}
