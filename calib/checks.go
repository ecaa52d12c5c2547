package calib

import (
	"fmt"
	"math"
	"strings"

	"padband/charts"
	"padband/colorimetry"
)

// Thresholds of the checks. Those without a source beside them are judged from
// our own rendered scenes.
const (
	clippedSome, clippedMost = 0.2, 0.9     // share of pixels with a channel at its end
	burntOut                 = 5.0          // CIELAB error of a clipped colour
	glareSome, glareMost     = 0.30, 0.45   // share of pixels left out as glare
	trendSome, trendMost     = 0.195, 0.455 // steps by which a patch's change from side to side may move the reading, where the
	trendSeen                = 3.0          // change of L* is at least this: the light does not explain it
	trendPlain, trendDeep    = 8.0, 18.0    // change of L* that is named, and that no reading stands, whatever it does
	brighter                 = 2.5          // standard deviations of a pad's L* above 100
	darkWhite                = 0.06         // recorded white, linear: below it 8-bit steps are wider than 1 % of the white
	smallPixels              = 150          // pixels in a mark
	alikeMismatch            = 1.0          // distance of two swatches in units of the expected mismatch
	offScaleSome             = 2.4          // distance off the scale in units of the expected mismatch
	offScaleMost             = 3.6
	foldedPath               = 0.92 // length of the scale with two swatches exchanged, over its length
	foldedShort              = 0.8  // the same of a scale of three swatches, whose path says less
	wideBand                 = 2.75 // steps of band that leave a reading of no use
)

// Add adds warnings to a reading: those of facts that its samples do not show.
func (r *Reading) Add(ws ...Warning) {
	for _, w := range ws {
		r.warn(w)
	}
}

// warn adds a warning. A reading keeps one warning for each code: the one of worse
// weight or, at equal weight, the one whose figure is further past its threshold.
func (r *Reading) warn(w Warning) {
	r.Reliability = r.Reliability.Worse(w.Weight)
	if i := edgeExplains(r.Warnings, w); i >= 0 {
		r.Warnings[i].Weight = r.Warnings[i].Weight.Worse(w.Weight)
		return
	}
	for i, o := range r.Warnings {
		if o.Code != w.Code {
			continue
		}
		if w.Weight.rank() > o.Weight.rank() || w.Weight == o.Weight && w.Figure/w.Threshold > o.Figure/o.Threshold {
			r.Warnings[i] = w
		}
		return
	}
	r.Warnings = append(r.Warnings, w)
}

// check runs the checks of one reading.
func (r *Reading) check(p Pad, light Light, g *grid) {
	r.checkEdges(p, light)
	r.checkTransparent(p)
	r.checkClipped(p)
	r.checkGlare(p)
	r.checkBrighter(g.scale)
	r.checkTrend(p, light, g.scale)
	r.checkSize(p)
	r.checkDark(p, light)
	r.checkFar(p, light)
	r.checkBlurred(p)
	r.checkNoisy(p)
	r.checkAlike(g)
	r.checkOrder(g.scale.asPrinted())
	r.checkDirection(p, g.scale.asPrinted())
	r.checkOffScale()
	r.checkPlaces()
	r.checkWidth()
	if light.Assumed {
		r.Reliability = r.Reliability.Worse(Caution)
	}
}

func (r *Reading) checkClipped(p Pad) {
	share, lost := clippedShare(p.Parts), 0.0
	for _, s := range p.Parts {
		lost = math.Max(lost, clippedError(s))
	}
	if share < clippedSome {
		return
	}
	w := Warning{Code: CodeClipped, Figure: share, Threshold: clippedSome, Weight: Good, Places: []Place{p.padPlace()},
		Seen: fmt.Sprintf("In %.0f %% of the pad red, green or blue is as bright or as dark as the photo can record, so part of the "+
			"colour is lost and the range of the colour is wider.", 100*share),
		Then: "Take the photo a little darker, or brighter if the pad is very dark."}
	if share > clippedMost {
		w.Weight = Caution
	}
	if lost > burntOut {
		w.Weight = Unreliable
		w.Seen = fmt.Sprintf("The pad is burnt out: %.0f %% of it is recorded as nearly white, so its colour is lost.", 100*share)
		w.Then = "Take the photo darker, with the white just under full brightness."
	}
	r.warn(w)
}

