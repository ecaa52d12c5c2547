package record

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"hash/crc32"
	"testing"

	"github.com/stretchr/testify/require"
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
	le := binary.LittleEndian
	for _, n := range []uint16{20, flags, method, 0, 0x5800} {
		b = le.AppendUint16(b, n)
	}
	for _, n := range []uint32{sum, packed, size} {
		b = le.AppendUint32(b, n)
	}
	b = le.AppendUint16(b, uint16(len(name)))
	return le.AppendUint16(b, uint16(len(extra)))
}

func (f rawFile) bytes(t testing.TB) []byte {
	t.Helper()
	le := binary.LittleEndian
	out := bytes.Clone(f.prefix)
	shift := 0
	if f.unshifted {
		shift = len(f.prefix)
	}
	var list []byte
	places := []int{0}
	for _, e := range f.entries {
		method, data := e.packedData(t)
		sum, packed, size := crc32.ChecksumIEEE(e.data), uint32(len(data)), uint32(len(e.data))
		var flags uint16
		if e.described != "" {
			flags = 8
		}
		place := 0
		if e.onto > 0 {
			place = places[e.onto]
		} else {
			out = append(out, e.gap...)
			place = len(out) - shift
			name := e.name
			if e.local != "" {
				name = e.local
			}
			s, p, z := sum, packed, size
			if e.described != "" {
				s, p, z = 0, 0, 0
			}
			if e.otherSum {
				s++
			}
			out = append(out, localMark...)
			out = append(out, head(flags, method, s, p, z, name, e.localExtra)...)
			out = append(out, name...)
			out = append(out, e.localExtra...)
			out = append(out, data...)
			if e.described == "mark" {
				out = append(out, describedMark...)
			}
			if e.described != "" {
				out = le.AppendUint32(le.AppendUint32(le.AppendUint32(out, sum), packed), size)
			}
		}
		places = append(places, place)
		list = append(list, centralMark...)
		list = append(list, 20, 3) // made by a Unix program
		list = append(list, head(flags, method, sum, packed, size, e.name, e.centralExtra)...)
		list = le.AppendUint16(list, uint16(len(e.comment)))
		list = append(list, 0, 0, 0, 0)
		list = le.AppendUint32(list, e.attributes)
		list = le.AppendUint32(list, uint32(place))
		list = append(append(append(list, e.name...), e.centralExtra...), e.comment...)
	}
	out = append(out, f.beforeList...)
	place := len(out) - shift
	out = append(append(out, list...), f.beforeEnd...)
	out = append(out, endMark...)
	n := uint16(len(f.entries) - f.countedLess)
	out = le.AppendUint16(le.AppendUint16(append(out, 0, 0, 0, 0), n), n)
	out = le.AppendUint32(le.AppendUint32(out, uint32(len(list))), uint32(place))
	out = append(le.AppendUint16(out, uint16(len(f.comment))), f.comment...)
	return append(out, f.suffix...)
}

// rawRecord is a record's zip file, to be altered.
func rawRecord(files []File) rawFile {
	var f rawFile
	for i, x := range files {
		f.entries = append(f.entries, rawEntry{name: "rec/" + x.Name, data: x.Data, store: i%3 == 0, attributes: 0o100644 << 16})
	}
	return f
}
