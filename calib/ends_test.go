package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// rowOf is the scale of one row of two swatches; each part runs from one colour to another. A
// part is a pair of colours.
func rowOf(t *testing.T, parts ...[2]colorimetry.Lab) Scale {
	t.Helper()
	a := rampAnalyte()
	a.Parts = len(parts)
	a.Swatches = a.Swatches[:2]
	p := Pad{Analyte: a, Swatches: make([][]colorimetry.Sample, 2)}
	for _, ends := range parts {
		p.Parts = append(p.Parts, flat(colorimetry.Point{}, ends[0], colorimetry.D50))
		for i, lab := range ends {
			p.Swatches[i] = append(p.Swatches[i], flat(colorimetry.Point{}, lab, colorimetry.D50))
		}
	}
	s, err := NewScale(p, FitLight(nil, 100, 100, colorimetry.D50))
	require.NoError(t, err)
	return s
}

func TestPaleEnd(t *testing.T) {
	white, pink, blue := colorimetry.Lab{L: 97, B: 3}, colorimetry.Lab{L: 60, A: 50}, colorimetry.Lab{L: 60, A: -20, B: -40}
	for name, c := range map[string]struct {
		want  charts.Palest
		parts [][2]colorimetry.Lab
	}{
		"grows":                   {charts.PalestLowest, [][2]colorimetry.Lab{{white, pink}}},
		"fades":                   {charts.PalestHighest, [][2]colorimetry.Lab{{pink, white}}},
		"turns":                   {charts.PalestNeither, [][2]colorimetry.Lab{{pink, blue}}},
		"white at both":           {charts.PalestNeither, [][2]colorimetry.Lab{{white, {L: 93, B: 5}}}},
		"both parts grow":         {charts.PalestLowest, [][2]colorimetry.Lab{{white, pink}, {white, blue}}},
		"one grows and one fades": {charts.PalestNeither, [][2]colorimetry.Lab{{white, pink}, {blue, white}}},
		// The ends of the demonstration's hardness row lie 44 and 37 from white.
		"hardness": {charts.PalestNeither, [][2]colorimetry.Lab{{{L: 70, A: -20, B: -24.98}, {L: 72, A: 24, B: -3.6}}}},
	} {
		assert.Equal(t, c.want, rowOf(t, c.parts...).Palest(), name)
	}
}
