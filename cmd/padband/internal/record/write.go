package record

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/record/bag"
)

// ExistsError says that a record of this name exists already; that one was left alone.
type ExistsError struct{ Name string }

func (e *ExistsError) Error() string {
	return bag.Shown(e.Name) + " is there already and was left as it is; move it away or keep the record elsewhere"
}

// unwritten says that a record was not kept, and why.
func unwritten(err error) error {
	return fmt.Errorf("the record cannot be written: %w; nothing was kept, make room or choose another folder", bag.Cause(err))
}

// Write writes a record into a store under the name given, as a folder or as the zip
// file NAME.zip, and returns the name that it has there. The record appears whole or
// not at all, and never replaces anything ([*ExistsError]).
func Write(in hosted.Store, name string, files []bag.File, zipped bool) (string, error) {
	whole, folder := []hosted.File{}, name
	for _, f := range files {
		whole = append(whole, hosted.File{Name: folder + "/" + f.Name, Data: f.Data})
	}
	if zipped {
		name += ".zip"
		whole = []hosted.File{{Name: name, Make: func(w io.Writer) error { return bag.WriteZip(w, folder, files) }}}
	}
	err := in.WriteWhole(whole, hosted.Never)
	var exists *hosted.ExistsError
	var one *hosted.WriteError
	switch {
	case err == nil:
		return name, nil
	case errors.As(err, &exists):
		return "", &ExistsError{name}
	case errors.As(err, &one):
		err = one.Err
	}
	return "", unwritten(err)
}

// AddStamp puts a timestamp reply into a record's folder, after checking that it is
// for this record. A stamp that is there already is left alone.
func AddStamp(dir string, reply []byte, check Stamp) (at time.Time, err error) {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return at, errors.New("is no folder, and a stamp goes into a record's folder; unpack the zip file, stamp the folder, and zip that again")
	}
	root, err := bag.OpenFolder(dir)
	if err != nil {
		return at, err
	}
	defer root.Close()
	tag, err := root.Read(bag.TagManifest, bag.TagBytes)
	if err != nil {
		return at, fmt.Errorf("is no record's folder: %s %w", bag.TagManifest, bag.Cause(err))
	}
	if at, err = check(reply, tag); err != nil {
		return at, fmt.Errorf("the stamp %w", err)
	}
	if root.Has(StampPath) {
		return at, &ExistsError{StampPath}
	}
	return at, writeStamp(dir, reply)
}

// writeStamp puts the reply into its place whole. It is first written beside the
// record, because a record holds nothing that is not a part of it.
func writeStamp(dir string, reply []byte) error {
	f, err := os.CreateTemp(filepath.Dir(filepath.Clean(dir)), hosted.PassingLarge+"*")
	if err != nil {
		return unwritten(err)
	}
	_, err = f.Write(reply)
	err = errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close())
	final := filepath.Join(dir, StampPath)
	if err == nil {
		if _, there := os.Lstat(final); there == nil {
			err = &ExistsError{StampPath}
		} else {
			err = os.Rename(f.Name(), final)
		}
	}
	if err == nil {
		return nil
	}
	os.Remove(f.Name())
	var exists *ExistsError
	if errors.As(err, &exists) {
		return err
	}
	return unwritten(err)
}
