package outline

import (
	"cmp"
	"math"
	"slices"

	"padband/charts"
	"padband/colorimetry"
)

// guess is one way in which strip and chart may lie in the picture; its score is in
// nats, comparable between guesses of one picture.
type guess struct {
	fit    fit
	turned bool      // the lowest value stands at the end of each row
	strip  *stripFit // nil: none
	ended  bool      // the dipped tip is at the last of the strip's pads
	score  float64
	bare   float64 // the score without what speaks for the strip
}

// What the cues tell, in nats.
const (
	mostGuessFits = 4
	fitsWithin    = 14.0 // of the best, what may still be right
	knownWithin   = 3.0  // of the best rows, an arrangement that is known
	paleSaid      = 3.0
	paleUnsaid    = 1.2
	paleWithin    = 18.0 // CIELAB units from the paper of an end that is pale
	paleOver      = 9.0
	paleUnit      = 25.0 // CIELAB units of which end is paler that tell 1
	farLabels     = 0.8  // numbers stand below rows and to the right of columns
	upright       = 0.5  // most people hold a chart upright
	padUnit       = 9.0  // CIELAB units from a pad to its row's colours
	mostPad       = 4.5
	costOffGrid   = 1.5
	mostFaint     = 4.0 // that a faint patch is seen at a place
	gridNear      = 0.6 // of a patch's size
	darkerFree    = 8.0 // L*, by which a strip may lie in shadow
	darkerUnit    = 6.0
	mostDark      = 14.0
	padSizes      = 0.5 // of the logarithm of pads' sides against swatches'
	mostSizeCost  = 9.0
	costNoStrip   = 6.0 // most photos show a strip
	tipUnit       = 0.8 // for each size of a pad by which the white is longer at one end
	mostTip       = 3.0
)

// guesses are the ways in which the picture may be read, the best first.
func (s *search) guesses(chart charts.Chart, lines []line) []guess {
	chains := s.chains()
	fits := s.fits(chains, lines)
	if s.known != nil && !s.known.inLine() {
		// What is known is taken where it explains the patches as well as rows that are
		// put together one by one: a chart around a bottle lies on no plane.
		if laid := s.known.fits(s); len(laid) > 0 && (len(fits) == 0 || laid[0].score > fits[0].score-knownWithin) {
			fits = laid
		}
	}
	var all []guess
	if len(fits) == 0 {
		return nil
	}
	may := s.strips(chains, len(lines))
	for i, f := range fits {
		if i >= mostGuessFits || f.score < fits[0].score-fitsWithin {
			break
		}
		strips := s.beside(f, may)
		for _, v := range s.variants(f, lines, chart) {
			all = append(all, s.withStrips(v, strips, chart, lines)...)
		}
	}
	slices.SortStableFunc(all, func(a, b guess) int { return cmp.Compare(b.score, a.score) })
	return all
}

// variants are the best guesses of a fit whose missing places may lie at either end,
// for both directions of its values.
func (s *search) variants(f fit, lines []line, chart charts.Chart) (out []guess) {
	for _, turned := range [2]bool{false, true} {
		best := guess{fit: f, turned: turned}
		best.score = s.chartScore(best, lines, chart)
		if f.by != nil { // it was laid both ways
			return []guess{best}
		}
		for range 2 {
			for i, l := range lines {
				for _, r := range s.settledRows(best.fit.rows[i].of, l.n) {
					v := best
					v.fit.rows = slices.Clone(best.fit.rows)
					v.fit.rows[i] = r
					v.fit.score += r.score - best.fit.rows[i].score
					if v.score = s.chartScore(v, lines, chart); v.score > best.score {
						best = v
					}
				}
			}
		}
		out = append(out, best)
	}
	return out
}

// chartScore is what speaks for a guess without its strip.
func (s *search) chartScore(g guess, lines []line, chart charts.Chart) float64 {
	up, down, far := s.labelled(g.fit, lines)
	score := g.fit.score
	if g.turned {
		score += down
	} else {
		score += up
	}
	if most := max(up, down); most > 0 {
		side := farLabels * min(1, most/10)
		if far == g.fit.along {
			score += side
		} else {
			score -= side
		}
	}
	return score + s.paleScore(g, lines, chart) + upright*g.upright() + s.before.printScore(s, g)
}

