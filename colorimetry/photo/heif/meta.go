package heif

// metaBox is what the file's meta box holds (ISO/IEC 14496-12, 8.11).
type metaBox struct {
	primary    uint32
	items      map[uint32]*item
	order      []uint32 // of the items in the file
	properties []box
	idat       []byte
	references []reference
}

// item is one item: what it is, where its bytes are and what properties it has, in order.
type item struct {
	kind       string
	protected  bool
	method     int
	extents    []extent
	properties []association
}

type extent struct{ at, size uint64 }

// association ties a property, by its number from 1, to an item.
type association struct {
	index     int
	essential bool
}

// reference says that an item refers to others: a grid to its tiles, a
// thumbnail or an Exif block to its picture.
type reference struct {
	kind string
	from uint32
	to   []uint32
}

// meta finds the file's meta box and reads it.
func (r *reader) meta() (*metaBox, error) {
	var found *metaBox
	movie := false
	err := r.boxes(r.file, func(b box) error {
		movie = movie || b.kind == "moov"
		if b.kind != "meta" || found != nil {
			return nil
		}
		var err error
		found, err = r.readMeta(b.body)
		return err
	})
	switch {
	case err != nil:
		return nil, err
	case found == nil && movie:
		return nil, unsupported("this HEIC holds a sequence of pictures and no single photo")
	case found == nil:
		return nil, broken("it holds no picture")
	}
	return found, nil
}

func (r *reader) readMeta(body []byte) (*metaBox, error) {
	m := &metaBox{items: map[uint32]*item{}}
	c := cursor{data: body}
	c.full()
	err := r.boxes(c.data, func(b box) error {
		c := &cursor{data: b.body}
		switch b.kind {
		case "hdlr":
			c.take(8)
			if c.kind() != "pict" {
				return broken("its description is of no picture")
			}
		case "pitm":
			version, _ := c.full()
			m.primary = uint32(c.uint(idSize(version)))
		case "iinf":
			return r.readInfos(m, c)
		case "iloc":
			return m.readPlaces(c)
		case "iprp":
			return r.readProperties(m, b.body)
		case "idat":
			m.idat = b.body
		case "iref":
			return r.readReferences(m, c)
		}
		return shortIn(c, b.kind)
	})
	return m, err
}

// idSize is the bytes of an item's number, by a box's version.
func idSize(version int) int {
	if version == 0 {
		return 2
	}
	return 4
}

func shortIn(c *cursor, kind string) error {
	if c.short {
		return broken("its " + word(kind) + " part is too short")
	}
	return nil
}

// item returns the item of a number and makes it at first mention.
func (m *metaBox) item(id uint32) (*item, error) {
	if it := m.items[id]; it != nil {
		return it, nil
	}
	if len(m.items) >= maxItems {
		return nil, broken("it has too many items")
	}
	it := &item{}
	m.items[id] = it
	m.order = append(m.order, id)
	return it, nil
}

// readInfos reads the iinf box: what each item is.
func (r *reader) readInfos(m *metaBox, c *cursor) error {
	version, _ := c.full()
	c.uint(idSize(version)) // the number of entries, which the boxes tell too
	return r.boxes(c.data, func(b box) error {
		if b.kind != "infe" {
			return nil
		}
		c := &cursor{data: b.body}
		version, _ := c.full()
		if version < 2 {
			return nil // items of that kind are no pictures
		}
		id := uint32(c.uint(idSize(version - 2)))
		it, err := m.item(id)
		if err != nil {
			return err
		}
		it.protected = c.int(2) != 0
		it.kind = c.kind()
		return shortIn(c, b.kind)
	})
}

