package outlined

import (
	"math"
	"slices"
	"sort"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

// lie is where marks put what a question is about; patch is the patch of a question
// about one.
func lie(q outline.Question, m charts.Marks, c charts.Chart, patch *charts.Mark) words.Lie {
	at := words.Lie{}
	rows, pads := named(c, m, charts.RoleSwatch), strippedPads(c, m)
	if len(rows) > 0 {
		along := rowVector(m, rows[0].analyte)
		if len(q.Analytes) > 0 {
			at.Low = begins(rowVector(m, q.Analytes[0]))
		} else {
			at.Low = begins(along)
		}
		at.From, at.Rows = ordered(rows, colorimetry.Point{X: along.Y, Y: along.X}) // across the rows
	}
	if len(pads) > 1 {
		along := minus(pads[len(pads)-1].middle, pads[0].middle)
		at.Tip, at.Pads = begins(along), names(pads)
		if q.Code != outline.AskStripEnd { // there they are told from the tip
			at.First, at.Pads = ordered(pads, along)
		}
	}
	switch {
	case q.Code == outline.AskPatch && patch != nil:
		at.X, at.Y, at.Spot = middleOf(m, func(r charts.Mark) bool { return same(r, *patch) })
	case q.Code == outline.AskStrip:
		at.Pads = names(pads)
		at.X, at.Y, at.Spot = middleOf(m, func(r charts.Mark) bool { return r.Role == charts.RolePad })
	case q.Code == outline.AskPlace:
		at.X, at.Y, at.Spot = middleOf(m, func(r charts.Mark) bool { return r.Role == charts.RoleSwatch })
	}
	return at
}

// place is an analyte's pad or row, and its middle.
type place struct {
	analyte string
	middle  colorimetry.Point
}

// named are the analytes with marks of a role, in the chart's order.
func named(c charts.Chart, m charts.Marks, role charts.Role) (out []place) {
	for _, a := range c.Analytes {
		x, y, ok := middleOf(m, func(r charts.Mark) bool { return r.Role == role && r.Analyte == a.Name })
		if ok {
			out = append(out, place{a.Name, colorimetry.Point{X: x, Y: y}})
		}
	}
	return out
}

// strippedPads are the marked pads in the order of the strip, from its tip.
func strippedPads(c charts.Chart, m charts.Marks) []place {
	order, out := c.Pads(), named(c, m, charts.RolePad)
	at := func(k int) int { return slices.Index(order, out[k].analyte) }
	sort.SliceStable(out, func(i, j int) bool { return at(i) < at(j) })
	return out
}

// names are the analytes of places.
func names(all []place) (out []string) {
	for _, p := range all {
		out = append(out, p.analyte)
	}
	return out
}

// ordered are places from the top or, where they lie along the photo's width, from the
// left; along is the direction in which they lie.
func ordered(all []place, along colorimetry.Point) (from string, out []string) {
	sorted := slices.Clone(all)
	wide := math.Abs(along.X) > math.Abs(along.Y)
	sort.SliceStable(sorted, func(i, j int) bool {
		if wide {
			return sorted[i].middle.X < sorted[j].middle.X
		}
		return sorted[i].middle.Y < sorted[j].middle.Y
	})
	if wide {
		return "left", names(sorted)
	}
	return "top", names(sorted)
}

// begins is the side of the photo at which something begins that runs in a direction;
// it is empty where there is none.
func begins(along colorimetry.Point) string {
	switch wide := math.Abs(along.X) > math.Abs(along.Y); {
	case along == colorimetry.Point{}:
		return ""
	case wide && along.X > 0:
		return "left"
	case wide:
		return "right"
	case along.Y > 0:
		return "top"
	}
	return "bottom"
}

// rowVector leads from the lowest to the highest marked swatch of an analyte.
func rowVector(m charts.Marks, analyte string) colorimetry.Point {
	var low, high *charts.Mark
	for i, r := range m.Regions {
		if r.Role != charts.RoleSwatch || r.Analyte != analyte {
			continue
		}
		if low == nil || r.Value < low.Value {
			low = &m.Regions[i]
		}
		if high == nil || r.Value > high.Value {
			high = &m.Regions[i]
		}
	}
	if low == nil {
		return colorimetry.Point{}
	}
	return minus(high.Region.Centroid(), low.Region.Centroid())
}

func minus(a, b colorimetry.Point) colorimetry.Point {
	return colorimetry.Point{X: a.X - b.X, Y: a.Y - b.Y}
}

// middleOf is the middle of the marks that are meant; ok is false where there are none.
func middleOf(m charts.Marks, meant func(charts.Mark) bool) (x, y float64, ok bool) {
	n := 0.0
	for _, r := range m.Regions {
		if meant(r) {
			c := r.Region.Centroid()
			x, y, n = x+c.X, y+c.Y, n+1
		}
	}
	return x / n, y / n, n > 0
}

// same reports whether two marks mark the same thing.
func same(a, b charts.Mark) bool {
	return a.Role == b.Role && a.Analyte == b.Analyte && a.Value == b.Value && a.Part == b.Part
}

// doubtful is the patch that a question about one patch is about: the first swatch, or
// else pad, that some answer leaves out or puts elsewhere. It is nil where all agree; row
// says that it is not the only one. The first of the marks are the best guess.
func doubtful(q outline.Question, all []charts.Marks) (patch *charts.Mark, row bool) {
	if q.Code != outline.AskPatch {
		return nil, false
	}
	for _, role := range []charts.Role{charts.RoleSwatch, charts.RolePad} {
		for i, r := range all[0].Regions {
			if r.Role != role || len(q.Analytes) > 0 && !slices.Contains(q.Analytes, r.Analyte) {
				continue
			}
			if !slices.ContainsFunc(all[1:], func(m charts.Marks) bool { return !marks(m, r) }) {
				continue
			}
			if patch != nil {
				return patch, true
			}
			patch = &all[0].Regions[i]
		}
	}
	return patch, false
}

// elsewhere is the first pad or swatch that other marks leave out or put elsewhere; nil
// where there is none.
func elsewhere(m, other charts.Marks) *charts.Mark {
	for i, r := range m.Regions {
		if (r.Role == charts.RolePad || r.Role == charts.RoleSwatch) && !marks(other, r) {
			return &m.Regions[i]
		}
	}
	return nil
}

// nearly is how far the middles of two outlines of one patch lie apart at most, in its
// own width: an outline that lies on the next patch is a whole one off.
const nearly = 0.3

// marks reports whether marks have a patch, and at the same place.
func marks(m charts.Marks, r charts.Mark) bool {
	k := slices.IndexFunc(m.Regions, func(o charts.Mark) bool { return same(o, r) })
	return k >= 0 && m.Regions[k].Region.Centroid().Distance(r.Region.Centroid()) <= nearly*math.Sqrt(r.Region.Area())
}