// upright is how far the chart stands on its feet, 1 to -1: its first row above, or its
// first column to the left.
func (g guess) upright() float64 {
	if l := g.fit.by; l != nil {
		right, down := l.axes(l.at)
		return max(-1, min(1, right.X+down.Y))
	}
	vx, vy := -g.fit.uy, g.fit.ux
	if !g.fit.along {
		vx, vy = -vx, -vy
	}
	return max(-1, min(1, vx+vy))
}

// paleScore is what the paler ends of the rows tell of where their lowest values are.
func (s *search) paleScore(g guess, lines []line, chart charts.Chart) (score float64) {
	for i, l := range lines {
		r := g.fit.rows[i]
		n := len(r.spots)
		first, last := s.fromPaper(r, 0), s.fromPaper(r, n-1)
		if g.turned {
			first, last = last, first
		}
		tells := (last - first) / paleUnit // positive: the lowest is paler
		switch chart.Analytes[l.analyte].Palest {
		case charts.PalestLowest:
			score += paleSaid*math.Tanh(2*tells) - colouredCost(first)
		case charts.PalestHighest:
			score -= paleSaid*math.Tanh(2*tells) + colouredCost(last)
		case charts.PalestNeither:
		default:
			score += paleUnsaid * math.Tanh(tells)
		}
		score += s.missingPale(r) - offGrid(g.fit, i)
	}
	return score
}

// missingPale speaks for missing places beside pale neighbours: what is not seen is
// nearly as white as the paper.
func (s *search) missingPale(r row) (score float64) {
	n := len(r.spots)
	for k, p := range r.spots {
		if p.patch >= 0 {
			continue
		}
		beside := k + 1
		if k > n/2 || k == n-1 {
			beside = k - 1
		}
		score -= min(3, s.fromPaper(r, beside)/paleUnit)
		score -= min(3, max(0, s.fromPaper(r, k)-whiteLike)/whiteLike)
		score += max(-0.5, min(mostFaint, (p.faint-faintLeast)/2))
	}
	return score
}

// colouredCost is what it costs that an end which the chart says is pale, near the white
// of the paper, is so far from it, CIELAB units.
func colouredCost(fromPaper float64) float64 {
	return min(paleSaid, max(0, fromPaper-paleWithin)/paleOver)
}

// offGrid is what it costs that places without a patch stand where no other row has a
// place.
func offGrid(f fit, at int) (cost float64) {
	if len(f.rows) < 2 {
		return 0
	}
	for _, p := range f.rows[at].spots {
		if p.patch >= 0 {
			continue
		}
		alone := true
		for i, r := range f.rows {
			for _, q := range r.spots {
				along := (q.mid.X-p.mid.X)*f.ux + (q.mid.Y-p.mid.Y)*f.uy
				if i != at && math.Abs(along) < gridNear*math.Sqrt(q.area) {
					alone = false
				}
			}
		}
		if alone {
			cost += costOffGrid
		}
	}
	return cost
}

// colour is that of a patch, or of the ground within a place without one.
func (s *search) colour(p spot) colorimetry.Lab {
	if p.patch >= 0 {
		return s.all[p.patch].Colour
	}
	c, _ := s.g.Within(shrunk(p, 0.6))
	return c
}

// fromPaper is how far the colour at a place of a row is from its paper, CIELAB units.
func (s *search) fromPaper(r row, k int) float64 {
	return colorimetry.DeltaE76(s.colour(r.spots[k]), s.paperOf(r, k))
}

