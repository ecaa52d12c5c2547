package hosted

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"time"

	"padband/cmd/padband/internal/input"
)

// Store keeps files: a folder of this machine, or what a browser offers. Names
// are relative paths with slashes, as [CheckName] has them. It may be used from
// several goroutines.
type Store interface {
	// List is what lies in a folder of the store, sorted by name; "" is the store
	// itself. The error of a folder that is not there is an fs.ErrNotExist.
	List(folder string) ([]fs.DirEntry, error)

	// Read opens an ordinary file. The error of one that is not there is an
	// fs.ErrNotExist.
	Read(name string) (Stored, error)

	// WriteWhole writes files so that all of them appear or, as far as the host
	// allows, none. Those of a folder make it anew, and it appears with all of
	// them at once. Names that are taken are an [*ExistsError], as over has it;
	// what fails with one file is a [*WriteError].
	WriteWhole(files []File, over Over) error

	// Remove takes away a file, or a folder with all that is in it. The error of
	// one that is not there is an fs.ErrNotExist.
	Remove(name string) error
}

// Stored is a file of a store, open to be read.
type Stored interface {
	fs.File
	io.ReaderAt
	io.Seeker
}

// File is a file to be written: its bytes, or what makes them.
type File struct {
	Name string
	Data []byte
	Make func(w io.Writer) error // in place of Data, for what is not to be held in memory whole
}

// Over is what becomes of a name that is taken. That of a new folder is refused
// whatever is asked.
type Over int

const (
	Never   Over = iota // it is refused
	Same                // left alone when the file holds the very same Data, else refused
	Replace             // left alone likewise, else replaced
)

// ExistsError says which names are taken. Nothing was written.
type ExistsError struct{ Names []string }

func (e *ExistsError) Error() string {
	return fmt.Sprintf("there already: %s; nothing was written", strings.Join(e.Names, ", "))
}

// InWayError says that a name is taken by what is no file, which is never replaced.
type InWayError struct{ Name string }

// Fault is the error without the file's name, for one who names it.
func (e *InWayError) Fault() string {
	return "there is a folder, link or device of this name; move it away"
}

func (e *InWayError) Error() string {
	return input.Shown(e.Name) + ": " + e.Fault()
}

// WriteError says that a file could not be written.
type WriteError struct {
	Name   string
	Err    error // what the host says, without names
	Placed bool  // it was written, and could not be put in its place
}

// Fault is the error without the file's name, for one who names it.
func (e *WriteError) Fault() string {
	if e.Placed {
		return fmt.Sprintf("cannot be put in its place: %v; save again", e.Err)
	}
	return fmt.Sprintf("cannot be written: %v; nothing was written", e.Err)
}

func (e *WriteError) Unwrap() error { return e.Err }

// Passing begins the name of what is being written and is no file yet.
const Passing = ".padband-part-"

// PassingLarge begins that of a folder or of a made file. A run that is killed
// leaves it.
const PassingLarge = Passing + "record-"

// stale is how old such a left-over must be before it is taken away: no run
// takes that long.
const stale = 24 * time.Hour

// Sweep takes away what killed runs left more than a day before now. What cannot
// be taken away stays.
func Sweep(s Store, now time.Time) {
	there, _ := s.List("") // a store that cannot be listed holds nothing to take away
	for _, e := range there {
		found, err := e.Info()
		if err == nil && strings.HasPrefix(e.Name(), PassingLarge) && now.Sub(found.ModTime()) > stale {
			_ = s.Remove(e.Name())
		}
	}
}

func (e *WriteError) Error() string { return input.Shown(e.Name) + ": " + e.Fault() }

// Unnamed is an error of a store without the name of the file that it is of.
func Unnamed(err error) error {
	var of interface{ Fault() string }
	if errors.As(err, &of) {
		return errors.New(of.Fault())
	}
	return err
}