func (r *Reading) checkGlare(p Pad) {
	most, where := 0.0, p.padPlace()
	for k, s := range p.Parts {
		if s.Glare > most {
			most, where = s.Glare, p.partPlace(k)
		}
	}
	for i, sw := range p.Swatches {
		for k, s := range sw {
			if s.Glare > most && inBracket(p.Analyte, i, r.Bracket) {
				most, where = s.Glare, p.swatchPlace(i, k)
			}
		}
	}
	if most < glareSome {
		return
	}
	w := Warning{Code: CodeGlare, Figure: most, Threshold: glareSome, Weight: Caution, Places: []Place{where},
		Seen: fmt.Sprintf("%.0f %% of %s shines and was left out.", 100*most, where.words()),
		Then: noMirror}
	if most > glareMost {
		w.Weight = Unreliable
	}
	r.warn(w)
}

// checkTrend looks for a pad, or a swatch of the bracket, that is so much brighter on
// one side than on the other that it moves the reading. A reflection adds white light,
// and the edge of a shadow dims light of every colour in proportion.
func (r *Reading) checkTrend(p Pad, light Light, s Scale) {
	most, change, where, worst := 0.0, 0.0, Place{}, colorimetry.Sample{}
	look := func(c colourAt, weight float64, samples []colorimetry.Sample, place func(k int) Place) {
		for k := range c.uneven {
			if e := weight * r.pull.ofPart(k, &c.uneven[k]); e > most {
				most, change, where, worst = e, c.trend[k], place(k), samples[k]
			}
		}
	}
	look(s.pad, 1, p.Parts, p.partPlace)
	for i, n := range s.nodes {
		switch i {
		case r.pull.at:
			look(n, math.Abs(r.pull.lo), p.Swatches[i], p.swatchPart(i))
		case r.pull.at + 1:
			look(n, math.Abs(r.pull.hi), p.Swatches[i], p.swatchPart(i))
		}
	}
	if change < trendSeen || most < trendSome && change < trendPlain {
		return
	}
	w := Warning{Code: CodeShadow, Figure: most, Threshold: trendSome, Weight: Caution, doubtful: true, Places: []Place{where},
		Seen: fmt.Sprintf("%s grows darker from side to side (by %.0f on a lightness scale of 100): the edge of a shadow, or a "+
			"blotch.", upper(where.words()), change),
		Then: outOfTheLight}
	if light.addsWhite(worst) {
		w.Code, w.Then = CodeGlare, noMirror
		w.Seen = fmt.Sprintf("Something shines on %s: it grows lighter from side to side (by %.0f on a lightness scale of 100).",
			where.words(), change)
	}
	if most > trendMost || change > trendDeep {
		w.Weight = Unreliable
	}
	r.warn(w)
}

// The advice for a patch that mirrors something or lies in a shadow.
const (
	noMirror      = "Tilt the phone or move the lamp so that nothing mirrors in it, and take the photo again."
	outOfTheLight = "Keep hand and phone out of the light, and take the photo again."
)

// upper returns a text with a capital first letter, to begin a sentence.
func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// checkBrighter looks for a pad that is brighter than white. Paper cannot be, so
// something shines on it, or the white areas do not show the light at the pad.
func (r *Reading) checkBrighter(s Scale) {
	most := 0.0
	for k := range s.parts {
		y := s.light[0].At(k, k) // variance of ln Y of the light there
		spread := math.Hypot(1, s.pad.toLab[k][0][0]*math.Sqrt(math.Max(y, 0)))
		most = math.Max(most, (s.pad.lab[3*k]-100)/spread)
	}
	if most > brighter {
		r.warn(Warning{Code: CodeGlare, Figure: most, Threshold: brighter, Weight: Unreliable,
			Places: []Place{{Kind: PlacePad, Analyte: s.analyte.Name}},
			Seen:   "The pad is brighter than the white areas, which paper cannot be: something shines on it, or the white is in a shadow.",
			Then:   "Tilt the phone or move the lamp, mark white close to the pad, and take the photo again."})
	}
}

