package photo

import (
	"encoding/binary"
	"fmt"
)

// These are TIFF tags, from TIFF 6.0 part 1 and, for the last four, from ISO 12234-2,
// the DNG specification and ICC.1 annex B.
const (
	tiffWidth        = 256
	tiffHeight       = 257
	tiffBits         = 258
	tiffCompression  = 259
	tiffPhotometric  = 262
	tiffFillOrder    = 266
	tiffOrientation  = 274
	tiffSamples      = 277
	tiffPlanar       = 284
	tiffSubfile      = 254
	tiffExtra        = 338
	tiffSampleFormat = 339
	tiffSubTables    = 330
	tiffFilter       = 33421 // colour filter array
	tiffDNG          = 50706
	tiffICC          = 34675
)

// maxTIFFTags is far above the few dozen of a real first table.
const maxTIFFTags = 1000

// tiffTable is the first table of a TIFF: its whole numbers by tag, of which the first
// four values are kept, and the profile.
type tiffTable struct {
	order   binary.ByteOrder
	data    []byte
	values  map[int][]int64
	icc     []byte
	spoiled bool // the profile does not lie within the file
}

// readTIFF reads the first table of a TIFF and refuses a file that the decoder cannot
// read truthfully. Of several pictures only the first counts.
func readTIFF(data []byte) (*header, int64, error) {
	t, err := readTIFFTable(data)
	if err != nil {
		return nil, 0, err
	}
	if err := t.check(); err != nil {
		return nil, 0, err
	}
	h := &header{
		format: formatTIFF, width: t.size(tiffWidth), height: t.size(tiffHeight), chroma: 1, matrix: matrixJFIF,
		depth: int(t.first(tiffBits, 1)), grey: t.first(tiffPhotometric, -1) < 2, exif: data, wholeExif: true,
	}
	h.colour.icc = t.icc
	if t.spoiled {
		h.colour.spoil = "its place in the file makes no sense"
	}
	if w, hgt := int64(h.width), int64(h.height); w <= 1<<20 && hgt <= 1<<20 {
		// LZW, which packs tightest of the codings that are read, gives at most
		// 4096 bytes for 12 bits.
		return h, w * hgt / 8 * int64(h.depth) * int64(len(t.values[tiffBits])) / 4096, nil
	}
	return h, 1 << 50, nil // too large for any file
}

func brokenTIFF(why string) error { return &BrokenError{Format: formatTIFF, Why: why} }

// size gives a side of the picture; it is 0 when the side is missing or absurdly
// large.
func (t *tiffTable) size(tag int) int {
	if v := t.first(tag, 0); v > 0 && v <= 1<<31-1 {
		return int(v)
	}
	return 0
}

// first is a tag's first value, or otherwise when the tag has none.
func (t *tiffTable) first(tag int, otherwise int64) int64 {
	if v := t.values[tag]; len(v) > 0 {
		return v[0]
	}
	return otherwise
}

// firstTable finds the first table of a TIFF structure, which begins with II or MM. It
// returns the byte order and the entries of 12 bytes, or what is wrong with the
// table's place. Source: TIFF 6.0, section 2.
func firstTable(data []byte) (order binary.ByteOrder, entries []byte, fault string) {
	order = binary.LittleEndian
	if data[0] == 'M' {
		order = binary.BigEndian
	}
	if len(data) < 8 {
		return order, nil, "it ends within its header"
	}
	at := int64(order.Uint32(data[4:]))
	if at < 8 || at+2 > int64(len(data)) {
		return order, nil, "its table lies outside the file"
	}
	end := at + 2 + 12*int64(order.Uint16(data[at:]))
	if end > int64(len(data)) {
		return order, nil, "its table reaches past the end of the file"
	}
	return order, data[at+2 : end], ""
}

