package main

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"time"
	"unicode/utf8"

	"padband/cmd/padband/internal/record"
)

// terminal is whether a file is a terminal: a character device, but not the one
// that swallows everything.
func terminal(f *os.File) bool {
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	null, err := os.Stat(os.DevNull)
	return err != nil || !os.SameFile(info, null)
}

// atTerminal is the terminal that a person answers at, or nil.
func (e env) atTerminal() *os.File {
	if f, ok := e.in.(*os.File); ok && terminal(f) {
		return f
	}
	return nil
}

// asker asks at a terminal, each thing once, until the input ends; elsewhere it
// answers nothing.
func (e env) asker() func(string) string {
	f := e.atTerminal()
	if f == nil {
		return func(string) string { return "" }
	}
	in, ended := bufio.NewReader(f), false
	return func(what string) string {
		for !ended {
			fmt.Fprintf(e.err, "%s (empty when not known): ", what)
			line, err := in.ReadString('\n')
			if ended = err != nil; ended {
				fmt.Fprintln(e.err)
			}
			line = strings.TrimSpace(line)
			if utf8.RuneCountInString(line) <= record.LongestFact {
				return line
			}
			fmt.Fprintf(e.err, "that is over %d letters and was not taken; say it shorter, or keep it in a file with --attach\n", record.LongestFact)
		}
		return ""
	}
}

// progress shows on a terminal how far a walk is, and nothing elsewhere.
type progress struct {
	to    *os.File // nil when there is no terminal
	last  time.Time
	shown bool
}

// progress is shown where a person sees it: standard error, when that is a
// terminal.
func (e env) progress() *progress {
	f, ok := e.err.(*os.File)
	if !ok || !terminal(f) {
		return &progress{}
	}
	return &progress{to: f, last: time.Now()}
}

// between is the least time from one count shown to the next.
const between = 200 * time.Millisecond

// at tells how many were looked at; most calls print nothing, for a terminal is
// slower than the walk.
func (p *progress) at(n int) {
	if p.to == nil || time.Since(p.last) < between {
		return
	}
	p.last, p.shown = time.Now(), true
	fmt.Fprintf(p.to, "\r%d records looked at", n)
}

// done clears the line for what comes after it.
func (p *progress) done() {
	if p.shown {
		fmt.Fprint(p.to, "\r\x1b[K")
		p.shown = false
	}
}
