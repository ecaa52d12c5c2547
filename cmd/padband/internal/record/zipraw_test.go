package record

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"hash/crc32"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/record/bag"
)

// The marks that begin the records of a zip file, and the size of an entry's head
// (PKWARE's APPNOTE.TXT 6.3; from memory).
const (
	entryMark  = "PK\x03\x04"
	behindMark = "PK\x07\x08"
	lineMark   = "PK\x01\x02"
	lastMark   = "PK\x05\x06"
	entrySize  = 30
)

// rawEntry is an entry of a zip file, written field by field. What is left out
// is as it should be.
type rawEntry struct {
	name         string
	data         []byte
	local        string // its name at the entry, where it is another
	store        bool
	behind       []byte // packed bytes behind the end of the packed data
	localExtra   []byte
	centralExtra []byte
	comment      string
	gap          []byte // before the entry
	described    string // "", "mark" or "plain": sizes behind the entry
	otherSum     bool   // at the entry alone
	wrongSum     bool   // there and in the list
	onto         int    // its line leads to the entry of this number, from 1, and it has none of its own
	attributes   uint32
}

type rawFile struct {
	prefix      []byte
	entries     []rawEntry
	beforeList  []byte
	beforeEnd   []byte
	comment     string
	suffix      []byte
	unshifted   bool // the prefix is not counted in the places
	countedLess int  // entries that the end does not count
}

func (e rawEntry) packedData(t testing.TB) (method uint16, data []byte) {
	if e.store {
		return 0, e.data
	}
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, 9)
	require.NoError(t, err)
	_, err = w.Write(e.data)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return 8, append(b.Bytes(), e.behind...)
}

// head is the part that the entry and its line in the list share.
func head(flags, method uint16, sum, packed, size uint32, name string, extra []byte) []byte {
	var b []byte
	for _, n := range []uint16{20, flags, method, 0, 0x5800} {
		b = le.AppendUint16(b, n)
	}
	for _, n := range []uint32{sum, packed, size} {
		b = le.AppendUint32(b, n)
	}
	b = le.AppendUint16(b, uint16(len(name)))
	return le.AppendUint16(b, uint16(len(extra)))
}

var le = binary.LittleEndian

// shape is what an entry and its line share.
func (e rawEntry) shape(t testing.TB) (flags, method uint16, sum, size uint32, data []byte) {
	method, data = e.packedData(t)
	sum, size = crc32.ChecksumIEEE(e.data), uint32(len(e.data))
	if e.wrongSum {
		sum++
	}
	if e.described != "" {
		flags = 8
	}
	return flags, method, sum, size, data
}

// own is the entry itself.
func (e rawEntry) own(t testing.TB) []byte {
	flags, method, sum, size, data := e.shape(t)
	name := e.name
	if e.local != "" {
		name = e.local
	}
	s, p, z := sum, uint32(len(data)), size
	if e.described != "" {
		s, p, z = 0, 0, 0
	}
	if e.otherSum {
		s++
	}
	out := append([]byte(entryMark), head(flags, method, s, p, z, name, e.localExtra)...)
	out = append(append(append(out, name...), e.localExtra...), data...)
	if e.described == "mark" {
		out = append(out, behindMark...)
	}
	if e.described != "" {
		out = le.AppendUint32(le.AppendUint32(le.AppendUint32(out, sum), uint32(len(data))), size)
	}
	return out
}

// line is the entry's line in the list.
func (e rawEntry) line(t testing.TB, place int) []byte {
	flags, method, sum, size, data := e.shape(t)
	out := append([]byte(lineMark), 20, 3) // made by a Unix program
	out = append(out, head(flags, method, sum, uint32(len(data)), size, e.name, e.centralExtra)...)
	out = append(le.AppendUint16(out, uint16(len(e.comment))), 0, 0, 0, 0)
	out = le.AppendUint32(le.AppendUint32(out, e.attributes), uint32(place))
	return append(append(append(out, e.name...), e.centralExtra...), e.comment...)
}

func (f rawFile) bytes(t testing.TB) []byte {
	t.Helper()
	out, shift := bytes.Clone(f.prefix), 0
	if f.unshifted {
		shift = len(f.prefix)
	}
	var list []byte
	places := []int{0}
	for _, e := range f.entries {
		place := places[e.onto]
		if e.onto == 0 {
			out = append(out, e.gap...)
			place = len(out) - shift
			out = append(out, e.own(t)...)
		}
		places = append(places, place)
		list = append(list, e.line(t, place)...)
	}
	out = append(out, f.beforeList...)
	place := len(out) - shift
	out = append(append(append(out, list...), f.beforeEnd...), lastMark...)
	n := uint16(len(f.entries) - f.countedLess)
	out = le.AppendUint16(le.AppendUint16(append(out, 0, 0, 0, 0), n), n)
	out = le.AppendUint32(le.AppendUint32(out, uint32(len(list))), uint32(place))
	out = append(le.AppendUint16(out, uint16(len(f.comment))), f.comment...)
	return append(out, f.suffix...)
}

// rawRecord is a record's zip file, to be altered.
func rawRecord(files []bag.File) rawFile {
	var f rawFile
	for i, x := range files {
		f.entries = append(f.entries, rawEntry{name: "rec/" + x.Name, data: x.Data, store: i%3 == 0, attributes: 0o100644 << 16})
	}
	return f
}
