package calib

import (
	"fmt"
	"math"
	"strings"

	"padband/charts"
	"padband/colorimetry"
)

// Thresholds for a mark that lies over an edge. They were judged from our own rendered
// scenes, where of 6,235 marks that lay well one met them (the rim of a reflection),
// and from real photos, where of 2,835 none did.
const (
	edgeClean    = 0.92 // share of the variance that two even colours explain
	edgeTogether = 0.87 // share of neighbouring places that are of one colour
	edgeApart    = 6.0  // CIELAB distance of the two colours
	// edgeOwnHue is the CIELAB distance of the two colours beyond what the edge of a
	// shadow, which dims, or of a reflection, which adds white, leaves of it.
	edgeOwnHue = 4.0
	// edgeStrange is that distance as a share of the whole: a camera strengthens and
	// bends what a reflection adds. The edge of a patch on paper may leave less, but
	// has the paper's colour (within these limits) on one side, and is cleaner.
	edgeStrange, edgePaper              = 0.45, 0.96
	paperDark, paperBright, paperChroma = 85.0, 103.0, 8.0
	// edgeSome is the share of the other colour below which it is a sliver that was
	// left out, unless the colour moved by edgeFelt. From edgeMost on nobody can tell
	// which of the two colours is meant.
	edgeSome, edgeMost = 0.20, 0.35
	edgeFelt, edgeSway = 1.0, 2.0 // CIELAB by which the mark's colour is moved
	edgeSliver         = 0.10     // share below which nothing is said at all
)

// overEdge is a mark that holds two colours along a line.
type overEdge struct {
	share float64 // of the other colour
	moved float64 // CIELAB by which the other colour moves the mark's own
}

// edgeIn looks for two colours in one mark that a shadow or a reflection does not
// explain. ok is false where there is nothing to say.
func (l Light) edgeIn(s colorimetry.Sample) (e overEdge, ok bool) {
	p := s.Split
	if !(p.Share >= edgeSliver && p.Clean >= edgeClean && p.Together >= edgeTogether) || s.Edge > blurredSome*s.Side {
		return e, false
	}
	own, other := l.over(s, p.Own), l.over(s, p.Other)
	far, strange := apart(own, other), strangeness(own, other)
	if far < edgeApart || strange < edgeOwnHue {
		return e, false
	}
	if strange < edgeStrange*far && !(p.Clean >= edgePaper && (isPaper(own) || isPaper(other))) {
		return e, false
	}
	e = overEdge{share: p.Share, moved: apart(l.over(s, s.XYZ), own)}
	return e, e.share >= edgeSome || e.moved >= edgeFelt
}

// isPaper tells whether a colour over the white is nearly white itself, and not
// brighter as a reflection is.
func isPaper(c colorimetry.XYZ) bool {
	lab := c.Lab(colorimetry.D50)
	chroma, _ := lab.LCh()
	return lab.L > paperDark && lab.L < paperBright && chroma < paperChroma
}

// over is a colour within a sample as if the white there were D50 with Y = 1.
func (l Light) over(s colorimetry.Sample, c colorimetry.XYZ) colorimetry.XYZ {
	s.XYZ = c
	return l.Relative(s)
}

// apart is the CIELAB distance of two colours under D50.
func apart(a, b colorimetry.XYZ) float64 {
	return colorimetry.DeltaE76(a.Lab(colorimetry.D50), b.Lab(colorimetry.D50))
}

// strangeness is the CIELAB distance that is left between two colours when the one is
// made as bright as the other, by dimming it or by adding white to it, whichever
// leaves less.
func strangeness(a, b colorimetry.XYZ) float64 {
	dimmed := apart(a.Scale(b.Y/nonzero(a.Y)), b)
	d := b.Y - a.Y
	white := colorimetry.XYZ{X: d * colorimetry.D50.X, Y: d, Z: d * colorimetry.D50.Z}
	return math.Min(dimmed, apart(a.Add(white), b))
}

// weight is what an edge alone leaves of a reading that rests on the mark.
func (e overEdge) weight() Reliability {
	if e.share >= edgeMost || e.moved >= edgeSway {
		return Unreliable
	}
	return Caution
}

// markOver is one mark over an edge, with its place and what it leaves of a reading.
type markOver struct {
	overEdge
	place  Place
	weight Reliability
}

