package calib

import (
	"fmt"
	"math"

	"padband/charts"
	"padband/colorimetry"
)

// Bounds of the check of a row's direction, in CIELAB, chosen on 6,500 rendered rows of
// all dyes in all classes of light. There the lowest swatch of a dye that grows from 0
// lies within nearlyWhite of white in 98 % of the photos with a usable light, and the
// highest swatch of a dye that fades lies beyond it in 98 %.
const (
	nearlyWhite  = 7.5 // distance from white of a swatch that holds no dye
	contradictBy = 8.0 // how much nearer to white the end is that the chart calls coloured
	// surelyGrows bounds that distance less growthGain times the logarithm of how much
	// faster the colour changes at the pale end than at the other: a dye that grows
	// from 0 changes fastest there, one that fades least. Of 840 rows that fade, those
	// with burnt-out ends apart, the least figure was 6.4.
	surelyGrows, growthGain = 6.0, 2.0
	growthLeast, growthMost = -1.0, 3.0
	burntGrowth             = 3.0 // how much faster it must change where the pale end is burnt out
	// colouredZero and colouredTop are how coloured an end is that cannot be the pale
	// one, beyond what the light's own error explains: the swatch of 0 of a dye that
	// grows had at most 19, the highest swatch of one that fades at most 40. Of the
	// rows of pH, hardness and alkalinity 96 % have more than 22 at the lowest swatch.
	colouredZero, colouredTop = 22.0, 45.0
	// bothColoured is by how much the other end of a row is more coloured than one
	// that is nearly white, so that not both ends are coloured.
	bothColoured = 20.0
	// whiteUnknown is an error of the light, in CIELAB, that only a photo without white
	// has. Nothing can be said to be nearly white there, and ends must differ by
	// contradictUnknown: of 2,200 rows marked rightly none differed by more than 25.
	whiteUnknown, contradictUnknown = 50.0, 30.0
)

// checkDirection warns of a row whose swatches contradict their chart.
func (r *Reading) checkDirection(p Pad, s Scale) {
	if w, ok := s.contradiction(p); ok {
		r.warn(w)
	}
}

// Contradiction says in one sentence how the colours of a marked row contradict what
// its chart says of its pale end. It is empty where they do not, and where the chart
// says nothing.
func (s Scale) Contradiction(p Pad) string {
	if w, ok := s.contradiction(p); ok && s.analyte.Palest != charts.PalestUnsaid {
		return w.Seen
	}
	return ""
}

// contradiction looks for a row whose swatches run the other way than their chart
// says, or are those of another row.
func (s Scale) contradiction(p Pad) (w Warning, found bool) {
	last := len(s.nodes) - 1
	low, high := s.end(p, 0, 1), s.end(p, last, last-1)
	w = Warning{Code: CodeRowReversed, Threshold: contradictBy, Weight: Unreliable,
		Places: []Place{{Kind: PlaceRow, Analyte: s.analyte.Name}}, Then: eachItsOwn}
	switch s.analyte.Palest {
	case charts.PalestLowest:
		coloured := colouredZero
		if low.value != 0 { // of a row that begins above 0 the lowest swatch may have any colour
			coloured = math.Inf(1)
		}
		return w.ofEnds("lowest", low, high, coloured)
	case charts.PalestHighest:
		return w.ofEnds("highest", high, low, colouredTop)
	case charts.PalestNeither:
		return w.ofColoured(low, high)
	}
	return w.unsaid(low, high)
}

// ofEnds compares the end that the chart calls pale with the other one. An end that is
// far too coloured for it says that the row is another analyte's.
func (w Warning) ofEnds(name string, pale, other rowEnd, coloured float64) (Warning, bool) {
	said := fmt.Sprintf("On this chart the %s swatch is the pale one, but in the photo the swatch marked ", name)
	most := coloured + pale.doubt
	strange := pale.tint() >= most
	if pale.doubt > whiteUnknown {
		w.Threshold = contradictUnknown
	}
	if w.Figure = pale.far - other.far; w.Figure >= w.Threshold {
		w.Seen = said + fmt.Sprintf("%g is paler than the one marked %g: the row is marked the other way round, ", other.value, pale.value)
		if strange && other.far > nearlyWhite {
			w.Seen += "or it is the row of another analyte, "
		}
		w.Seen += "or its marks are shifted."
		return w, true
	}
	w.Figure, w.Threshold, w.Then = pale.tint(), most, onItsRow
	w.Seen = said + fmt.Sprintf("%g is strongly coloured: the row of another analyte is marked, or its marks are shifted.", pale.value)
	return w, strange
}

// ofColoured looks for a pale end in a row that the chart says has none.
func (w Warning) ofColoured(low, high rowEnd) (Warning, bool) {
	pale, other := low, high
	if high.far < low.far {
		pale, other = high, low
	}
	w.Figure, w.Threshold, w.Then = other.far-pale.far, bothColoured, onItsRow
	w.Seen = fmt.Sprintf("On this chart both ends of the row are coloured, but in the photo the swatch marked %g is nearly white: the row "+
		"of another analyte is marked, or its marks are shifted.", pale.value)
	return w, pale.far <= nearlyWhite && w.Figure >= w.Threshold && !pale.burnt && pale.doubt < whiteUnknown
}

