// Package words says one reading in sentences, or what changed from one reading to a
// later one. Start at [Say]; [Change] is for two readings, and [Span] and [Digits]
// print the figures in the sentences. No other package turns a decision into English,
// so a terminal, a page and a sheet of paper say the same. This package computes
// nothing.
package words

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"padband/calib"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// BandMeaning says what a band means, and what a strip can tell.
const BandMeaning = "Bands are made to hold the true value 95 times in 100: the band counts the errors of reading the " +
	"colour, the water band the strip's own error too. A strip is a screening test: what matters to health is for a " +
	"certified laboratory and the local health authority."

// Said is one reading in words, the same for every form of report.
type Said struct {
	Head, Word string   // the analyte with its unit, and the reliability word
	Doubt      string   // for an unreliable reading only: why not to rely on it
	First      []string // what stands before the rule
	Beyond     string   // for a value past the top: what to do about it, after the first sentence
	Scale      bool     // whether a rule is drawn; a presence pad has none
	Then       []string // what stands after the rule and before the warnings
}

// Say puts a reading in words. light describes the light of the reading's photo.
func Say(r calib.Reading, light calib.LightReport) Said {
	s := Said{Head: lines.UpperFirst(lines.OneLine(lines.WithUnit(r.Analyte.Name, Unit(r)))), Word: lines.UpperFirst(string(r.Reliability))}
	if r.Reliability == calib.Unreliable {
		s.Doubt = Doubt(r, light)
	}
	if r.Analyte.Kind == charts.KindPresence {
		s.First = append(s.First, presence(r))
	} else {
		d := Digits(r)
		s.Scale = true
		if r.Range == calib.Above {
			s.Beyond = beyond(r)
		}
		s.First = append(s.First, sentence(r, d), lines.UpperFirst(Band("water band", r, r.WaterBand, d))+", "+kit(r)+".")
		if len(r.Band.Hills) > 1 {
			s.Then = append(s.Then, "The colour fits separate places: "+hillText(r.Band.Hills, d)+".")
		}
	}
	if r.Reliability == calib.Caution && onlyLight(r, light) {
		s.Then = append(s.Then, "With caution because of the light: "+seePhoto+".")
	}
	return s
}

// ofTheWater gives a reading's figures for the water before it was mixed, and in other
// units, with a sentence for each.
func ofTheWater(r calib.Reading, m strip.Meaning) (out []string) {
	for _, c := range m.Standards {
		out = append(out, standard(c))
	}
	switch {
	case m.Refused != "":
		return append(out, "The water was mixed "+lines.OneLine(m.Dilution)+": "+lines.OneLine(m.Refused))
	case m.Undiluted != nil:
		r = *m.Undiluted
		d := Digits(r)
		text := "The water before it was mixed " + lines.OneLine(m.Dilution) + ": "
		if r.Range == calib.Within {
			text += "reads " + lines.Figure(r.Value, d) + "; "
		}
		out = append(out, text+bothBands(r.Band, r.WaterBand, d)+". It counts what is in the water used for mixing as "+
			"nothing: dip a strip in that too.")
	}
	for _, c := range m.Converted {
		x := r
		x.Value, x.Band, x.WaterBand, x.Bracket = c.Value, c.Band, c.WaterBand, c.Bracket
		d := Digits(x)
		text := "In " + lines.OneLine(c.Unit.String()) + ": "
		if r.Range == calib.Within {
			text += "reads " + lines.Figure(c.Value, d) + "; "
		}
		out = append(out, text+bothBands(c.Band, c.WaterBand, d)+".")
	}
	if m.NoLimit {
		out = append(out, reading.NoLimit)
	}
	return out
}

// bothBands prints a band and then its water band.
func bothBands(band, water calib.Band, d int) string {
	return "band " + Span(band, d) + "; water band " + Span(water, d)
}

// FirstOf are the sentences before the drawing. They do not say how to dilute when the
// water was diluted already.
func FirstOf(s Said, r calib.Reading, m strip.Meaning) []string {
	first := slices.Clone(s.First)
	if m.Dilution == "" {
		first[0] = s.Lead()
	}
	return append(first, ofTheWater(r, m)...)
}

