package calib

import (
	"math"

	"padband/charts"
)

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
