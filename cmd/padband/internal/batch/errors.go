package batch

import "padband/cmd/padband/internal/beside"

// PartError says that a run that did not end has left its part of an output.
type PartError struct{ Name string }

func (e *PartError) Error() string {
	return beside.Shown(e.Name) + " is there, of a run that did not end; go on with --resume, or begin again with --force"
}

// OtherRunError says that what is there is of another run.
type OtherRunError struct{ Name string }

func (e *OtherRunError) Error() string {
	return beside.Shown(e.Name) + " is of another run: other photos, flags or another version of the program; give the same, or begin again with --force"
}

// BusyError says that another run is writing this output now.
type BusyError struct{ Name string }

func (e *BusyError) Error() string {
	return beside.Shown(e.Name) + " is being written by another run; wait for its end, or name another file with --out"
}
