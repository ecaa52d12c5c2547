package batch

import (
	"fmt"

	"padband/cmd/padband/internal/input"
)

// PartError says that a run that did not end has left its part of an output.
type PartError struct{ Name string }

func (e *PartError) Error() string {
	return input.Shown(e.Name) + " is there, of a run that did not end"
}

// OtherRunError says that what is there is of another run.
type OtherRunError struct{ Name string }

func (e *OtherRunError) Error() string {
	return input.Shown(e.Name) + " is of another run: other photos, flags or another version of the program; give the same"
}

// BusyError says that another run is writing this output now.
type BusyError struct{ Name string }

func (e *BusyError) Error() string {
	return input.Shown(e.Name) + " is being written by another run; wait for its end"
}

// FullError says that a row could not be written; the output can be gone on with.
type FullError struct {
	Name string
	Err  error
}

func (e *FullError) Error() string {
	return fmt.Sprintf("%s: cannot be written: %v; make room and go on", input.Shown(e.Name), e.Err)
}

func (e *FullError) Unwrap() error { return e.Err }
