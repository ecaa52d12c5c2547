package host

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"padband/cmd/padband/internal/hosted"
)

// Folder is a store in a folder of this machine. A link that lies in the folder
// itself is its owner's and is read through; below that none leads out of it, and
// none is written through. Only one Folder of a program may write to a folder at a
// time: what is checked and what is put in its place are two steps of a system.
type Folder struct {
	dir string
	mu  sync.Mutex // of the second step
}

// NewFolder is the store in a folder that is there.
func NewFolder(dir string) *Folder { return &Folder{dir: dir} }

// errFolder is of a folder where a file is wanted.
var errFolder = errors.New("is a folder; name a file")

// local is a store's name as a path of this system, from the folder.
func local(name string) (string, error) {
	if err := hosted.CheckName(name); err != nil {
		return "", err
	}
	l, err := filepath.Localize(name)
	if err != nil {
		return "", errors.New("this system has no such names; rename the file")
	}
	return l, nil
}

// List is as in [hosted.Store].
func (f *Folder) List(folder string) ([]fs.DirEntry, error) {
	if folder == "" {
		return os.ReadDir(f.dir)
	}
	name, err := local(folder)
	if err != nil {
		return nil, err
	}
	root, err := f.root(name)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	return fs.ReadDir(root.FS(), filepath.ToSlash(name))
}

// root opens the folder so that nothing leads out of it; what is named in it must
// not be, nor lie in, a link.
func (f *Folder) root(name string) (*os.Root, error) {
	root, err := os.OpenRoot(f.dir)
	if err != nil {
		return nil, err
	}
	for at := 0; ; at++ { // each folder on the way, and the name itself at last
		next := strings.IndexByte(name[at:], filepath.Separator)
		if next < 0 {
			next = len(name) - at
		}
		at += next
		info, err := root.Lstat(name[:at])
		switch {
		case err != nil:
		case info.Mode()&fs.ModeSymlink != 0:
			err = errLink
		case at == len(name):
			return root, nil
		}
		if err != nil {
			root.Close()
			return nil, err
		}
	}
}

// errLink is of a link, which could lead out of the folder.
var errLink = errors.New("is a link; a record holds files only")

// Read is as in [hosted.Store].
func (f *Folder) Read(name string) (hosted.Stored, error) {
	path, err := local(name)
	if err != nil {
		return nil, err
	}
	if !strings.Contains(name, "/") {
		return f.readTop(path)
	}
	root, err := f.root(path)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	info, err := root.Stat(path)
	if err == nil {
		err = ordinary(info)
	}
	if err != nil {
		return nil, err
	}
	return root.Open(path)
}

// readTop opens a file that lies in the folder itself, or that a link there leads to.
func (f *Folder) readTop(path string) (hosted.Stored, error) {
	path = filepath.Join(f.dir, path)
	link, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	info, err := os.Stat(path) // before opening it: a pipe that is opened waits for its writer
	switch {
	case errors.Is(err, fs.ErrNotExist) && link.Mode()&fs.ModeSymlink != 0:
		return nil, errors.New("is a link that leads nowhere; take it away")
	case err == nil:
		err = ordinary(info)
	}
	if err != nil {
		return nil, err
	}
	return os.Open(path)
}

// ordinary says why a file is none that can be read to its end, or nil.
func ordinary(info fs.FileInfo) error {
	switch {
	case info.IsDir():
		return errFolder
	case !info.Mode().IsRegular():
		return errors.New("is a pipe or a device, not an ordinary file; save it and name the file")
	}
	return nil
}

// Remove is as in [hosted.Store]. A link is taken away, not what it leads to.
func (f *Folder) Remove(name string) error {
	path, err := local(name)
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(f.dir)
	if err != nil {
		return err
	}
	defer root.Close()
	if _, err := root.Lstat(path); err != nil {
		return err
	}
	return root.RemoveAll(path)
}