// readPlaces reads the iloc box: where each item's bytes are.
func (m *metaBox) readPlaces(c *cursor) error {
	version, _ := c.full()
	sizes := c.int(2)
	offset, length, base, index := sizes>>12, sizes>>8&15, sizes>>4&15, 0
	if version > 0 {
		index = sizes & 15
	}
	for _, n := range []int{offset, length, base, index} {
		if n != 0 && n != 4 && n != 8 {
			return broken("its table of places makes no sense")
		}
	}
	wide := version / 2 // numbers of items are wide from version 2 on
	count := c.int(idSize(wide))
	for k := 0; k < count && !c.short; k++ {
		it, err := m.item(uint32(c.uint(idSize(wide))))
		if err != nil {
			return err
		}
		if version > 0 {
			it.method = c.int(2) & 15
		}
		if c.int(2) != 0 {
			it.method = -1 // the bytes are in another file
		}
		start := c.uint(base)
		n := c.int(2)
		if n > maxExtents || it.extents != nil {
			return broken("its table of places makes no sense")
		}
		for range n {
			c.take(index)
			at := start + c.uint(offset)
			it.extents = append(it.extents, extent{at, c.uint(length)})
		}
	}
	return shortIn(c, "iloc")
}

// readReferences reads the iref box.
func (r *reader) readReferences(m *metaBox, c *cursor) error {
	version, _ := c.full()
	n := idSize(version)
	return r.boxes(c.data, func(b box) error {
		c := &cursor{data: b.body}
		ref := reference{kind: b.kind, from: uint32(c.uint(n))}
		count := c.int(2)
		if count*n != len(c.data) || len(m.references) >= maxItems {
			return broken("its table of references makes no sense")
		}
		for range count {
			ref.to = append(ref.to, uint32(c.uint(n)))
		}
		m.references = append(m.references, ref)
		return shortIn(c, b.kind)
	})
}

// readProperties reads the iprp box: the properties and which item has which.
func (r *reader) readProperties(m *metaBox, body []byte) error {
	return r.boxes(body, func(b box) error {
		switch b.kind {
		case "ipco":
			return r.boxes(b.body, func(p box) error {
				m.properties = append(m.properties, p)
				return nil
			})
		case "ipma":
			return m.readAssociations(&cursor{data: b.body})
		}
		return nil
	})
}

func (m *metaBox) readAssociations(c *cursor) error {
	version, flags := c.full()
	n := c.int(4)
	for k := 0; k < n && !c.short; k++ {
		it, err := m.item(uint32(c.uint(idSize(version))))
		if err != nil {
			return err
		}
		for count := c.int(1); count > 0; count-- {
			size := 1 + flags&1
			v, high := c.int(size), 1<<(8*(1+flags&1)-1)
			it.properties = append(it.properties, association{v &^ high, v&high != 0})
		}
		if len(it.properties) > 255 {
			return broken("an item of it has too many properties")
		}
	}
	return shortIn(c, "ipma")
}

// property returns an item's properties of the kinds, in the item's order.
func (m *metaBox) property(it *item, kinds ...string) (out []box) {
	for _, a := range it.properties {
		if a.index < 1 || a.index > len(m.properties) {
			continue
		}
		for _, kind := range kinds {
			if p := m.properties[a.index-1]; p.kind == kind {
				out = append(out, p)
			}
		}
	}
	return out
}

// bytes returns an item's bytes in their pieces.
func (r *reader) bytes(m *metaBox, it *item) ([][]byte, error) {
	source := r.file
	switch it.method {
	case 0:
	case 1:
		source = m.idat
	default:
		return nil, unsupported("this HEIC keeps its picture in another file or item")
	}
	var out [][]byte
	for _, e := range it.extents {
		size := e.size
		if size == 0 && e.at <= uint64(len(source)) { // to the end
			size = uint64(len(source)) - e.at
		}
		if e.at > uint64(len(source)) || size > uint64(len(source))-e.at {
			return nil, broken("its picture lies outside the file")
		}
		if r.bytesLeft -= int64(size); r.bytesLeft < 0 {
			return nil, broken("its items overlap")
		}
		out = append(out, source[e.at:e.at+size])
	}
	return out, nil
}