// checkEdges looks for marks that lie over the edge of their patch. It comes before
// the checks of the light, because such a mark looks as if something shone on it or
// as if a shadow lay on it.
func (r *Reading) checkEdges(p Pad, light Light) {
	var over []markOver
	look := func(samples []colorimetry.Sample, place func(k int) Place, most Reliability) {
		for k, s := range samples {
			if e, ok := light.edgeIn(s); ok {
				w := e.weight()
				if most == Caution {
					w = Caution
				}
				over = append(over, markOver{e, place(k), w})
			}
		}
	}
	look(p.Parts, p.partPlace, Unreliable)
	for i, sw := range p.Swatches {
		most := Caution
		if nearBracket(p.Analyte, i, r.Bracket) {
			most = Unreliable
		}
		look(sw, p.swatchPart(i), most)
	}
	if len(over) > 0 {
		r.warn(edgeWarning(over))
	}
}

// nearBracket tells whether swatch i is one of the bracket or next to it: a swatch
// whose mark is in doubt may itself have moved the bracket.
func nearBracket(a charts.Analyte, i int, bracket [2]float64) bool {
	for j := max(0, i-1); j <= min(len(a.Swatches)-1, i+1); j++ {
		if inBracket(a, j, bracket) {
			return true
		}
	}
	return false
}

// edgeWarning names all marks that lie over an edge in one warning.
func edgeWarning(over []markOver) Warning {
	w := Warning{Code: CodeMarkOnEdge, Threshold: edgeSome, Weight: Caution}
	var names []string
	for _, m := range over {
		names, w.Places = append(names, m.place.mark()), append(w.Places, m.place)
		w.Weight, w.Figure = w.Weight.Worse(m.weight), math.Max(w.Figure, m.share)
	}
	if len(over) == 1 {
		w.Seen = fmt.Sprintf("The mark %s lies over an edge: %.0f %% of it shows another colour.", names[0], 100*w.Figure)
		w.Then = "Move it onto one colour."
		return w
	}
	last := len(names) - 1
	w.Seen = fmt.Sprintf("The marks %s and %s lie over edges: up to %.0f %% of one shows another colour.",
		strings.Join(names[:last], ", "), names[last], 100*w.Figure)
	w.Then = "Move each onto one colour."
	return w
}

// mark names a mark for a sentence about its own analyte or about the light.
func (p Place) mark() string {
	part := ""
	if p.Part > 0 {
		part = fmt.Sprintf(", part %d,", p.Part)
	}
	switch p.Kind {
	case PlaceSwatch:
		return fmt.Sprintf("for %g", p.Value) + part
	case PlaceWhite:
		return fmt.Sprintf("on white area %d", p.Number)
	}
	return "on the pad" + part
}

// checkEdges looks for white marks that lie over an edge.
func (r *LightReport) checkEdges(l Light, whites []White) {
	var over []markOver
	for i, w := range whites {
		if e, ok := l.edgeIn(w.Sample); ok {
			over = append(over, markOver{e, Place{Kind: PlaceWhite, Number: i + 1}, e.weight()})
		}
	}
	if len(over) > 0 {
		r.warn(edgeWarning(over))
	}
}

// looksLikeEdge are the codes of what a mark over an edge looks like.
var looksLikeEdge = map[Code]bool{CodeGlare: true, CodeShadow: true, CodeNoisy: true}

// edgeExplains returns the place among warnings of the one that explains w: w says of
// a mark over an edge that it shines, lies in a shadow or is grainy. It is -1 where
// there is none.
func edgeExplains(ws []Warning, w Warning) int {
	if !looksLikeEdge[w.Code] || len(w.Places) != 1 {
		return -1
	}
	for i, o := range ws {
		if o.Code != CodeMarkOnEdge {
			continue
		}
		for _, p := range o.Places {
			if p.holds(w.Places[0]) {
				return i
			}
		}
	}
	return -1
}

// holds tells whether two places are one, or one of them a part of the other.
func (p Place) holds(o Place) bool {
	pad := func(k PlaceKind) bool { return k == PlacePad || k == PlacePart }
	same := p.Kind == o.Kind || pad(p.Kind) && pad(o.Kind)
	return same && p.Analyte == o.Analyte && p.Value == o.Value && p.Number == o.Number &&
		(p.Part == o.Part || p.Part == 0 || o.Part == 0)
}
