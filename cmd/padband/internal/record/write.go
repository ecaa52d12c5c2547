package record

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// partPrefix starts the name of what is still being written. A run that was
// killed leaves one such folder or file, which is no record.
const partPrefix = ".padband-part-record-"

// stale is how old a left-over part must be before it is taken away: no run
// takes that long.
const stale = 24 * time.Hour

// ExistsError says that a record of this name is there; it was left alone.
type ExistsError struct{ Name string }

func (e *ExistsError) Error() string {
	return shown(e.Name) + " is there already and was left as it is; move it away or keep the record elsewhere"
}

// CheckParent says why no record can be kept in a folder, as far as that shows
// beforehand.
func CheckParent(parent string) error {
	info, err := os.Stat(parent)
	switch {
	case err != nil:
		return Unwritten(err)
	case !info.IsDir():
		return Unwritten(errors.New("is not a folder"))
	}
	return nil
}

// Unwritten says that a record was not kept, and why.
func Unwritten(err error) error {
	return fmt.Errorf("the record cannot be written: %w; nothing was kept, make room or choose another folder", cause(err))
}

// Write writes a record as a folder of the name given into parent, all of it or
// nothing: it grows under a passing name and is renamed when it is whole and on
// the disk. It never writes over anything ([*ExistsError]).
func Write(parent, name string, files []File) error {
	return place(parent, name, func() (string, error) {
		part, err := os.MkdirTemp(parent, partPrefix+"*")
		if err != nil {
			return "", err
		}
		return part, errors.Join(os.Chmod(part, 0o755), fill(part, files))
	})
}

// WriteZipFile is [Write] for one zip file, NAME.zip.
func WriteZipFile(parent, name string, files []File) error {
	return place(parent, name+".zip", func() (string, error) {
		f, err := os.CreateTemp(parent, partPrefix+"*")
		if err != nil {
			return "", err
		}
		w := bufio.NewWriter(f)
		err = errors.Join(WriteZip(w, name, files), w.Flush(), f.Chmod(0o644), f.Sync())
		return f.Name(), errors.Join(err, f.Close())
	})
}

// place makes a part and gives it its name.
func place(parent, name string, make func() (part string, err error)) error {
	final := filepath.Join(parent, name)
	if _, err := os.Lstat(final); err == nil {
		return &ExistsError{name}
	}
	part, err := make()
	if err == nil {
		if _, there := os.Lstat(final); there == nil {
			err = &ExistsError{name}
		} else if err = os.Rename(part, final); err == nil {
			return syncFolder(parent)
		}
	}
	if part != "" {
		os.RemoveAll(part)
	}
	var exists *ExistsError
	if errors.As(err, &exists) {
		return err
	}
	return Unwritten(err)
}

// fill writes the files below dir, each through to the disk.
func fill(dir string, files []File) error {
	dirs := map[string]bool{dir: true}
	for _, f := range files {
		name := filepath.Join(dir, filepath.FromSlash(f.Name))
		dirs[filepath.Dir(name)] = true
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		if err := writeFile(name, f.Data); err != nil {
			return err
		}
	}
	dirs[filepath.Join(dir, "data")] = true
	for d := range dirs {
		if err := syncFolder(d); err != nil {
			return err
		}
	}
	return nil
}

func writeFile(name string, data []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

// syncFolder puts a folder's names through to the disk, where the system can.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	_ = d.Sync() // some systems cannot do it for a folder
	return nil
}

// Sweep takes away what killed runs left in parent more than a day before now.
func Sweep(parent string, now time.Time) {
	entries, _ := os.ReadDir(parent) // a folder that cannot be read holds nothing to take away
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && strings.HasPrefix(e.Name(), partPrefix) && now.Sub(info.ModTime()) > stale {
			os.RemoveAll(filepath.Join(parent, e.Name()))
		}
	}
}

// AddStamp puts a timestamp reply into a record's folder, after checking that
// it is for this record. One that is there already is left alone.
func AddStamp(dir string, reply []byte) (Stamp, error) {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return Stamp{}, errors.New("is no folder, and a stamp goes into a record's folder; unpack the zip file, stamp the folder, and zip that again")
	}
	root, err := openFolder(dir)
	if err != nil {
		return Stamp{}, err
	}
	defer root.Close()
	tag, err := root.read(TagManifest, tagBytes)
	if err != nil {
		return Stamp{}, fmt.Errorf("is no record's folder: %s %w", TagManifest, cause(err))
	}
	s, err := CheckStamp(reply, tag)
	if err != nil {
		return s, fmt.Errorf("the stamp %w", err)
	}
	if root.has(StampPath) {
		return s, &ExistsError{StampPath}
	}
	return s, writeStamp(dir, reply)
}

func writeStamp(dir string, reply []byte) error {
	return place(dir, StampPath, func() (string, error) {
		f, err := os.CreateTemp(filepath.Dir(filepath.Clean(dir)), partPrefix+"*")
		if err != nil {
			return "", err
		}
		_, err = io.Copy(f, strings.NewReader(string(reply)))
		return f.Name(), errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close())
	})
}
