package main

import (
	"errors"
	"fmt"
	"io"

	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
)

// output remembers the first write that failed, and writes nothing after it.
type output struct {
	w   io.Writer
	err error
}

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

// putFiles writes files that a flag asked for.
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
