package main

import (
	"fmt"
	"os"
	"time"
)

// progress shows on a terminal how far a walk is, and nothing elsewhere.
type progress struct {
	to    *os.File // nil when there is no terminal
	last  time.Time
	shown bool
}

func (e env) progress() *progress {
	f, ok := e.err.(*os.File)
	if !ok || !terminal(f) {
		return &progress{}
	}
	return &progress{to: f, last: time.Now()}
}

// between is the least time from one count shown to the next.
const between = 200 * time.Millisecond

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
