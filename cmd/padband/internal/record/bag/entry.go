package bag

import (
	"archive/zip"
	"bufio"
	"compress/flate"
	"errors"
	"hash"
	"hash/crc32"
	"io"
)

// packed reads a packed entry to its end. What is unpacked must be as long as the
// entry says and have its checksum, and nothing may follow it.
type packed struct {
	io.ReadCloser
	raw  *bufio.Reader
	e    *zip.File
	sum  hash.Hash32
	read uint64
}

// openEntry opens an entry. Reading it checks it at once.
func openEntry(e *zip.File) (io.ReadCloser, error) {
	if e.Method == zip.Store {
		return e.Open()
	}
	raw, err := e.OpenRaw()
	if err != nil {
		return nil, err
	}
	b := bufio.NewReader(raw)
	return &packed{flate.NewReader(b), b, e, crc32.NewIEEE(), 0}, nil
}

// Read unpacks; at the end it checks length and checksum, and that nothing follows.
func (p *packed) Read(b []byte) (int, error) {
	n, err := p.ReadCloser.Read(b)
	p.sum.Write(b[:n])
	p.read += uint64(n)
	switch {
	case p.read > p.e.UncompressedSize64 || errors.Is(err, io.EOF) && p.read != p.e.UncompressedSize64:
		return n, errors.New("its size is not what the zip file says")
	case errors.Is(err, io.EOF) && p.sum.Sum32() != p.e.CRC32:
		return n, errors.New("its checksum is not what the zip file says")
	case errors.Is(err, io.EOF):
		if _, more := p.raw.ReadByte(); more == nil {
			return n, errors.New("the zip file holds more bytes behind it")
		}
	}
	return n, err
}
