package readers

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/input"
)

// Joined are the calls of several files, as if one stood below the other: each
// reader may have a file of their own.
type Joined struct {
	calls *agreement.Calls
	files []string
	first []int // of each file, how many lines stand in those before it
}

// ReadFiles reads files of calls.
func ReadFiles(names []string) (*Joined, error) {
	j := &Joined{calls: &agreement.Calls{}}
	lines := 0
	for i, name := range names {
		for _, other := range names[:i] {
			if sameFile(name, other) {
				return nil, fmt.Errorf("%s: is named twice; name each file of calls once", input.Shown(name))
			}
		}
		c, err := readCalls(name)
		n := 0
		if err == nil && len(names) > 1 {
			n, err = countLines(name)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", input.Shown(name), err)
		}
		j.files, j.first = append(j.files, name), append(j.first, lines)
		j.add(c, lines)
		lines += n
	}
	return j, nil
}

// readCalls reads a file of calls as it comes.
func readCalls(name string) (*agreement.Calls, error) {
	info, err := os.Stat(name) // before opening it: a pipe that is opened waits for its writer
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, errors.New("there is no such file; check the name and the folder")
	case err == nil && !info.Mode().IsRegular():
		return nil, errors.New("is a pipe or a device, not an ordinary file; save it and name the file")
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w; check its permissions", input.Cause(err))
	}
	defer f.Close()
	return agreement.Read(f)
}

func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	y, err2 := os.Stat(b)
	return err == nil && err2 == nil && os.SameFile(x, y)
}

// add takes a file's calls, whose lines come after so many others.
func (j *Joined) add(c *agreement.Calls, before int) {
	for _, r := range c.Rows {
		r.Row += before
		j.calls.Rows = append(j.calls.Rows, r)
	}
	for _, l := range c.Left {
		l.Row += before
		j.calls.Left = append(j.calls.Left, l)
	}
	j.calls.LeftCount += c.LeftCount
}

// countLines counts a file's lines, the last one also where nothing ends it.
func countLines(name string) (n int, err error) {
	f, err := os.Open(name)
	if err != nil {
		return 0, fmt.Errorf("cannot be read: %w; check its permissions", input.Cause(err))
	}
	defer f.Close()
	r := bufio.NewReader(f)
	for {
		part, err := r.ReadSlice('\n')
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
		case errors.Is(err, io.EOF) && len(part) == 0:
			return n, nil
		case errors.Is(err, io.EOF):
			return n + 1, nil
		case err != nil:
			return 0, fmt.Errorf("cannot be read: %w; check the disk", input.Cause(err))
		default:
			n++
		}
	}
}

// Name is the files' names as they are printed.
func (j *Joined) Name() string {
	if len(j.files) == 1 {
		return j.files[0]
	}
	var names []string
	for _, f := range j.files {
		names = append(names, filepath.Base(f))
	}
	return strings.Join(names, ", ")
}

// Compare compares the readers; see [agreement.Calls.Compare].
func (j *Joined) Compare(o agreement.Options) ([]agreement.Comparison, error) {
	all, err := j.calls.Compare(o)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", input.Shown(j.Name()), err)
	}
	j.nameLeft(all)
	return all, nil
}

// nameLeft says, of several files, which one a row that is left out is in.
func (j *Joined) nameLeft(all []agreement.Comparison) {
	if len(j.files) < 2 {
		return
	}
	for i := range all {
		var left []agreement.LeftOut
		for _, l := range all[i].Left {
			k := sort.SearchInts(j.first, l.Row) - 1 // the last file that begins before this line
			left = append(left, agreement.LeftOut{Row: l.Row - j.first[k], Why: input.Shown(filepath.Base(j.files[k])) + ": " + l.Why})
		}
		all[i].Left = left
	}
}
