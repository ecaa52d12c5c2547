package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"padband/cmd/padband/internal/batch"
)

// often is how often the progress is shown at most.
const often = 200 * time.Millisecond

// meter counts the rows and, at a terminal, shows the progress on one line.
type meter struct {
	w      io.Writer // nil: nothing is shown
	tally  batch.Tally
	total  int
	before int
	start  time.Time
	last   time.Time
	width  int // of the line shown last
}

// meter begins with what runs before have done. Where the rows go to the same
// terminal nothing is shown.
func (e env) meter(total int, done []batch.Outcome, toFile bool) *meter {
	m := &meter{total: total, before: len(done), start: time.Now()}
	for _, o := range done {
		m.tally.Add(o)
	}
	f, ok := e.err.(*os.File)
	if ok && terminal(f) && (toFile || !e.outIsTerminal()) {
		m.w = f
	}
	return m
}

func (e env) outIsTerminal() bool {
	o, ok := e.out.(*output)
	if !ok {
		return false
	}
	f, ok := o.w.(*os.File)
	return ok && terminal(f)
}

// step counts one more row.
func (m *meter) step(o batch.Outcome) {
	m.tally.Add(o)
	if now := time.Now(); m.w != nil && now.Sub(m.last) >= often {
		m.last = now
		m.show()
	}
}

// end leaves the last state on a line of its own.
func (m *meter) end() {
	if m.w != nil {
		m.show()
		fmt.Fprintln(m.w)
	}
}

// show writes the line over the one before it.
func (m *meter) show() {
	p := batch.Progress{Total: m.total, Before: m.before, Done: m.tally.Total(), Failed: m.tally.Failed, Elapsed: time.Since(m.start)}
	line := p.String()
	fmt.Fprintf(m.w, "\r%-*s", m.width, line)
	m.width = len(line)
}