// addsWhite reports whether a patch changes from side to side as if white light were
// added, rather than light of the patch's own colour.
func (l Light) addsWhite(s colorimetry.Sample) bool {
	w, rel := l.At(s.Place), l.Relative(s)
	own := [3]float64{rel.X / colorimetry.D50.X, rel.Y, rel.Z / colorimetry.D50.Z}
	var white, same float64
	for _, t := range l.unexplained(s) {
		d := [3]float64{t.X / w.X, t.Y / w.Y, t.Z / w.Z}
		white += off(d, [3]float64{1, 1, 1})
		same += off(d, own)
	}
	return white < same
}

// off is the squared length of the part of d that lies at right angles to a direction.
func off(d, to [3]float64) float64 {
	dd := d[0]*d[0] + d[1]*d[1] + d[2]*d[2]
	tt := to[0]*to[0] + to[1]*to[1] + to[2]*to[2]
	dt := d[0]*to[0] + d[1]*to[1] + d[2]*to[2]
	return dd - dt*dt/math.Max(tt, 1e-12)
}

func inBracket(a charts.Analyte, i int, bracket [2]float64) bool {
	v := a.Swatches[i].Value
	return v == bracket[0] || v == bracket[1]
}

func (r *Reading) checkSize(p Pad) {
	least, where := math.MaxInt, Place{}
	look := func(samples []colorimetry.Sample, place func(k int) Place) {
		for k, s := range samples {
			if s.Pixels < least {
				least, where = s.Pixels, place(k)
			}
		}
	}
	look(p.Parts, p.partPlace)
	for i, sw := range p.Swatches {
		look(sw, p.swatchPart(i))
	}
	if least < smallPixels {
		r.warn(Warning{Code: CodeTooSmall, Figure: float64(least), Threshold: smallPixels, Weight: Caution, Places: []Place{where},
			Seen: fmt.Sprintf("The mark on %s holds only %d usable pixels.", where.words(), least),
			Then: "Go closer, or mark more of the patch."})
	}
}

func (r *Reading) checkDark(p Pad, light Light) {
	least := math.Inf(1)
	for _, s := range p.Parts {
		least = math.Min(least, light.At(s.Place).Y)
	}
	if least < darkWhite {
		r.warn(Warning{Code: CodeTooDark, Figure: least, Threshold: darkWhite, Weight: Unreliable, Places: []Place{p.padPlace()},
			Seen: fmt.Sprintf("White is recorded at only %.0f %% of full light at the pad, too dark to tell colours.", 100*least),
			Then: "Use more light or a longer exposure."})
	}
}

// checkAlike warns when this photo cannot tell the two swatches of the bracket apart.
func (r *Reading) checkAlike(g *grid) {
	s := g.scale
	i := min(max(int(r.Posterior.Quantile(0.5)), 0), len(s.nodes)-2)
	apart := s.apart(i)
	if apart < alikeMismatch {
		r.warn(Warning{Code: CodeSwatchesAlike, Figure: apart, Threshold: alikeMismatch, Weight: Caution,
			Places: swatchPlaces(s.analyte.Name, r.Bracket[0], r.Bracket[1]),
			Seen: fmt.Sprintf("The swatches for %g and %g look too much alike in this photo (%.1f times the error of reading a colour "+
				"apart), so the reading spans both.", r.Bracket[0], r.Bracket[1], apart),
			Then: "Check that each mark lies on its own swatch, and take the photo by daylight."})
	}
}

// apart is the distance of swatches i and i+1 in units of the expected mismatch.
func (s Scale) apart(i int) float64 {
	t := float64(i) + 0.5
	total := s.sourcesAt(t).total()
	s.addMismatch(total, s.at(t))
	w := s.gain(t, total)
	if w == nil {
		return 0
	}
	return 1 / math.Sqrt(math.Max(total.variance(w), 1e-12))
}

