package bag

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// ErrNotRecord is the error for a zip file that holds something else.
var ErrNotRecord = errors.New("is no record: it holds no bagit.txt")

// OpenFew opens a record's zip file, or its folder for these files alone, so that it
// is quick with a large folder. It follows no link. The error says what is wrong with
// the record; [ErrNotRecord] says that the zip file holds something else.
func OpenFew(name string, paths ...string) (*Root, error) {
	info, err := os.Lstat(name)
	switch {
	case err != nil:
		return nil, Cause(err)
	case info.IsDir():
		return openFolderFor(name, paths)
	case !info.Mode().IsRegular():
		return nil, errors.New("is neither a folder nor an ordinary file")
	}
	root, err := openZip(name)
	if err != nil {
		return nil, err
	}
	for _, f := range root.Findings {
		if root.Has("bagit.txt") || strings.HasSuffix(f.About, "bagit.txt") {
			root.Close()
			return nil, fmt.Errorf("%s: %s", Shown(f.About), f.Text)
		}
	}
	if !root.Has("bagit.txt") {
		root.Close()
		return nil, ErrNotRecord
	}
	return root, nil
}

// openFolderFor opens a folder for the files at these paths.
func openFolderFor(dir string, paths []string) (*Root, error) {
	held, err := os.OpenRoot(dir) // no link opened through it can lead outside
	if err != nil {
		return nil, Cause(err)
	}
	r := &Root{Name: dir, files: map[string]func() (io.ReadCloser, error){}, close: held.Close}
	for _, p := range paths {
		name := filepath.FromSlash(p)
		info, err := held.Lstat(name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			held.Close()
			return nil, fmt.Errorf("%s: %w", p, Cause(err))
		case !info.Mode().IsRegular():
			held.Close()
			return nil, fmt.Errorf("%s is a link or no ordinary file; a record holds files only", p)
		default:
			r.files[p] = func() (io.ReadCloser, error) { return held.Open(name) }
		}
	}
	return r, nil
}
