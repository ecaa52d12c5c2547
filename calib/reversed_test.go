package calib

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// marked is a photo of the ramp with white at its pale end; the chart says which end is
// pale. With turned, the swatches carry each other's values from the far end.
func marked(says charts.Palest, turned bool) Photo {
	p := scene(onRamp(4.5))
	s := p.Pads[0].Swatches
	p.Pads[0].Analyte.Palest = says
	for i := range s {
		light := colorimetry.XYZ{X: 0.776, Y: 0.8, Z: 0.624}
		lab := ramp[i]
		if i == 0 {
			lab = colorimetry.Lab{L: 96, A: 1, B: 2}
		}
		s[i][0] = flat(s[i][0].Place, lab, light)
	}
	if turned {
		slices.Reverse(s)
	}
	return p
}

func TestRowMarkedTheOtherWayRound(t *testing.T) {
	for _, c := range []struct {
		says   charts.Palest
		turned bool
		want   string // a part of what is said, empty for nothing
	}{
		{charts.PalestLowest, false, ""},
		{charts.PalestHighest, true, ""},
		{charts.PalestUnsaid, false, ""},
		{charts.PalestLowest, true, "the lowest swatch is the pale one, but in the photo the swatch marked 25 is paler than the one marked 0"},
		{charts.PalestHighest, false, "the highest swatch is the pale one, but in the photo the swatch marked 0 is paler than the one marked 25"},
		{charts.PalestUnsaid, true, "The swatch marked 25 is nearly white and the one marked 0 is coloured"},
		{charts.PalestNeither, false, "both ends of the row are coloured, but in the photo the swatch marked 0 is nearly white"},
		{charts.PalestNeither, true, "both ends of the row are coloured, but in the photo the swatch marked 25 is nearly white"},
	} {
		r := readOne(t, marked(c.says, c.turned))
		w, found := warningOf(r, CodeRowReversed)
		require.Equal(t, c.want != "", found, "%q, turned %v", c.says, c.turned)
		if found {
			assert.Contains(t, w.Seen, c.want)
			assert.Equal(t, Unreliable, r.Reliability)
			assert.Equal(t, []Place{{Kind: PlaceRow, Analyte: "nitrate"}}, w.Places)
		}
	}
}

// withEnds is the ramp with other colours at its ends.
func withEnds(says charts.Palest, first float64, low, high colorimetry.Lab) Photo {
	p := marked(says, false)
	a := &p.Pads[0].Analyte
	a.Swatches = slices.Clone(a.Swatches)
	a.Swatches[0].Value = first
	s := p.Pads[0].Swatches
	for i, lab := range map[int]colorimetry.Lab{0: low, len(s) - 1: high} {
		s[i][0] = flat(s[i][0].Place, lab, colorimetry.XYZ{X: 0.776, Y: 0.8, Z: 0.624})
	}
	return p
}

// A row with colour at both ends is that of another analyte where the chart says that
// one of them is pale, though the other end is no paler. Grey at that end may be a
// shadow, and tells nothing.
func TestRowOfAnotherAnalyte(t *testing.T) {
	blue, violet, red := colorimetry.Lab{L: 70, A: -15, B: -30}, colorimetry.Lab{L: 60, A: 35, B: -20}, colorimetry.Lab{L: 55, A: 50}
	for name, c := range map[string]struct {
		says      charts.Palest
		first     float64
		low, high colorimetry.Lab
		want      string
	}{
		"coloured 0":        {charts.PalestLowest, 0, blue, violet, "the swatch marked 0 is strongly coloured: the row of another analyte"},
		"coloured 0, paler": {charts.PalestLowest, 0, violet, blue, "is marked the other way round, or it is the row of another analyte"},
		"begins above 0":    {charts.PalestLowest, 1, blue, violet, ""},
		"in a shadow":       {charts.PalestLowest, 0, colorimetry.Lab{L: 60, A: 3, B: -4}, violet, ""},
		"coloured top":      {charts.PalestHighest, 0, red, colorimetry.Lab{L: 60, A: -20, B: -45}, "the swatch marked 25 is strongly coloured"},
		"fades not wholly":  {charts.PalestHighest, 0, red, colorimetry.Lab{L: 75, A: -10, B: -25}, ""},
		"both coloured":     {charts.PalestNeither, 0, blue, violet, ""},
		"one end faint":     {charts.PalestNeither, 0, colorimetry.Lab{L: 90, A: -4, B: 10}, violet, ""},
	} {
		r := readOne(t, withEnds(c.says, c.first, c.low, c.high))
		w, found := warningOf(r, CodeRowReversed)
		assert.Equal(t, c.want != "", found, "%s: %s", name, w.Seen)
		if found {
			assert.Contains(t, w.Seen, c.want, name)
			assert.Equal(t, Unreliable, r.Reliability, name)
		}
	}
}