// checkOrder looks for two neighbouring swatches that would fit the scale better if
// exchanged: they were most likely marked the wrong way round.
func (r *Reading) checkOrder(s Scale) {
	length, least := s.path(-1), foldedPath
	if len(s.nodes) < 4 {
		least = foldedShort
	}
	for i := range len(s.nodes) - 1 {
		share := s.path(i) / length
		if share < least {
			a := s.analyte.Swatches
			r.warn(Warning{Code: CodeSwatchesOutOfOrder, Figure: share, Threshold: least, Weight: Caution,
				Places: []Place{{Kind: PlaceRow, Analyte: s.analyte.Name}},
				Seen: fmt.Sprintf("The chart's colours run on more smoothly with the swatches for %g and %g exchanged (their path is "+
					"%.0f %% shorter).", a[i].Value, a[i+1].Value, 100*(1-share)),
				Then: eachItsOwn})
			return
		}
	}
}

// path is the length of the scale through CIELAB with swatches i and i+1 exchanged;
// with i < 0 none are exchanged.
func (s Scale) path(i int) float64 {
	order := make([]int, len(s.nodes))
	for k := range order {
		order[k] = k
	}
	if i >= 0 {
		order[i], order[i+1] = order[i+1], order[i]
	}
	sum := 0.0
	for k := range len(order) - 1 {
		sum += distance(s.nodes[order[k]].lab, s.nodes[order[k+1]].lab)
	}
	return sum
}

func (r *Reading) checkOffScale() {
	if r.Mismatch < offScaleSome {
		return
	}
	w := Warning{Code: CodeOffScaleColour, Figure: r.Mismatch, Threshold: offScaleSome, Weight: Caution,
		Places: []Place{{Kind: PlacePad, Analyte: r.Analyte.Name}},
		Seen: fmt.Sprintf("The pad's colour lies beside the chart's scale (colour difference %.1f, %.1f times what is usual).",
			r.DeltaEToScale, r.Mismatch),
		Then: "The light may show pad and print differently: take the photo by daylight."}
	if r.Mismatch > offScaleMost {
		w.Weight = Unreliable
		w.Seen = fmt.Sprintf("The pad's colour is on no part of the chart's scale (colour difference %.1f, %.1f times what is usual).",
			r.DeltaEToScale, r.Mismatch)
		w.Then = "Is it the right chart? Otherwise another light, or something in the water, changes the pad: take the photo by " +
			"daylight, and do not use this value."
	}
	r.warn(w)
}

func (r *Reading) checkPlaces() {
	if n := len(r.Band.Hills); n > 1 {
		r.warn(Warning{Code: CodeTwoPlaces, Figure: float64(n), Threshold: 1, Weight: Unreliable,
			Places: []Place{{Kind: PlacePad, Analyte: r.Analyte.Name}},
			Seen:   fmt.Sprintf("The pad's colour fits %d separate parts of the scale, so the value may lie in any of them.", n),
			Then:   "Take another photo in better light, or dip a second strip."})
	}
}

// checkWidth calls a reading unreliable when its band is so wide that the reading says
// almost nothing. The reason is among the warnings, or the swatches' colours are too
// close.
func (r *Reading) checkWidth() {
	if r.TooWide {
		r.Reliability = r.Reliability.Worse(Unreliable)
	}
}

// tooWide reports whether the band, cut at the chart's ends, spans more than
// [wideBand] steps. A presence pad has no such band.
func (r *Reading) tooWide(p Posterior) bool {
	return r.Analyte.Kind != charts.KindPresence && r.span(p) > wideBand
}

// span is how many steps of the chart the band spans.
func (r *Reading) span(p Posterior) float64 {
	return math.Min(p.Top, p.Quantile((1+Coverage)/2)) - math.Max(0, p.Quantile((1-Coverage)/2))
}
