package bag

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
)

// These are the most that a record may hold.
const (
	MostFiles  = 10_000
	FileBytes  = 512 << 20
	TotalBytes = 2 << 30
	TagBytes   = 4 << 20 // a manifest, bag-info.txt, a signature, a stamp
)

// Root holds the files of a record, which lie in a folder or in a zip file.
type Root struct {
	Name  string
	files map[string]func() (io.ReadCloser, error) // by path from the base folder, with /
	// Findings say what was wrong with the folder or the zip file itself.
	Findings []Finding
	close    func() error
}

// Close closes the folder or the zip file.
func (r *Root) Close() error {
	if r.close == nil {
		return nil
	}
	return r.close()
}

// Names are the paths of all files, sorted.
func (r *Root) Names() []string {
	var out []string
	for name := range r.files {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// Has reports whether there is a file at this path.
func (r *Root) Has(name string) bool { return r.files[name] != nil }

// Read returns a whole file of at most limit bytes.
func (r *Root) Read(name string, limit int64) ([]byte, error) {
	var b bytes.Buffer
	if err := r.Copy(&b, name, limit); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Copy writes a whole file of at most limit bytes to w.
func (r *Root) Copy(w io.Writer, name string, limit int64) error {
	open := r.files[name]
	if open == nil {
		return fs.ErrNotExist
	}
	f, err := open()
	if err != nil {
		return err
	}
	defer f.Close()
	n, err := io.Copy(w, io.LimitReader(f, limit+1))
	if err == nil && n > limit {
		err = fmt.Errorf("is over the limit of %d MB", limit>>20)
	}
	return err
}

// Open opens a record's folder or its zip file. The error says that the name is
// neither of them; what is wrong inside is among the Findings.
func Open(name string) (*Root, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, Cause(err)
	}
	if info.IsDir() {
		return OpenFolder(name)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("is neither a folder nor an ordinary file; name a record's folder or zip file")
	}
	return openZip(name)
}

// OpenFolder lists a folder of this machine.
func OpenFolder(dir string) (*Root, error) {
	held, err := os.OpenRoot(dir) // no link opened through it can lead outside
	if err != nil {
		return nil, Cause(err)
	}
	r, err := OpenFS(dir, held.FS())
	r.close = held.Close
	return r, err
}

// OpenFS lists a record's folder that is given as a file system; name is what messages
// call it. Links and special files become findings and are not read.
func OpenFS(name string, folder fs.FS) (*Root, error) {
	r := &Root{Name: name, files: map[string]func() (io.ReadCloser, error){}}
	err := fs.WalkDir(folder, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			r.fault(p, "cannot be read: %v", Cause(err))
		case d.IsDir():
		case d.Type()&fs.ModeSymlink != 0:
			r.fault(p, "is a link; a record holds files only")
		case !d.Type().IsRegular():
			r.fault(p, "is not an ordinary file")
		case len(r.files) >= MostFiles:
			r.fault(p, "is more than %d files; the rest was not looked at", MostFiles)
			return fs.SkipAll
		default:
			r.files[p] = func() (io.ReadCloser, error) { return folder.Open(p) }
		}
		return nil
	})
	return r, err
}

func (r *Root) fault(about, format string, args ...any) {
	r.Findings = append(r.Findings, Fault(about, format, args...))
}
