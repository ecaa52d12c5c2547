package strip

import (
	"slices"

	"padband/calib"
	"padband/charts"
)

// unchecked is the warning of marks that the program found and nobody has looked at. A
// reading on them may be of anything, and nothing in its figures tells.
func unchecked(m charts.Marks) calib.Warning {
	w := calib.Warning{Code: calib.CodeMarksUnchecked, Figure: 1, Weight: calib.Caution, Places: []calib.Place{{Kind: calib.PlacePhoto}},
		Seen: "Nobody has looked at these outlines: the program found them, and they may lie on something else."}
	if !m.Unchecked {
		w.Seen = "The program was not sure of these outlines and asked about them, and nobody has answered."
	}
	if f, ok := w.Code.Facts(); ok {
		w.Then = f.Advice
	}
	return w
}

// unsure reports whether the marks were found and something of them is still for a person
// to say.
func unsure(m charts.Marks) bool { return m.Unchecked || len(m.Asked) > 0 }

// addUnchecked warns of such marks at every reading, since each has its own outlines.
func (r *Result) addUnchecked() {
	if !unsure(r.Marks) {
		return
	}
	for i := range r.Readings {
		r.Readings[i].Add(unchecked(r.Marks))
	}
}

// warnUnchecked warns at a pooled reading where one of its photos has such marks.
func (p *Pooled) warnUnchecked(results []*Result) {
	if k := slices.IndexFunc(p.Photos, func(i int) bool { return unsure(results[i].Marks) }); k >= 0 {
		p.Add(unchecked(results[p.Photos[k]].Marks))
	}
}
