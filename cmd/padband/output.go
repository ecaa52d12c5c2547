package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
)

// output remembers the first write that failed, and writes nothing after it.
type output struct {
	w   io.Writer
	err error
}

// Write writes, and gives the first failure again for all that comes after it.
func (o *output) Write(p []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.w.Write(p)
	o.err = err
	return n, err
}

// finish turns a failure of the output or of the program itself into one line
// and its exit code. It is the last word on every command.
func (e env) finish(out *output, fault any, code int) int {
	switch {
	case fault != nil:
		e.fail(fmt.Errorf("the program itself failed: %v; nothing was changed; keep the files and report this with them", fault))
		return exitError
	case out.err != nil:
		e.fail(fmt.Errorf("the output could not be written: %w; make room or write it elsewhere", out.err))
		return exitError
	}
	return code
}

// writeWhole writes files into a folder, all of them or none; over others only by
// force.
func writeWhole(folder string, files []hosted.File, force bool) error {
	over := hosted.Same
	if force {
		over = hosted.Replace
	}
	return host.NewFolder(folder).WriteWhole(files, over)
}

// putFiles writes files that a flag asked for. Several are written together, so
// that no figure of one run lies beside one of another; the error names the flag
// that chooses another place.
func putFiles(folder string, files []hosted.File, force bool, flag string) error {
	if len(files) == 0 {
		return nil
	}
	var exists *hosted.ExistsError
	err := writeWhole(folder, files, force)
	switch {
	case errors.As(err, &exists):
		return fmt.Errorf("%w; name another place with %s, or replace with --force", err, flag)
	case err != nil:
		return fmt.Errorf("%s: %w", input.Shown(folder), err)
	}
	return nil
}

// checkFolder says why a folder neither is there nor can be made, as far as that
// shows beforehand: something else is in the way.
func checkFolder(name string) error {
	for at := filepath.Clean(name); ; at = filepath.Dir(at) {
		info, err := os.Stat(at)
		if err == nil && info.IsDir() {
			return nil
		}
		if _, lerr := os.Lstat(at); err == nil || lerr == nil { // a file, or a link that leads nowhere
			return fmt.Errorf("%s: is no folder, and none can be made in its place; name another with --into", input.Shown(at))
		}
		if at == filepath.Dir(at) {
			return nil // what is wrong is said when the folder is made
		}
	}
}

// makeFolder makes a folder with those it lies in. undo takes away again the
// ones that it made, as far as they are empty.
func makeFolder(name string) (undo func(), err error) {
	var made []string // the innermost first
	for at := filepath.Clean(name); at != filepath.Dir(at); at = filepath.Dir(at) {
		if _, err := os.Lstat(at); err == nil {
			break
		}
		made = append(made, at)
	}
	undo = func() {
		for _, m := range made {
			_ = os.Remove(m) // one that holds something stays
		}
	}
	if err := os.MkdirAll(name, 0o777); err != nil {
		undo()
		return nil, fmt.Errorf("the folder cannot be made: %w; name another with --into", input.Cause(err))
	}
	return undo, nil
}