// unsaid judges a row whose chart does not say which end is pale. Only a scale that
// begins at 0 can be judged: colour at 0 and nearly white at the top is most likely a
// row marked the other way round, because most dyes grow. Colour at both ends tells
// nothing. Where the dye may well fade, the reading is only doubted.
func (w Warning) unsaid(low, high rowEnd) (Warning, bool) {
	w.Figure, w.Threshold = low.far-high.far, paleApart
	surely := high.grows(low)
	w.Seen = fmt.Sprintf("The swatch marked %g is nearly white and the one marked 0 is coloured, so the row is most likely marked "+
		"the other way round, or its marks are shifted.", high.value)
	if !surely {
		w.Weight = Caution
		w.Seen = fmt.Sprintf("The swatch marked %g is nearly white and the one marked 0 is coloured: its colour fades as the value "+
			"rises, or the row is marked the other way round.", high.value)
	}
	w.Then += " If the chart is printed like that, because its colour fades as the value rises (alkalinity and sulfate are often " +
		"so), its file says it of this analyte: \"palest\": \"highest\"."
	return w, low.value == 0 && (surely || high.far <= nearlyWhite) && w.Figure >= w.Threshold && high.doubt < whiteUnknown
}

// The advice about a row whose values and colours do not agree.
const (
	eachItsOwn = "Check that each mark carries its own value."
	onItsRow   = "Check that the marks lie on this analyte's row, and that the chart says rightly which end of it is pale."
)

// rowEnd is one end of a row as the photo shows it. Distances are in CIELAB.
type rowEnd struct {
	value float64
	far   float64 // from white
	hue   float64 // what is left of far when the swatch is made as bright as white, as no shadow changes it
	doubt float64 // error of far and hue from the light's colour
	step  float64 // by how much the next swatch lies further from white
	burnt bool    // this swatch and the next are burnt out
}

// end is swatch i of a row with the one next to it.
func (s Scale) end(p Pad, i, next int) rowEnd {
	e := rowEnd{value: s.analyte.Swatches[i].Value, far: s.fromWhite(i)}
	e.step = s.fromWhite(next) - e.far
	e.burnt = math.Min(clippedShare(p.Swatches[i]), clippedShare(p.Swatches[next])) >= clippedSome
	parts := float64(s.parts)
	for _, c := range labs(s.nodes[i].lab) {
		bright := c.XYZ(colorimetry.D50)
		chroma, _ := bright.Scale(1 / floor(bright.Y)).Lab(colorimetry.D50).LCh()
		e.hue += sq(chroma) / parts
	}
	e.hue = math.Sqrt(e.hue)
	at := s.parts * (i + 1)
	e.doubt = math.Sqrt(sq(500.0/3)*s.light[1].At(at, at) + sq(200.0/3)*s.light[2].At(at, at)) // a* = 500 (fX - fY), b* = 200 (fY - fZ)
	return e
}

// tint is how coloured an end surely is.
func (e rowEnd) tint() float64 { return math.Min(e.far, e.hue) }

// grows tells whether a pale end is that of a dye that grows from nothing there.
func (e rowEnd) grows(other rowEnd) bool {
	faster := math.Max(e.step, 0.5) / math.Max(-other.step, 0.5)
	if e.burnt && faster < burntGrowth {
		return false
	}
	return e.far-growthGain*math.Max(growthLeast, math.Min(growthMost, math.Log(faster))) <= surelyGrows
}

// Bounds of [Scale.Palest], chosen on 1,300 rendered rows of all dyes and lights: no row
// of a dye that grows was pale at its highest swatch by them, and none of a dye that
// fades at its lowest. They are CIELAB distances from the white of the paper.
const (
	paleWithin = 30.0 // a pale end lies no further from white
	paleShare  = 0.5  // and at most this share of the other end's distance from white
	paleApart  = 12.0 // and this much nearer to white than the other end
)

// Palest says which end of the marked row is pale in this photo: close to the white of
// the paper, and much closer than the other end. It is [charts.PalestNeither] where both
// ends are coloured and where they do not differ clearly.
func (s Scale) Palest() charts.Palest {
	lowest, highest := s.ends()
	near, far := math.Min(lowest, highest), math.Max(lowest, highest)
	switch {
	case !(near <= paleWithin && near <= paleShare*far && far-near >= paleApart):
		return charts.PalestNeither
	case lowest < highest:
		return charts.PalestLowest
	}
	return charts.PalestHighest
}

// ends are the CIELAB distances of the lowest and of the highest swatch from white; for
// several parts it is the root of the mean of the parts' squared distances.
func (s Scale) ends() (lowest, highest float64) {
	return s.fromWhite(0), s.fromWhite(len(s.nodes) - 1)
}

// fromWhite is the distance of a swatch from the white of the paper.
func (s Scale) fromWhite(i int) float64 {
	white := make([]float64, 3*s.parts)
	for k := range s.parts {
		white[3*k] = 100
	}
	return distance(s.nodes[i].lab, white) / math.Sqrt(float64(s.parts))
}
