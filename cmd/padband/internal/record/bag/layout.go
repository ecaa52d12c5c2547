package bag

import (
	"archive/zip"
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"
)

// The records of a zip file that are read here, and their sizes without what
// varies (PKWARE's APPNOTE.TXT 6.3, sections 4.3.7, 4.3.9, 4.3.12 and 4.3.16; from memory).
const (
	localMark, localSize = "PK\x03\x04", 30
	describedMark        = "PK\x07\x08"
	centralMark          = "PK\x01\x02"
	centralSize          = 46
	endMark, endSize     = "PK\x05\x06", 22
)

// extras are the extra fields that zip programs write of their own accord:
// times and owners of several systems (0x000a, 0x5455, 0x5855, 0x7855, 0x7875).
// One that gives an entry another name for some programs (0x7075) is not among them.
var extras = []uint16{0x000a, 0x5455, 0x5855, 0x7855, 0x7875}

// layout reads a zip file from its first byte to its last. Programs differ in which
// part of such a file they believe: the entries as they come, or the list at the end.
// So each byte must belong to one entry or to the list, both must say the same, and
// nothing may lie before, between or behind them. The entries may be in any order,
// packed or stored, with times and owners, and folders may be empty.
type layout struct {
	r    io.ReaderAt
	at   int64
	size int64
}

// checkLayout says what is wrong, or nil.
func checkLayout(r io.ReaderAt, size int64, files []*zip.File) error {
	l := layout{r: r, size: size}
	begins := map[*zip.File]int64{}
	for _, f := range files {
		at, err := f.DataOffset()
		if err != nil {
			return fmt.Errorf("has no entry where its list says that %s is", Shown(f.Name))
		}
		begins[f] = at
	}
	sorted := slices.SortedFunc(slices.Values(files), func(a, b *zip.File) int { return cmp.Compare(begins[a], begins[b]) })
	for _, f := range sorted {
		if err := l.local(f, begins[f]); err != nil {
			return err
		}
	}
	for _, f := range files {
		if err := l.central(f); err != nil {
			return err
		}
	}
	end := l.take(endSize)
	switch {
	case end == nil || string(end[:4]) != endMark:
		return l.stray()
	case end[20] != 0 || end[21] != 0:
		return errors.New("has a comment, which no checksum covers")
	case l.at != l.size:
		return l.stray()
	}
	return nil
}

// stray is the fault of bytes that belong to none of the parts that may follow here.
func (l *layout) stray() error {
	return fmt.Errorf("holds bytes that belong to no entry, or entries of another form, from byte %d on", l.at)
}

// take returns the next n bytes; it is nil when there are fewer.
func (l *layout) take(n int) []byte {
	b := make([]byte, n) // a part is at most 64 KiB long, for its length has 16 bits
	if _, err := l.r.ReadAt(b, l.at); err != nil && !(errors.Is(err, io.EOF) && l.at+int64(n) == l.size) {
		return nil
	}
	l.at += int64(n)
	return b
}

// local reads an entry's own header and passes over what it packs.
func (l *layout) local(f *zip.File, data int64) error {
	start := l.at
	h := l.take(localSize)
	if h == nil || string(h[:4]) != localMark {
		l.at = start
		return l.stray()
	}
	name, extra := l.take(u16(h[26:])), l.take(u16(h[28:]))
	switch {
	case string(name) != f.Name:
		return fmt.Errorf("calls an entry %s in one place and %s in another", Shown(string(name)), Shown(f.Name))
	case l.at != data:
		l.at = start
		return l.stray()
	case f.CompressedSize64 > uint64(l.size-l.at):
		return fmt.Errorf("ends before its entry %s does", Shown(f.Name))
	}
	if err := plainExtra(f.Name, extra); err != nil {
		return err
	}
	described := f.Flags&8 != 0
	none := described && bytes.Equal(h[14:26], make([]byte, 12)) // checksum and sizes come behind the entry
	if u16(h[6:]) != int(f.Flags) || u16(h[8:]) != int(f.Method) || !none && !bytes.Equal(h[14:26], sums(f)) {
		return fmt.Errorf("says one thing of %s at the entry and another in its list", Shown(f.Name))
	}
	l.at += int64(f.CompressedSize64)
	if described {
		return l.described(f)
	}
	return nil
}

// described passes over the checksum and sizes behind an entry, which may have their
// mark in front or not.
func (l *layout) described(f *zip.File) error {
	start, want := l.at, sums(f)
	if b := l.take(16); b != nil && string(b[:4]) == describedMark && bytes.Equal(b[4:], want) {
		return nil
	}
	l.at = start
	if b := l.take(12); b != nil && bytes.Equal(b, want) {
		return nil
	}
	return fmt.Errorf("says one thing of %s at the entry and another in its list", Shown(f.Name))
}

// sums are the checksum and the sizes of an entry as its header holds them.
func sums(f *zip.File) []byte {
	var b []byte
	for _, n := range []uint32{f.CRC32, uint32(f.CompressedSize64), uint32(f.UncompressedSize64)} { // all below 4 GiB, as checked before
		b = binary.LittleEndian.AppendUint32(b, n)
	}
	return b
}

// central reads an entry's line of the list at the end.
func (l *layout) central(f *zip.File) error {
	start := l.at
	h := l.take(centralSize)
	if h == nil || string(h[:4]) != centralMark {
		l.at = start
		return l.stray()
	}
	name, extra, comment := l.take(u16(h[28:])), l.take(u16(h[30:])), l.take(u16(h[32:]))
	switch {
	case string(name) != f.Name || !bytes.Equal(h[16:28], sums(f)):
		l.at = start
		return l.stray()
	case len(comment) > 0:
		return fmt.Errorf("has a comment at %s, which no checksum covers", Shown(f.Name))
	}
	return plainExtra(f.Name, extra)
}

// plainExtra refuses all extra fields but those for times and owners.
func plainExtra(name string, b []byte) error {
	for len(b) >= 4 {
		id, n := uint16(u16(b)), u16(b[2:])
		switch {
		case n > len(b)-4:
			return fmt.Errorf("has a broken extra field at %s", Shown(name))
		case id == 1:
			return fmt.Errorf("is of the form for huge files (zip64) at %s, which no record needs", Shown(name))
		case !slices.Contains(extras, id):
			return fmt.Errorf("has an extra field (%#04x) at %s that is not known here", id, Shown(name))
		}
		b = b[4+n:]
	}
	if len(b) > 0 {
		return fmt.Errorf("has a broken extra field at %s", Shown(name))
	}
	return nil
}

// u16 reads a number of 16 bits, lowest byte first, as zip files have them.
func u16(b []byte) int { return int(binary.LittleEndian.Uint16(b)) }
