package heif

import "fmt"

// picture finds the primary item and what makes it up.
func (r *reader) picture(m *metaBox) (*Picture, error) {
	it := m.items[m.primary]
	if it == nil {
		return nil, broken("its main picture is missing")
	}
	if err := m.essentials(it); err != nil {
		return nil, err
	}
	p := &Picture{Item: m.primary}
	var err error
	switch it.kind {
	case "hvc1", "hev1":
		var one coded
		one, err = r.coded(m, it)
		p.coded = []coded{one}
		p.Width, p.Height = one.width, one.height
	case "grid":
		err = r.readGrid(m, it, p)
	default:
		return nil, otherKind(it.kind)
	}
	if err != nil {
		return nil, err
	}
	first := p.coded[0].sps
	p.Depth, p.Chroma = first.depth, first.chroma
	for _, c := range p.coded {
		if c.sps.depth != first.depth || c.sps.chroma != first.chroma {
			return nil, unsupported("this HEIC is made of tiles of different kinds")
		}
	}
	if p.grid != nil && p.Chroma == 0 {
		return nil, unsupported("this HEIC is made of grey tiles")
	}
	return p, nil
}

// otherKind names a primary item that is no HEVC picture.
func otherKind(kind string) error {
	switch kind {
	case "av01":
		return unsupported("this is an AVIF picture")
	case "":
		return broken("its main picture is of no kind")
	}
	return unsupported("this HEIC holds a picture of an unusual kind (" + word(kind) + ")")
}

// knownProperties are those that are read or that change no pixel, so that
// even when a file calls them essential nothing is passed over.
var knownProperties = map[string]bool{
	"hvcC": true, "ispe": true, "colr": true, "pixi": true, "irot": true, "imir": true, "clap": true, "pasp": true,
	"auxC": true, "clli": true, "mdcv": true, "cclv": true, "amve": true, "rloc": true, "udes": true, "altt": true,
}

// essentials refuses a picture with a property that must be understood and is not.
func (m *metaBox) essentials(it *item) error {
	if it.protected {
		return unsupported("this HEIC is protected")
	}
	for _, a := range it.properties {
		if a.index < 1 {
			continue // none
		}
		if a.index > len(m.properties) {
			return broken("its main picture has a property that is not there")
		}
		if kind := m.properties[a.index-1].kind; a.essential && !knownProperties[kind] {
			return unsupported("this HEIC needs the unusual property " + word(kind))
		}
	}
	return nil
}

// size reads the item's spatial extents.
func (m *metaBox) size(it *item) (width, height int, err error) {
	all := m.property(it, "ispe")
	if len(all) != 1 {
		return 0, 0, broken("its picture's size is not said once")
	}
	c := cursor{data: all[0].body}
	c.full()
	w, h := c.uint(4), c.uint(4)
	if c.short || w > 1<<30 || h > 1<<30 {
		return 0, 0, broken("its picture's size makes no sense")
	}
	return int(w), int(h), nil
}

// coded gathers one coded picture.
func (r *reader) coded(m *metaBox, it *item) (out coded, err error) {
	if out.width, out.height, err = m.size(it); err != nil {
		return out, err
	}
	config := m.property(it, "hvcC")
	if len(config) != 1 {
		return out, broken("its picture's decoder settings are missing")
	}
	out.config = config[0].body
	if out.sps, err = readConfig(out.config); err != nil {
		return out, err
	}
	if out.sps.width != out.width || out.sps.height != out.height {
		return out, broken(
			fmt.Sprintf("its header says %d x %d pixels and its coded picture %d x %d", out.width, out.height, out.sps.width, out.sps.height),
		)
	}
	out.data, err = r.bytes(m, it)
	if err == nil && len(out.data) == 0 {
		err = broken("its picture has no bytes")
	}
	return out, err
}

// readGrid reads a picture made of tiles of one size, row by row (ISO/IEC 23008-12, 6.6.2.3).
func (r *reader) readGrid(m *metaBox, it *item, p *Picture) error {
	pieces, err := r.bytes(m, it)
	if err != nil {
		return err
	}
	var body []byte
	for _, b := range pieces {
		body = append(body, b...)
	}
	c := cursor{data: body}
	version, flags := c.int(1), c.int(1)
	g := &grid{rows: 1 + c.int(1), columns: 1 + c.int(1)}
	n := 2 + 2*(flags&1)
	p.Width, p.Height = c.int(n), c.int(n)
	tiles := m.tiles()
	switch {
	case c.short || version != 0:
		return broken("its grid of tiles makes no sense")
	case len(tiles) != g.rows*g.columns || len(tiles) > maxTiles:
		return broken(fmt.Sprintf("its grid needs %d tiles and has %d", g.rows*g.columns, len(tiles)))
	}
	if w, h, err := m.size(it); err != nil {
		return err
	} else if w != p.Width || h != p.Height {
		return broken("its grid and its header disagree about its size")
	}
	p.grid = g
	for _, id := range tiles {
		if err := r.readTile(m, m.items[id], p); err != nil {
			return err
		}
	}
	w, h := p.coded[0].width, p.coded[0].height
	if p.Width > w*g.columns || p.Height > h*g.rows || p.Width <= w*(g.columns-1) || p.Height <= h*(g.rows-1) {
		return broken("its tiles do not cover its picture")
	}
	return nil
}

// tiles are the items that the primary one is made of.
func (m *metaBox) tiles() []uint32 {
	for _, ref := range m.references {
		if ref.kind == "dimg" && ref.from == m.primary {
			return ref.to
		}
	}
	return nil
}

func (r *reader) readTile(m *metaBox, it *item, p *Picture) error {
	if it == nil || it.kind != "hvc1" && it.kind != "hev1" {
		return unsupported("this HEIC is made of tiles of an unusual kind")
	}
	if err := m.essentials(it); err != nil {
		return err
	}
	if len(m.property(it, "irot", "imir", "clap")) > 0 {
		return unsupported("this HEIC has tiles that are turned or cut")
	}
	one, err := r.coded(m, it)
	if err != nil {
		return err
	}
	if len(p.coded) > 0 && (one.width != p.coded[0].width || one.height != p.coded[0].height) {
		return broken("its tiles are of different sizes")
	}
	p.coded = append(p.coded, one)
	return nil
}
