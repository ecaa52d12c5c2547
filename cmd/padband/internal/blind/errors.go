package blind

import (
	"errors"
	"fmt"
)

// These are the errors of the inputs with which a run is begun.
var (
	ErrReader = errors.New("the reader has no name, or one that begins or ends with a space")
	ErrNoPads = errors.New("no pad is marked in these photos; mark them first")
	ErrSeed   = errors.New("no seed could be drawn")
)

// Misfit says what keeps a run from going on with a file of calls, and so what would
// help.
type Misfit int

// Another file always helps. What else helps differs:
const (
	NoneFits  Misfit = iota // nothing else helps
	Mendable                // what the error says helps too
	Unread                  // the file cannot be read
	OtherSeed               // giving no seed helps too
	OtherSet                // giving what the file was begun with helps too
)

// FileError is the error of a file of calls that this run cannot go on with.
type FileError struct {
	Misfit
	Err error
}

func (e *FileError) Error() string { return e.Err.Error() }
func (e *FileError) Unwrap() error { return e.Err }

// unfit makes the error of a file, with what would help.
func unfit(m Misfit, format string, a ...any) error { return &FileError{m, fmt.Errorf(format, a...)} }
