package batch

import "io"

// Output is where the rows go: a [Journal], what [Whole] found, or [Plain].
type Output interface {
	Done() []Outcome // of rows that are there already
	Append(Row) error
	Finish() error
	Close() error
}

// Plain is an output that takes the rows as they come, such as standard output.
func Plain(w io.Writer) Output { return plain{w} }

type plain struct{ w io.Writer }

func (p plain) Done() []Outcome      { return nil }
func (p plain) Finish() error        { return nil }
func (p plain) Close() error         { return nil }
func (p plain) Append(row Row) error { _, err := p.w.Write(row.Data); return err }
