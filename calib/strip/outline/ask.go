package outline

import (
	"math"
	"slices"

	"padband/colorimetry"
)

// When a question is asked.
const (
	doubtWithin = 5.5  // nats of the best guess, what may still be right
	leastWorth  = 0.05 // nats for each patch, of a chart that is there at all
	sureEach    = 3.4  // nats for each patch, with strip and numbers, of a chart that is there without doubt
	sureAll     = 12.0 // and more in all
	sureKnown   = 2.8  // nats for each patch, of a chart that lies as it is known to
	sureStrip   = 4.0  // and of its strip
	mostAnswers = 3

	inColumnNear  = 0.2 // of a patch's size
	faintInColumn = 2.5 // CIELAB units over the edges of a place that patches of other rows stand in line with
)

// worth is what speaks for the chart for each of its patches.
func (g guess) worth() float64 { return g.fit.score / g.places() }

// doubtful reports whether the whole may lie elsewhere. Where the arrangement of the
// swatches was known, chart and strip are sure each for itself.
func (g guess) doubtful() bool {
	n := g.places()
	if g.fit.by != nil {
		return g.bare < sureKnown*n || g.strip != nil && g.score-g.bare < sureStrip
	}
	return g.score < sureEach*n+sureAll
}

// places is the number of places that the chart has.
func (g guess) places() (n float64) {
	for _, r := range g.fit.rows {
		n += float64(len(r.spots))
	}
	return n
}

// questions are asked about what the guesses that may still be right do otherwise than
// the best.
func (d drawing) questions(all []guess) (out []Question) {
	best := all[0]
	at := map[Code]int{}
	ask := func(code Code, choice Choice, g guess, analytes []string) {
		k, ok := at[code]
		if !ok {
			k = len(out)
			at[code] = k
			out = append(out, Question{Code: code, Analytes: analytes, Answers: []Answer{{ChoiceAsShown, d.marks(best)}}})
		}
		if len(out[k].Answers) < mostAnswers {
			out[k].Answers = append(out[k].Answers, Answer{choice, d.marks(g)})
		}
	}
	for _, g := range all[1:] {
		if g.score < best.score-doubtWithin {
			break
		}
		code, choice, analytes := d.difference(best, g)
		if code == "" {
			continue
		}
		ask(code, choice, g, analytes)
	}
	if rows := d.unseen(best); len(rows) > 0 {
		ask(AskPatch, ChoiceNone, best, rows)
	}
	if best.doubtful() {
		ask(AskPlace, ChoiceNone, best, nil)
	}
	if best.strip == nil {
		if k := slices.IndexFunc(all, func(g guess) bool { return g.strip != nil }); k >= 0 && at[AskStrip] == 0 {
			ask(AskStrip, ChoiceOther, all[k], nil)
		} else {
			ask(AskStrip, ChoiceNone, best, nil)
		}
	}
	return out
}

