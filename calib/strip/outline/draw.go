package outline

import (
	"math"
	"slices"

	"padband/charts"
	"padband/colorimetry"
)

// drawing makes marks of guesses.
type drawing struct {
	s             *search
	chart         charts.Chart
	lines         []line
	width, height int
	last          *drawn // the whites found before
}

// drawn are the whites of a guess.
type drawn struct {
	fit    fit
	strip  *stripFit
	whites []white
}

// How much of a patch is outlined.
const (
	ofPatch   = 0.74 // of its sides, as somebody who marks by hand leaves a margin
	ofMissing = 0.5
	ofPad     = 0.68 // the edges of a wet pad run
)

// even gives each place the mean outline of itself and the two beside it: the corners of
// a small patch are found with an error of a point or more.
func even(spots []spot) []spot {
	out := slices.Clone(spots)
	for k, p := range spots {
		if k == 0 || k == len(spots)-1 {
			continue
		}
		var sum [4]colorimetry.Point
		for _, q := range spots[k-1 : k+2] {
			f := math.Sqrt(p.area/q.area) / 3
			from := nearest(q, p)
			for i := range sum {
				c := q.quad[(i+from)%4]
				sum[i].X, sum[i].Y = sum[i].X+f*(c.X-q.mid.X), sum[i].Y+f*(c.Y-q.mid.Y)
			}
		}
		for i := range sum {
			out[k].quad[i] = colorimetry.Point{X: p.mid.X + sum[i].X, Y: p.mid.Y + sum[i].Y}
		}
	}
	return out
}

// nearest is the number of q's corner that lies to its middle as p's first lies to p's.
func nearest(q, p spot) (best int) {
	least := math.Inf(1)
	for i, c := range q.quad {
		d := math.Hypot(c.X-q.mid.X-p.quad[0].X+p.mid.X, c.Y-q.mid.Y-p.quad[0].Y+p.mid.Y)
		if d < least {
			best, least = i, d
		}
	}
	return best
}

// marks are the marks of a guess, in pixels of the photo.
func (d drawing) marks(g guess) charts.Marks {
	m := charts.Marks{Format: 1, Chart: d.chart.Name, Regions: d.patches(g)}
	for _, w := range d.whitesOf(g) {
		m.Regions = append(m.Regions, charts.Mark{Role: charts.RoleWhite, Material: w.material, Region: d.region(w.spot, 1)})
	}
	return d.cornered(m, g)
}

// patches are the marks of pads and swatches.
func (d drawing) patches(g guess) (regions []charts.Mark) {
	order := padOrder(d.chart, d.lines)
	if g.strip != nil {
		pads := even(g.strip.pads)
		n := len(pads)
		for k, i := range order {
			at := k
			if g.ended {
				at = n - 1 - k
			}
			l := d.lines[i]
			regions = append(regions, charts.Mark{
				Role: charts.RolePad, Analyte: d.chart.Analytes[l.analyte].Name, Part: l.part,
				Region: d.region(pads[at], ofPad),
			})
		}
	}
	for i, l := range d.lines {
		a := d.chart.Analytes[l.analyte]
		for k, p := range even(g.fit.rows[i].spots) {
			at := k
			if g.turned {
				at = l.n - 1 - k
			}
			regions = append(regions, charts.Mark{
				Role: charts.RoleSwatch, Analyte: a.Name, Part: l.part, Value: a.Swatches[at].Value, Region: d.region(p, ofPatch),
			})
		}
	}
	return regions
}

// possible are the guesses whose marks do not lie on each other, of those that may be
// asked about.
func (d drawing) possible(all []guess) (out []guess) {
	for _, g := range all {
		if len(out) > 0 && g.score < out[0].score-doubtWithin {
			break
		}
		m := charts.Marks{Format: 1, Regions: d.patches(g)}
		_, err := m.Cells(d.chart, d.width, d.height)
		if g.strip != nil {
			_, err = m.Place(d.chart, d.width, d.height)
		}
		if err == nil {
			out = append(out, g)
		}
	}
	return out
}

// whitesOf are the whites of a guess; those whose marks lie at the same places, whatever
// they are called, have the same.
func (d drawing) whitesOf(g guess) []white {
	if d.last.strip == g.strip && d.last.fit.rows != nil && d.last.fit.samePlaces(g.fit) {
		return d.last.whites
	}
	d.last.fit, d.last.strip, d.last.whites = g.fit, g.strip, d.whites(g)
	return d.last.whites
}

// region is the outline of a place in pixels of the photo, drawn towards its middle;
// a place where no patch was found is drawn smaller.
func (d drawing) region(p spot, share float64) colorimetry.Region {
	if p.patch < 0 && share < 1 {
		share = ofMissing
	}
	quad := shrunk(p, share)
	fx, fy := float64(d.width)/float64(d.s.g.Width), float64(d.height)/float64(d.s.g.Height)
	points := make([]colorimetry.Point, 4)
	for i, c := range quad {
		points[i] = colorimetry.Point{
			X: round(max(0, min(float64(d.width), c.X*fx))), Y: round(max(0, min(float64(d.height), c.Y*fy))),
		}
	}
	r, err := colorimetry.NewPolygon(points...)
	if err != nil { // a place so small that its outline crosses itself: a box about its middle
		side := max(2, fx*math.Sqrt(p.area)/2)
		r, _ = colorimetry.NewRect(round(p.mid.X*fx-side/2), round(p.mid.Y*fy-side/2), round(side), round(side))
	}
	return r
}

// round keeps a tenth of a pixel.
func round(v float64) float64 { return math.Round(v*10) / 10 }
