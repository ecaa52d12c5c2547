package host

import (
	"bufio"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"padband/cmd/padband/internal/hosted"
)

// WriteWhole is as in [hosted.Store]. Each file, or new folder, is written under a
// passing name, through to the disk, and then renamed.
func (f *Folder) WriteWhole(files []hosted.File, over hosted.Over) error {
	units, err := hosted.UnitsOf(files)
	if err != nil {
		return err
	}
	for _, file := range files {
		if _, err := local(file.Name); err != nil {
			return &hosted.WriteError{Name: file.Name, Err: err}
		}
	}
	if units, err = f.due(units, over); err != nil {
		return err
	}
	var parts []string
	defer func() {
		for _, p := range parts {
			os.RemoveAll(p) // those not renamed
		}
	}()
	for _, u := range units {
		part, err := f.part(u)
		parts = append(parts, part)
		if err != nil {
			return &hosted.WriteError{Name: u.Name, Err: reason(err)}
		}
	}
	return f.place(units, parts, over)
}

// due are the units that are to be written: not those that are there with the
// very same content. A name that is taken is refused.
func (f *Folder) due(units []hosted.Unit, over hosted.Over) (due []hosted.Unit, err error) {
	var taken hosted.ExistsError
	for _, u := range units {
		switch same, there, err := f.compare(u, over); {
		case err != nil:
			return nil, err
		case there && same:
		case there && (u.Tree || over != hosted.Replace):
			taken.Names = append(taken.Names, u.Name)
		default:
			due = append(due, u)
		}
	}
	if taken.Names != nil {
		return nil, &taken
	}
	return due, nil
}

// compare says whether a unit's name is taken, and whether by the very same. A
// folder, or a file that is made while it is written, counts as another without
// a look into it; bytes are compared only where the size is the same.
func (f *Folder) compare(u hosted.Unit, over hosted.Over) (same, there bool, err error) {
	name := filepath.Join(f.dir, u.Name)
	info, err := os.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, false, nil
	case err != nil:
		return false, false, &hosted.WriteError{Name: u.Name, Err: reason(err)}
	case u.Tree || over == hosted.Never:
		return false, true, nil
	case !info.Mode().IsRegular():
		return false, true, &hosted.InWayError{Name: u.Name}
	case u.Files[0].Make != nil || info.Size() != int64(len(u.Files[0].Data)):
		return false, true, nil
	}
	old, err := os.ReadFile(name)
	if err != nil {
		return false, true, &hosted.WriteError{Name: u.Name, Err: reason(err)}
	}
	return string(old) == string(u.Files[0].Data), true, nil
}

// place gives the parts their names. What was new is taken away again when a
// later one fails; what was replaced is not brought back.
func (f *Folder) place(units []hosted.Unit, parts []string, over hosted.Over) (err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	var fresh []string
	defer func() {
		if err != nil {
			for _, name := range fresh {
				os.RemoveAll(name)
			}
		}
	}()
	for i, u := range units {
		// Another program may have taken the name since it was looked at.
		final := filepath.Join(f.dir, u.Name)
		_, gone := os.Lstat(final)
		if gone == nil && (u.Tree || over != hosted.Replace) {
			return &hosted.ExistsError{Names: []string{u.Name}}
		}
		if err := os.Rename(parts[i], final); err != nil {
			return &hosted.WriteError{Name: u.Name, Err: reason(err), Placed: true}
		}
		if gone != nil {
			fresh = append(fresh, final)
		}
	}
	syncFolder(f.dir)
	return nil
}

// part writes a unit under a passing name, whose part is to be taken away when
// there is an error.
func (f *Folder) part(u hosted.Unit) (name string, err error) {
	if u.Tree {
		if name, err = os.MkdirTemp(f.dir, hosted.PassingLarge+"*"); err != nil {
			return "", err
		}
		return name, errors.Join(os.Chmod(name, 0o755), fill(name, u.Files))
	}
	prefix := hosted.Passing
	if u.Files[0].Make != nil {
		prefix = hosted.PassingLarge
	}
	to, err := os.CreateTemp(f.dir, prefix+"*")
	if err != nil {
		return "", err
	}
	return to.Name(), write(to, u.Files[0])
}

// fill writes a folder's files.
func fill(dir string, files []hosted.File) error {
	dirs := map[string]bool{dir: true}
	for _, f := range files {
		name := filepath.Join(dir, filepath.FromSlash(f.Name))
		for d := filepath.Dir(name); !dirs[d]; d = filepath.Dir(d) {
			dirs[d] = true
		}
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		to, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err != nil {
			return err
		}
		if err := write(to, f); err != nil {
			return err
		}
	}
	for d := range dirs {
		syncFolder(d)
	}
	return nil
}

// write fills a file and puts it through to the disk.
func write(to *os.File, f hosted.File) (err error) {
	if f.Make == nil {
		_, err = to.Write(f.Data)
	} else {
		w := bufio.NewWriter(to)
		err = errors.Join(f.Make(w), w.Flush())
	}
	return errors.Join(err, to.Chmod(0o644), to.Sync(), to.Close())
}

// syncFolder puts a folder's names through to the disk, where the system can.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync() // some systems cannot do it for a folder
		d.Close()
	}
}

// reason is what the system says, without the names it says it of.
func reason(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}
