package beside

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// File is one file to be written.
type File struct {
	Name string // without a folder
	Data []byte
}

// ExistsError says that files are there already, with another content.
type ExistsError struct{ Names []string }

func (e *ExistsError) Error() string {
	return fmt.Sprintf("there already: %s; nothing was written", strings.Join(e.Names, ", "))
}

// Write puts files into a folder: all of them or, as far as the disk allows,
// none. Each is written under a passing name first and then renamed. One that
// is there with the very same content is left alone; one with another content
// is replaced only with force, else the error is an [*ExistsError].
func Write(folder string, files []File, force bool) error {
	var exist ExistsError
	var todo []File
	for _, f := range files {
		switch same, there, err := compare(filepath.Join(folder, f.Name), f.Data); {
		case err != nil:
			return fmt.Errorf("%s: %w", Shown(f.Name), err)
		case there && same:
		case there && !force:
			exist.Names = append(exist.Names, f.Name)
		default:
			todo = append(todo, f)
		}
	}
	if exist.Names != nil {
		return &exist
	}
	return writeAll(folder, todo)
}

// compare says whether a file is there, and whether it holds these bytes.
func compare(name string, data []byte) (same, there bool, err error) {
	info, err := os.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return false, false, nil
	}
	if err != nil {
		return false, false, plainError(err)
	}
	if !info.Mode().IsRegular() {
		return false, true, errors.New("there is a folder, link or device of this name; move it away")
	}
	if info.Size() != int64(len(data)) {
		return false, true, nil
	}
	old, err := os.ReadFile(name)
	if err != nil {
		return false, true, plainError(err)
	}
	return string(old) == string(data), true, nil
}

func writeAll(folder string, files []File) error {
	var parts []string
	defer func() {
		for _, p := range parts {
			os.Remove(p) // those not renamed
		}
	}()
	for _, f := range files {
		part, err := writePart(folder, f.Data)
		if err != nil {
			return fmt.Errorf("%s: cannot be written: %w; nothing was written", Shown(f.Name), reason(err))
		}
		parts = append(parts, part)
	}
	for i, f := range files {
		if err := os.Rename(parts[i], filepath.Join(folder, f.Name)); err != nil {
			return fmt.Errorf("%s: cannot be put in its place: %w; save again", Shown(f.Name), reason(err))
		}
	}
	return nil
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

func writePart(folder string, data []byte) (name string, err error) {
	f, err := os.CreateTemp(folder, ".padband-part-*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close())
	if err != nil {
		os.Remove(f.Name())
	}
	return f.Name(), err
}
