package batch

import (
	"fmt"
	"io"
	"time"
)

// often is how often the progress is shown at most.
const often = 200 * time.Millisecond

// Meter counts the rows and shows the progress on one line of a terminal.
type Meter struct {
	Tally
	w      io.Writer // nil: nothing is shown
	total  int
	before int
	start  time.Time
	last   time.Time
	width  int // of the line shown last
}

// NewMeter begins with what runs before have done of so many photos. w is the
// terminal; with nil nothing is shown.
func NewMeter(w io.Writer, total int, done []Outcome) *Meter {
	m := &Meter{w: w, total: total, before: len(done), start: time.Now()}
	for _, o := range done {
		m.Add(o)
	}
	return m
}

// Step counts one more row.
func (m *Meter) Step(o Outcome) {
	m.Add(o)
	if now := time.Now(); m.w != nil && now.Sub(m.last) >= often {
		m.last = now
		m.show()
	}
}

// End leaves the last state on a line of its own.
func (m *Meter) End() {
	if m.w != nil {
		m.show()
		fmt.Fprintln(m.w)
	}
}

// show writes the line over the one before it.
func (m *Meter) show() {
	p := Progress{Total: m.total, Before: m.before, Done: m.Tally.Total(), Failed: m.Failed, Elapsed: time.Since(m.start)}
	line := p.String()
	fmt.Fprintf(m.w, "\r%-*s", m.width, line)
	m.width = len(line)
}
