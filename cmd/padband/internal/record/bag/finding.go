package bag

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"unicode"
)

// Finding is one line of what a check found. It is a fault, or a remark that leaves
// the record whole.
type Finding struct {
	Fault       bool
	About, Text string // About is a path within the record, or a part of it; Text says what is so there
}

// String is the finding on one line, whatever characters a file's name holds.
func (f Finding) String() string {
	kind := "remark"
	if f.Fault {
		kind = "fault"
	}
	return kind + ": " + Shown(f.About) + ": " + f.Text
}

// Fault makes a finding because of which a record is not to be relied on.
func Fault(about, format string, args ...any) Finding {
	return Finding{true, about, fmt.Sprintf(format, args...)}
}

// Remark makes a finding that leaves the record whole.
func Remark(about, format string, args ...any) Finding {
	return Finding{false, about, fmt.Sprintf(format, args...)}
}

// Shown is a name on one line. It stands in quotes when it would not print as it is.
func Shown(s string) string {
	if strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return strconv.Quote(s)
	}
	return s
}

// Cause is what the system says of an error, without the names of the files.
func Cause(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("is not there; check the name")
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}