// Lead is the first sentence and, for a value past the top, what to do about it.
func (s Said) Lead() string {
	if s.Beyond == "" {
		return s.First[0]
	}
	return s.First[0] + " " + s.Beyond
}

// standard says what the strip of known water reads, next to this reading.
func standard(c strip.StandardCheck) string {
	x := c.Reading
	d := Digits(x)
	text := "Check standard of " + lines.OneLine(c.Known.String()) + ", " + lines.OneLine(c.Photo) + ": "
	if x.Range == calib.Within {
		text += "reads " + lines.Figure(x.Value, d) + "; "
	}
	text += bothBands(x.Band, x.WaterBand, d)
	switch {
	case x.Reliability == calib.Unreliable:
		return text + ". Its own reading is unreliable, so it shows nothing."
	case c.Holds:
		return text + ", which holds the value. At this one value strip and photo do as they should; nothing was corrected."
	}
	return text + ", which does not hold the value."
}

// seePhoto sends a person to the paragraph about the photo.
const seePhoto = `see "The photo" below`

// Band is a band with its name in front: "band 5.1 to 9.0", "the band
// covers the whole chart".
func Band(name string, r calib.Reading, b calib.Band, d int) string {
	if whole(r, b) {
		return "the " + name + " covers the whole chart"
	}
	return name + " " + Span(b, d)
}

// kit says where the strip's own error comes from.
func kit(r calib.Reading) string {
	if r.KitAssumed {
		return "with the strip's own error assumed, half a step"
	}
	return "with the strip's own error as the chart gives it"
}

// hillText names the separate places of the scale that a colour fits.
func hillText(hills [][2]float64, d int) string {
	var parts []string
	for _, h := range hills {
		parts = append(parts, lines.Between(h[0], h[1], d))
	}
	return strings.Join(parts, ", or ")
}

// sentence is the reading in words. The bracket comes first.
func sentence(r calib.Reading, d int) string {
	lowest, highest := lines.Plain(r.Swatches[0].Value), lines.Plain(r.Swatches[len(r.Swatches)-1].Value)
	band := Band("band", r, r.Band, d) + "."
	switch r.Range {
	case calib.Above:
		return fmt.Sprintf("At or above the highest swatch, %s; %s", highest, band)
	case calib.Below:
		return fmt.Sprintf("At or below the lowest swatch, %s; %s", lowest, band)
	}
	bracket := "Between " + lines.Plain(r.Bracket[0]) + " and " + lines.Plain(r.Bracket[1])
	if nearZero(r) {
		bracket += ", at or near 0"
	}
	return fmt.Sprintf("%s; reads %s; %s", bracket, lines.Figure(r.Value, d), band)
}

// nearZero reports whether the reading cannot be told from nothing.
func nearZero(r calib.Reading) bool {
	return r.Bracket[0] == 0 && !r.Band.Low.Open && r.Band.Low.Value == 0 && r.Value < (r.Bracket[1]-r.Bracket[0])/10
}

// beyond says what to do about a value past the top. It offers no dilution for pH,
// because diluting the water does not divide this figure.
func beyond(r calib.Reading) string {
	if strings.EqualFold(r.Analyte.Unit, "pH") {
		return "The chart does not say by how much; a test that reaches further would."
	}
	return "To get a value, mix the water 1 + 1 with distilled water, dip a new strip and read it as diluted 1+1, which doubles it."
}

// presence says which of two swatches a presence pad shows, and how surely. Where that
// cannot be told, it says so.
func presence(r calib.Reading) string {
	name := func(i int) string {
		if l := r.Swatches[i].Label; l != "" {
			return l
		}
		return lines.Plain(r.Swatches[i].Value)
	}
	if math.IsNaN(r.Value) {
		return fmt.Sprintf("Cannot tell %q from %q in this photo (%s for %q).", name(0), name(1), percent(r.Yes), name(1))
	}
	i, p := 0, 1-r.Yes
	if r.Value == r.Swatches[1].Value {
		i, p = 1, r.Yes
	}
	return fmt.Sprintf("Shows %q, not %q (%s).", name(i), name(1-i), percent(p))
}

// percent prints a probability in per cent and never rounds it up to certainty.
func percent(p float64) string {
	if p > 0.99 {
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}
