package heif

import "encoding/binary"

// Bounds on what a file may ask for. A photo of 200 megapixels in tiles of 512
// pixels has some 800 items and twice as many properties' associations.
const (
	maxBoxes   = 20_000
	maxItems   = 5_000
	maxExtents = 256 // of one item
	maxTiles   = 4_000
)

// reader reads one file.
type reader struct {
	file      []byte
	boxesLeft int
	bytesLeft int64 // that items may still refer to: extents may not multiply the file
}

// box is one box: its kind and what is in it.
type box struct {
	kind string
	body []byte
}

// boxes calls do with each box of a run of boxes.
func (r *reader) boxes(data []byte, do func(box) error) error {
	for len(data) > 0 {
		if r.boxesLeft--; r.boxesLeft < 0 {
			return broken("it has too many parts")
		}
		b, rest, err := nextBox(data)
		if err != nil {
			return err
		}
		if err := do(b); err != nil {
			return err
		}
		data = rest
	}
	return nil
}

// nextBox cuts the first box off (ISO/IEC 14496-12, 4.2).
func nextBox(data []byte) (b box, rest []byte, err error) {
	if len(data) < 8 {
		return b, nil, broken("it ends within a part's header")
	}
	size, head := uint64(binary.BigEndian.Uint32(data)), uint64(8)
	b.kind = string(data[4:8])
	switch {
	case size == 0: // to the end
		size = uint64(len(data))
	case size == 1 && len(data) >= 16:
		size, head = binary.BigEndian.Uint64(data[8:]), 16
	}
	if size < head || size > uint64(len(data)) {
		return b, nil, broken("it ends within its " + word(b.kind) + " part")
	}
	b.body = data[head:size]
	return b, data[size:], nil
}

// word keeps a box's kind printable.
func word(kind string) string {
	out := []byte(kind)
	for i, c := range out {
		if c < ' ' || c > '~' {
			out[i] = '?'
		}
	}
	return string(out)
}

// cursor reads numbers from a box. Past its end it gives zeros and short is set.
type cursor struct {
	data  []byte
	short bool
}

// take cuts n bytes off; nil when they are not there.
func (c *cursor) take(n int) []byte {
	if n < 0 || n > len(c.data) {
		c.short, c.data = true, nil
		return nil
	}
	out := c.data[:n]
	c.data = c.data[n:]
	return out
}

// uint reads a number of n bytes, 0 to 8.
func (c *cursor) uint(n int) uint64 {
	var v uint64
	for _, b := range c.take(n) {
		v = v<<8 | uint64(b)
	}
	return v
}

func (c *cursor) int(n int) int { return int(c.uint(n)) }

// full reads the version and flags that begin a full box.
func (c *cursor) full() (version, flags int) { return c.int(1), c.int(3) }

// kind reads a four-character code.
func (c *cursor) kind() string { return string(c.take(4)) }
