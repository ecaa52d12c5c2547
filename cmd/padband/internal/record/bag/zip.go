package bag

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
)

// A file that unpacks to more than slack bytes and to more than ratio times
// what it takes in the zip file is refused: photos hardly shrink, and text
// shrinks to a tenth.
const (
	ratio = 200
	slack = 1 << 20
)

// openZip opens a record's zip file, all of whose files lie in one folder. An entry
// that is refused becomes a finding and is not unpacked.
func openZip(name string) (*Root, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, Cause(err)
	}
	r, err := readZip(f)
	if err != nil {
		f.Close()
		return nil, err
	}
	r.Name, r.close = name, f.Close
	return r, nil
}

// OpenZip reads a record's zip file that is open already, and leaves it open.
func OpenZip(name string, f sized) (*Root, error) {
	r, err := readZip(f)
	if r != nil {
		r.Name = name
	}
	return r, err
}

// sized is a file or bytes in memory.
type sized interface {
	io.ReaderAt
	io.Seeker
}

// readZip lists the entries that may be read, and finds fault with the others.
func readZip(f sized) (*Root, error) {
	size, err := f.Seek(0, io.SeekEnd)
	if err != nil {
		return nil, Cause(err)
	}
	z, err := zip.NewReader(f, size)
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return nil, errors.New("is neither a record's folder nor a whole zip file")
	}
	if len(z.File) > MostFiles {
		return nil, fmt.Errorf("is a zip file of %d entries; a record has at most %d", len(z.File), MostFiles)
	}
	u := unpacking{root: &Root{files: map[string]func() (io.ReadCloser, error){}}, seen: map[string]string{}}
	for _, e := range z.File {
		if why := u.refuse(e); why != "" {
			u.root.fault(e.Name, "refused: %s", why)
		} else if !e.Mode().IsDir() {
			_, inner, _ := strings.Cut(e.Name, "/")
			u.root.files[inner] = func() (io.ReadCloser, error) { return openEntry(e) }
		}
	}
	if err := checkLayout(f, size, z.File); err != nil {
		u.root.fault("the zip file", "%v; unpack it with a program that you trust and verify the folder", err)
	}
	return u.root, nil
}

// unpacking holds what the checks of one zip file remember from entry to entry.
type unpacking struct {
	root  *Root
	top   string
	seen  map[string]string // by folded name
	total uint64
}

// refuse says why an entry is not taken; it is "" for an entry that is.
func (u *unpacking) refuse(e *zip.File) string {
	name := strings.TrimSuffix(e.Name, "/")
	if why := leaves(name); why != "" {
		return "its name " + why
	}
	if why := odd(name); why != "" {
		return "its name " + why
	}
	if first, twice := u.seen[Folded(name)]; twice {
		return "its name is the same as that of " + first + " on some systems"
	}
	u.seen[Folded(name)] = name
	if why := u.heavy(e); why != "" {
		return why
	}
	top, _, inFolder := strings.Cut(name, "/")
	if u.top == "" {
		u.top = top
	}
	if top != u.top || !inFolder && !e.Mode().IsDir() {
		return "a record's zip file holds one folder and nothing beside it"
	}
	return ""
}

// heavy says why an entry cannot be unpacked safely; it is "" for one that can.
func (u *unpacking) heavy(e *zip.File) string {
	u.total += e.UncompressedSize64
	switch {
	case e.Flags&1 != 0:
		return "it is encrypted"
	case e.Mode()&fs.ModeSymlink != 0:
		return "it is a link; a record holds files only"
	case !e.Mode().IsDir() && !e.Mode().IsRegular():
		return "it is not an ordinary file"
	case e.Method != zip.Store && e.Method != zip.Deflate:
		return "it is packed in a way that is not known here"
	case e.UncompressedSize64 > FileBytes:
		return fmt.Sprintf("it says to be over %d MB", FileBytes>>20)
	case u.total > TotalBytes:
		return fmt.Sprintf("with it the zip file would unpack to over %d MB", TotalBytes>>20)
	case e.UncompressedSize64 > slack && e.UncompressedSize64/ratio > e.CompressedSize64:
		return fmt.Sprintf("it would unpack to over %d times its size", ratio)
	}
	return ""
}