// readTIFFTable reads the first table.
func readTIFFTable(data []byte) (*tiffTable, error) {
	order, entries, fault := firstTable(data)
	if fault == "" && len(entries) > 12*maxTIFFTags {
		fault = "its table is too long"
	}
	if fault != "" {
		return nil, brokenTIFF(fault)
	}
	t := &tiffTable{order: order, data: data, values: map[int][]int64{}}
	for ; len(entries) > 0; entries = entries[12:] {
		t.take(entries[:12])
	}
	return t, nil
}

// tiffSizes are the sizes of the value types that are read: byte, short, long and
// undefined.
var tiffSizes = map[uint16]int64{1: 1, 3: 2, 4: 4, 7: 1}

// take notes one entry of the table; when a tag is there twice, the first one counts.
func (t *tiffTable) take(entry []byte) {
	tag, kind, count := int(t.order.Uint16(entry)), t.order.Uint16(entry[2:]), int64(t.order.Uint32(entry[4:]))
	size, known := tiffSizes[kind]
	if !known || count == 0 || t.values[tag] != nil {
		return
	}
	body := entry[8:12]
	if size*count > 4 {
		at := int64(t.order.Uint32(entry[8:]))
		if at+size*count > int64(len(t.data)) {
			t.spoiled = t.spoiled || tag == tiffICC
			return
		}
		body = t.data[at : at+size*count]
	}
	if tag == tiffICC {
		t.icc = body[:count*size]
		return
	}
	for k := range min(count, 4) {
		t.values[tag] = append(t.values[tag], t.number(body[k*size:], size))
	}
}

func (t *tiffTable) number(b []byte, size int64) int64 {
	switch size {
	case 2:
		return int64(t.order.Uint16(b))
	case 4:
		return int64(t.order.Uint32(b))
	}
	return int64(b[0])
}

const tiffAdvice = "export it again as an ordinary TIFF of 8 or 16 bits, or as JPEG or PNG"

// check refuses the kinds of TIFF that are valid but not read here, and says so in
// words.
func (t *tiffTable) check() error {
	if t.raw() {
		return &UnsupportedError{"this is a raw camera file", rawAdvice}
	}
	unusual := func(what string) error {
		return &UnsupportedError{"this is an unusual TIFF (" + what + ")", tiffAdvice}
	}
	depth, samples := t.first(tiffBits, 1), max(t.first(tiffSamples, 1), int64(len(t.values[tiffBits])))
	kind := t.first(tiffPhotometric, -1)
	switch {
	case kind == 5:
		return &UnsupportedError{"this TIFF is in printing ink colours (CMYK)", "export it as RGB"}
	case kind < 0 || kind > 3:
		return unusual(fmt.Sprintf("colour model %d", kind))
	case t.first(tiffSampleFormat, 1) != 1:
		return unusual("signed or floating point numbers")
	case depth != 8 && depth != 16:
		return unusual(fmt.Sprintf("%d bits a channel", depth))
	case kind == 2 && samples == 4 && t.first(tiffExtra, 0) == 0:
		return unusual("a fourth channel of unknown meaning")
	case kind == 2 && samples != 3 && samples != 4, kind != 2 && samples != 1:
		return unusual(fmt.Sprintf("%d channels", samples))
	case samples > 1 && t.first(tiffPlanar, 1) != 1:
		return unusual("each channel on its own")
	case t.first(tiffFillOrder, 1) != 1:
		return unusual("bits in reverse order")
	}
	return nil
}

const rawAdvice = "valid but not supported, export the photo as JPEG or PNG with the camera's own program"

// raw reports whether the file is a camera's raw file: its first picture is the
// sensor's, or a small one, with the sensor's in further tables.
func (t *tiffTable) raw() bool {
	kind := t.first(tiffPhotometric, -1)
	switch {
	case t.values[tiffDNG] != nil, t.values[tiffFilter] != nil, kind == 32803, kind == 34892:
		return true
	case len(t.data) >= 12 && string(t.data[8:10]) == "CR" && t.data[10] == 2:
		return true
	}
	return t.first(tiffSubfile, 0)&1 == 1 || t.values[tiffSubTables] != nil && t.first(tiffCompression, 1) == 6
}
