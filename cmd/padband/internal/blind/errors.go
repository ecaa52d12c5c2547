package blind

import (
	"errors"
	"fmt"
)

// Errors of what a run is begun with.
var (
	ErrReader = errors.New("the reader has no name, or one that begins or ends with a space")
	ErrNoPads = errors.New("no pad is marked in these photos; mark them first")
	ErrSeed   = errors.New("no seed could be drawn")
)

// Misfit says what keeps a run from going on with a file of calls.
type Misfit int

// What helps differs: another file helps always.
const (
	NoneFits  Misfit = iota // nothing else helps
	Mendable                // or what the error says
	Unread                  // the file cannot be read
	OtherSeed               // or no seed of one's own
	OtherSet                // or what the file was begun with
)

// FileError is the error of a file of calls that this run cannot go on with.
type FileError struct {
	Misfit
	Err error
}

func (e *FileError) Error() string { return e.Err.Error() }
func (e *FileError) Unwrap() error { return e.Err }

// unfit is a file's error with what helps.
func unfit(m Misfit, format string, a ...any) error { return &FileError{m, fmt.Errorf(format, a...)} }
