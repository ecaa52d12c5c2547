package strip

import (
	"slices"

	"padband/calib"
)

// unchecked is the warning of marks that the program found and nobody has looked at. A
// reading on them may be of anything, and nothing in its figures tells.
func unchecked() calib.Warning {
	w := calib.Warning{Code: calib.CodeMarksUnchecked, Figure: 1, Weight: calib.Caution, Places: []calib.Place{{Kind: calib.PlacePhoto}},
		Seen: "Nobody has looked at these outlines: the program found them, and they may lie on something else."}
	if f, ok := w.Code.Facts(); ok {
		w.Then = f.Advice
	}
	return w
}

// addUnchecked warns of such marks at every reading, since each has its own outlines.
func (r *Result) addUnchecked() {
	if !r.Marks.Unchecked {
		return
	}
	for i := range r.Readings {
		r.Readings[i].Add(unchecked())
	}
}

// warnUnchecked warns at a pooled reading where one of its photos has such marks.
func (p *Pooled) warnUnchecked(results []*Result) {
	if slices.ContainsFunc(p.Photos, func(i int) bool { return results[i].Marks.Unchecked }) {
		p.Add(unchecked())
	}
}
