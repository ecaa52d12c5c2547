package charts

import (
	"math"
	"slices"
)

// Moment is a span of seconds after the dip in which one photo is within the
// read windows of all the analytes named.
type Moment struct {
	From, To float64 // seconds
	Analytes []string
}

// hold is how many seconds a moment lasts at least, where the windows allow it:
// nobody takes a photo on the very second.
const hold = 5

// Moments returns the fewest photos, in order of time, that catch every analyte
// within its read window, each with five seconds to take it: for windows on a
// line, the photo at the earliest end and all windows that are open then, and so
// on (the greedy choice is the least number; interval stabbing, from memory).
// Analytes without a window are in no moment; they are the second list.
func (c Chart) Moments() (out []Moment, anytime []string) {
	var left []Analyte
	for _, a := range c.Analytes {
		if a.ReadWindow == nil {
			anytime = append(anytime, a.Name)
			continue
		}
		left = append(left, a)
	}
	for len(left) > 0 {
		last := math.Inf(1)
		for _, a := range left {
			last = min(last, latest(a))
		}
		m := Moment{To: math.Inf(1)}
		left = slices.DeleteFunc(left, func(a Analyte) bool {
			if a.ReadWindow[0] > last {
				return false
			}
			m.From, m.To, m.Analytes = max(m.From, a.ReadWindow[0]), min(m.To, a.ReadWindow[1]), append(m.Analytes, a.Name)
			return true
		})
		out = append(out, m)
	}
	return out, anytime
}

// latest is the last second at which a moment of an analyte can begin.
func latest(a Analyte) float64 { return max(a.ReadWindow[0], a.ReadWindow[1]-hold) }
