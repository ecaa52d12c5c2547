package record

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"padband/cmd/padband/internal/record/bag"
)

// partsPrefix starts the name of anything that this program is still writing into a
// folder.
const partsPrefix = ".padband-part-"

// Walk summarises each record in the folder or zip file root and below it, in the
// order of their paths: folders that hold a bagit.txt, and zip files that hold such a
// folder. It holds one record at a time in memory. It does not follow links, except
// that root may be one, and passes over what is still being written. It calls problem
// for what cannot be read, and for what looks like a record and is none.
func Walk(root string, found func(Summary), problem func(path string, err error)) {
	w := walk{found, problem}
	info, err := os.Stat(root)
	switch {
	case err != nil:
		problem(root, bag.Cause(err))
	case !info.IsDir():
		w.record(root, true)
	default:
		if whole, err := filepath.EvalSymlinks(root); err == nil && whole != filepath.Clean(root) {
			w.below(whole, root)
			return
		}
		w.below(root, root)
	}
}

// walk is one look through folders. It has the functions that are told what it finds.
type walk struct {
	found   func(Summary)
	problem func(path string, err error)
}

// below walks through a folder; as is the name that the folder goes by.
func (w walk) below(dir, as string) {
	_ = filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error { // never an error: problem is told of each
		name := as
		if rel, err := filepath.Rel(dir, p); err == nil {
			name = filepath.Join(as, rel)
		}
		switch {
		case err != nil:
			w.problem(name, bag.Cause(err))
			return skip(d)
		case strings.HasPrefix(d.Name(), partsPrefix):
			return skip(d)
		case d.IsDir():
			if _, err := os.Lstat(filepath.Join(p, "bagit.txt")); err != nil {
				return nil
			}
			w.record(name, true)
			return fs.SkipDir
		case d.Type().IsRegular() && strings.EqualFold(filepath.Ext(p), ".zip"):
			w.record(name, false)
		}
		return nil
	})
}

// skip passes over a whole folder, or over one file.
func skip(d fs.DirEntry) error {
	if d != nil && d.IsDir() {
		return fs.SkipDir
	}
	return nil
}

// record summarises one record. A zip file of something else is passed over in silence
// unless it was named as a record.
func (w walk) record(name string, named bool) {
	s, err := Summarise(name)
	switch {
	case err == nil:
		w.found(s)
	case named || !errors.Is(err, bag.ErrNotRecord):
		w.problem(name, err)
	}
}
