package words

import "padband/cmd/padband/internal/lines"

// Entry is a label with its value, as both are printed.
type Entry struct{ Label, Value string }

// Printed are labels and values as they are printed, each on one line.
func Printed(in []Entry) (out []Entry) {
	for _, e := range in {
		out = append(out, Entry{lines.OneLine(e.Label), lines.OneLine(e.Value)})
	}
	return out
}
