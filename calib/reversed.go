package calib

import (
	"fmt"
	"math"

	"padband/charts"
)

// Bounds of the check of a row's direction, in CIELAB, chosen on 1,300 rendered rows in
// all classes of light. There the lowest swatch of a dye that grows from 0 lies within
// nearlyWhite of white in 98 % of the photos with a usable light, and the highest swatch
// of a dye that fades lies beyond it in 98 %.
const (
	nearlyWhite  = 7.5 // distance from white of a swatch that holds no dye
	contradictBy = 8.0 // how much nearer to white the end is that the chart calls coloured
)

// checkDirection looks for a row whose swatches run the other way than their chart says.
// Where the chart does not say which end is pale, only a scale that begins at 0 can be
// judged: colour at 0 and nearly white at the top is most likely a row marked the other
// way round, because most dyes grow. Colour at both ends tells nothing.
func (r *Reading) checkDirection(s Scale) {
	lowest, highest := s.ends()
	values := s.analyte.Swatches
	bottom, top := values[0].Value, values[len(values)-1].Value
	w := Warning{Code: CodeRowReversed, Threshold: contradictBy, Weight: Unreliable,
		Places: []Place{{Kind: PlaceRow, Analyte: s.analyte.Name}}, Then: eachItsOwn}
	switch s.analyte.Palest {
	case charts.PalestLowest:
		w.Figure, w.Seen = lowest-highest, contradicted("lowest", bottom, top)
	case charts.PalestHighest:
		w.Figure, w.Seen = highest-lowest, contradicted("highest", top, bottom)
	case charts.PalestUnsaid:
		if bottom != 0 || highest > nearlyWhite {
			return
		}
		w.Figure, w.Threshold = lowest-highest, paleApart
		w.Seen = fmt.Sprintf("The swatch marked %g is nearly white and the one marked 0 is coloured, so the row is most likely marked "+
			"the other way round, or its marks are shifted.", top)
		w.Then += " If the chart is printed like that, because its colour fades as the value rises (alkalinity and sulfate are often " +
			"so), its file says it of this analyte: \"palest\": \"highest\"."
	}
	if w.Figure >= w.Threshold {
		r.warn(w)
	}
}

// contradicted says that not the end is pale that the chart calls pale.
func contradicted(end string, pale, coloured float64) string {
	return fmt.Sprintf("On this chart the %s swatch is the pale one, but in the photo the swatch marked %g is paler than the one "+
		"marked %g: the row is marked the other way round, or its marks are shifted.", end, coloured, pale)
}

// eachItsOwn is the advice about a row whose values and colours do not agree.
const eachItsOwn = "Check that each mark carries its own value."

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
