package words

import (
	"slices"

	"padband/calib"
)

// Unsaid lists the warnings without weight about kit and times, each once: a fact that
// nobody gave is named once for all readings, and not under each.
func Unsaid(readings []calib.Reading) (out []calib.Warning) {
	for _, r := range readings {
		for _, w := range r.Warnings {
			if weightless(w) && !slices.ContainsFunc(out, func(o calib.Warning) bool { return o.Code == w.Code }) {
				out = append(out, w)
			}
		}
	}
	return out
}

// Weighty are the reading's warnings without those that [Unsaid] lists.
func Weighty(r calib.Reading) []calib.Warning {
	return slices.DeleteFunc(slices.Clone(r.Warnings), weightless)
}

// weightless reports whether a warning is about kit or times and has no weight.
func weightless(w calib.Warning) bool {
	facts, _ := w.Code.Facts()
	return w.Weight == calib.Good && facts.About == calib.AboutKit
}