// A dye that fades changes little where it is nearly white, one that grows changes most
// there. Where the chart is silent and the row may be either, the reading is doubted.
func TestARowThatMayFadeIsOnlyDoubted(t *testing.T) {
	white, fresh := colorimetry.Lab{L: 94, A: 2, B: 2}, colorimetry.Lab{L: 50, A: 50, B: 0}
	for _, c := range []struct {
		next []colorimetry.Lab // of the five below the top, from 0
		want Reliability
	}{
		{[]colorimetry.Lab{fresh, {L: 62, A: 36}, {L: 74, A: 24}, {L: 82, A: 14}, {L: 88, A: 8}}, Caution},
		{[]colorimetry.Lab{fresh, {L: 52, A: 48}, {L: 54, A: 45}, {L: 58, A: 40}, {L: 68, A: 30}}, Unreliable},
	} {
		p := withEnds(charts.PalestUnsaid, 0, fresh, white)
		s := p.Pads[0].Swatches
		for i, lab := range c.next {
			s[i][0] = flat(s[i][0].Place, lab, colorimetry.XYZ{X: 0.776, Y: 0.8, Z: 0.624})
		}
		w, found := warningOf(readOne(t, p), CodeRowReversed)
		require.True(t, found)
		assert.Equal(t, c.want, w.Weight)
		assert.Equal(t, c.want == Caution, strings.Contains(w.Seen, "its colour fades as the value rises, or"), w.Seen)
	}
}

// Where white and the next swatch are burnt out too, nothing is known of the pale end.
func TestABurntOutEndIsNotCalledReversed(t *testing.T) {
	for _, clipped := range []float64{0, 0.5} {
		for _, says := range []charts.Palest{charts.PalestUnsaid, charts.PalestNeither} {
			p := marked(says, true)
			s := p.Pads[0].Swatches
			s[5][0].Clipped, s[4][0].Clipped = clipped, clipped
			w, found := warningOf(readOne(t, p), CodeRowReversed)
			assert.Equal(t, clipped == 0, found && w.Weight == Unreliable, "%q, %g clipped", says, clipped)
		}
	}
}

// Where the chart does not say, the text says how to say it; where it says, it does not.
func TestReversedRowSaysHowToSayItIsMeant(t *testing.T) {
	w, _ := warningOf(readOne(t, marked(charts.PalestUnsaid, true)), CodeRowReversed)
	assert.Contains(t, w.Then, `"palest": "highest"`)
	w, _ = warningOf(readOne(t, marked(charts.PalestLowest, true)), CodeRowReversed)
	assert.NotContains(t, w.Then, "palest")
}

// A scale that begins above 0 has colour at its lowest swatch whatever its dye does, so
// nothing is known of its direction.
func TestScaleThatBeginsAboveNoughtIsNotJudgedUnsaid(t *testing.T) {
	p := marked(charts.PalestUnsaid, true)
	p.Pads[0].Analyte.Swatches[0].Value = 0.5
	_, found := warningOf(readOne(t, p), CodeRowReversed)
	assert.False(t, found)
}

// A pad that says yes or no is compared with its two swatches, and says no for yes when
// these are exchanged.
func TestReversedYesOrNo(t *testing.T) {
	for _, says := range []charts.Palest{charts.PalestLowest, charts.PalestUnsaid} {
		p := marked(says, false)
		s := p.Pads[0].Swatches
		a := &p.Pads[0].Analyte
		a.Kind, a.Swatches = charts.KindPresence, []charts.Swatch{{Value: 0, Label: "no"}, {Value: 0.4, Label: "yes"}}
		p.Pads[0].Swatches = [][]colorimetry.Sample{s[0], s[4]}
		_, found := warningOf(readOne(t, p), CodeRowReversed)
		assert.False(t, found)
		p.Pads[0].Swatches = [][]colorimetry.Sample{s[4], s[0]}
		r := readOne(t, p)
		_, found = warningOf(r, CodeRowReversed)
		assert.True(t, found, "%q", says)
		assert.Equal(t, Unreliable, r.Reliability)
	}
}

// Marks that are all one swatch too far end on the card, which is white.
func TestShiftedRowThatEndsOnTheCardIsNamed(t *testing.T) {
	for _, says := range []charts.Palest{charts.PalestLowest, charts.PalestUnsaid} {
		p := marked(says, false)
		s := p.Pads[0].Swatches
		s[1][0] = flat(s[1][0].Place, colorimetry.Lab{L: 84, A: 18, B: 2}, colorimetry.XYZ{X: 0.776, Y: 0.8, Z: 0.624})
		card := []colorimetry.Sample{flat(s[5][0].Place, colorimetry.Lab{L: 99}, colorimetry.XYZ{X: 0.776, Y: 0.8, Z: 0.624})}
		p.Pads[0].Swatches = append(slices.Clone(s[1:]), card)
		r := readOne(t, p)
		_, found := warningOf(r, CodeRowReversed)
		assert.True(t, found, "%q: %v", says, codes(r.Warnings))
	}
}

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