// withStrips adds to a guess of the chart every strip, lying either way, and none.
func (s *search) withStrips(g guess, strips []stripFit, chart charts.Chart, lines []line) (all []guess) {
	order := padOrder(chart, lines)
	bare := g
	bare.bare, bare.score = g.score, g.score-costNoStrip
	all = append(all, bare)
	for _, f := range strips {
		for _, ended := range [2]bool{false, true} {
			if len(order) == 1 && ended {
				continue
			}
			v := g
			v.strip, v.ended, v.bare = &f, ended, g.score
			tip := max(-mostTip, min(mostTip, tipUnit*(f.after-f.before)))
			if ended {
				tip = -tip
			}
			if len(order) == 1 || s.before != nil && !s.before.tip {
				tip = 0
			}
			v.score += f.score + tip - s.padCost(v, order) - sizeCost(g.fit, f) - s.darkCost(g.fit, f) + s.before.stripScore(s, v, order)
			all = append(all, v)
		}
	}
	return all
}

// padOrder is the number of the line of each pad, from the dipped tip.
func padOrder(chart charts.Chart, lines []line) (order []int) {
	for _, name := range chart.Pads() {
		for i, l := range lines {
			if chart.Analytes[l.analyte].Name == name {
				order = append(order, i)
			}
		}
	}
	return order
}

// sizeCost is what it costs that pads are much larger or smaller than swatches.
func sizeCost(f fit, s stripFit) float64 {
	var logs []float64
	for _, r := range f.rows {
		for _, p := range r.spots {
			logs = append(logs, math.Log(p.area)/2)
		}
	}
	slices.Sort(logs)
	pad := 0.0
	for _, p := range s.pads {
		pad += math.Log(p.area) / 2 / float64(len(s.pads))
	}
	d := (pad - logs[len(logs)/2]) / padSizes
	return min(mostSizeCost, d*d/2)
}

// darkCost is what it costs that the white of a strip is darker than the chart's paper.
func (s *search) darkCost(f fit, strip stripFit) float64 {
	var all []float64
	for _, r := range f.rows {
		for _, p := range r.spots {
			if p.patch >= 0 {
				all = append(all, s.paper[p.patch].colour.L)
			}
		}
	}
	slices.Sort(all)
	d := max(0, all[len(all)/2]-strip.white.L-darkerFree) / darkerUnit
	return min(mostDark, d*d/2)
}

// padCost is how far the pads' colours are from those of their rows, in nats.
func (s *search) padCost(g guess, order []int) (cost float64) {
	n := len(order)
	for k, p := range g.strip.pads {
		at := order[k]
		if g.ended {
			at = order[n-1-k]
		}
		d := s.padDistance(p, *g.strip, g.fit.rows[at]) / padUnit
		cost += min(mostPad, d*d/2)
	}
	return cost
}

// padDistance is the distance of a pad's colour, against the strip's white, from the
// line through the colours of a row, against its paper.
func (s *search) padDistance(p spot, f stripFit, r row) float64 {
	pad := against(s.colour(p), f.white)
	least := math.Inf(1)
	var before colorimetry.Lab
	for k, q := range r.spots {
		own := against(s.colour(q), s.paperOf(r, k))
		if k > 0 {
			least = min(least, fromSegment(pad, before, own))
		}
		before = own
	}
	return least
}

// against is a colour as it would be if the white beside it were perfect.
func against(c, white colorimetry.Lab) colorimetry.Lab {
	f := 100 / max(20, white.L)
	return colorimetry.Lab{L: c.L * f, A: (c.A - white.A*c.L/max(20, white.L)) * f, B: (c.B - white.B*c.L/max(20, white.L)) * f}
}

// fromSegment is the distance of a colour from the line between two others.
func fromSegment(p, a, b colorimetry.Lab) float64 {
	dx, dy, dz := b.L-a.L, b.A-a.A, b.B-a.B
	t := 0.0
	if d := dx*dx + dy*dy + dz*dz; d > 0 {
		t = max(0, min(1, ((p.L-a.L)*dx+(p.A-a.A)*dy+(p.B-a.B)*dz)/d))
	}
	return colorimetry.DeltaE76(p, colorimetry.Lab{L: a.L + t*dx, A: a.A + t*dy, B: a.B + t*dz})
}