// unseen names the analytes with a place where nothing at all is seen.
func (d drawing) unseen(g guess) (names []string) {
	for i, l := range d.lines {
		if g.fit.by != nil { // its place is known by the others
			break
		}
		for _, p := range g.fit.rows[i].spots {
			name := d.chart.Analytes[l.analyte].Name
			if p.patch < 0 && p.faint < faintSeen && (p.faint < faintInColumn || !inColumn(g.fit, i, p)) && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if g.strip == nil {
		return names
	}
	order := padOrder(d.chart, d.lines)
	for k, p := range g.strip.pads {
		at := k
		if g.ended {
			at = len(order) - 1 - k
		}
		if name := d.chart.Analytes[d.lines[order[at]].analyte].Name; p.patch < 0 && p.faint < faintSeen && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// inColumn reports whether patches of other rows stand in line with a place, across the
// rows: then it is where it must be, seen or not.
func inColumn(f fit, at int, p spot) bool {
	n := 0
	for i, r := range f.rows {
		for _, q := range r.spots {
			along := (q.mid.X-p.mid.X)*f.ux + (q.mid.Y-p.mid.Y)*f.uy
			if i != at && q.patch >= 0 && math.Abs(along) < inColumnNear*math.Sqrt(q.area) {
				n++
				break
			}
		}
	}
	return n >= 2
}

// difference names in what a guess differs from the best.
func (d drawing) difference(best, g guess) (Code, Choice, []string) {
	if rows := d.movedRows(best, g); rows != nil {
		switch {
		case best.fit.samePlaces(g.fit): // the chart the other way round
			return AskRows, ChoiceTurned, nil
		case len(rows) == len(d.lines) && len(rows) > 1:
			return AskPlace, ChoiceOther, nil
		}
		return AskPatch, ChoiceOther, rows
	}
	switch {
	case best.strip == nil && g.strip != nil:
		return AskStrip, ChoiceOther, nil
	case best.strip != nil && g.strip == nil:
		return AskStrip, ChoiceWithout, nil
	case best.lowestFirst() != g.lowestFirst():
		return AskDirection, ChoiceTurned, nil
	case best.strip != nil && samePads(best.strip.pads, g.strip.pads) && best.tip().Distance(g.tip()) < 0.5*math.Sqrt(best.strip.pads[0].area):
		return "", "", nil // the same in all that matters
	case best.strip != nil && samePads(best.strip.pads, g.strip.pads):
		return AskStripEnd, ChoiceTurned, nil
	}
	return AskPlace, ChoiceOther, nil
}

// lowestFirst is the direction of the values, as a sign along the picture's axes.
func (g guess) lowestFirst() bool {
	ux, uy := g.fit.ux, g.fit.uy
	if g.turned {
		ux, uy = -ux, -uy
	}
	if math.Abs(ux) > math.Abs(uy) {
		return ux > 0
	}
	return uy > 0
}

// tip is the middle of the pad nearest the dipped tip.
func (g guess) tip() colorimetry.Point {
	if g.ended {
		return g.strip.pads[len(g.strip.pads)-1].mid
	}
	return g.strip.pads[0].mid
}

// movedRows names the analytes whose places are others, whichever way the values run.
func (d drawing) movedRows(a, b guess) (names []string) {
	for i, l := range d.lines {
		if !sameRow(a.fit.rows[i], b.fit.rows[i]) {
			name := d.chart.Analytes[l.analyte].Name
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// sameRow reports whether two rows have the same places, either way round.
func sameRow(a, b row) bool { return samePads(a.spots, b.spots) }

// samePads reports whether two lists of places are the same, either way round.
func samePads(a, b []spot) bool {
	if len(a) != len(b) {
		return false
	}
	same := func(at func(int) int) bool {
		for k, p := range a {
			if p.mid.Distance(b[at(k)].mid) > 0.5*math.Sqrt(p.area) {
				return false
			}
		}
		return true
	}
	return same(func(k int) int { return k }) || same(func(k int) int { return len(b) - 1 - k })
}

// samePlaces reports whether two fits put rows at the same places, in whatever order.
func (f fit) samePlaces(g fit) bool {
	for _, r := range f.rows {
		if !slices.ContainsFunc(g.rows, func(o row) bool { return sameRow(r, o) }) {
			return false
		}
	}
	return true
}

// why says why no chart was found.
func (s *search) why(lines []line) Why {
	w := Why{Code: WhyNoPatches, Wanted: len(lines)}
	for _, l := range lines {
		w.WantedEach = max(w.WantedEach, l.n)
	}
	for _, c := range s.chains() {
		if c.found < 3 {
			continue
		}
		if r, ok := s.row(c.spots); ok && r.score > leastWorth*float64(len(c.spots)) {
			w.Found++
			w.FoundEach = max(w.FoundEach, c.found)
		}
	}
	if w.Found > 0 {
		w.Code = WhyRows
	}
	return w
}
