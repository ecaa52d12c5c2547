// Package words says one reading in sentences, or what changed from one reading to a
// later one. Start at [Say]; [Change] is for two readings, and [Span] and [Digits]
// print the figures in the sentences. No other package turns a decision into English,
// so a terminal, a page and a sheet of paper say the same. This package computes
// nothing.
package words

import (
	"fmt"
	"math"
	"strings"

	"padband/calib"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// BandMeaning says what the ranges in the sentences mean, and what a strip can tell.
const BandMeaning = "These ranges are made to hold the true value 95 times in 100. \"Colour read as\" counts the errors of " +
	"reading the colour; \"the water may be\" counts the strip's own error too. A strip is a screening test: what matters to " +
	"health is for a certified laboratory and the local health authority."

// Said is one reading in words, the same for every form of report.
type Said struct {
	Head, Word string   // the analyte with its unit, and the grade
	Doubt      string   // for a reading that is not to be used only: why
	Colour     string   // what the pad's colour reads
	Beyond     string   // for a value past the top: what to do about it, after the colour's sentence
	Water      string   // what the water in which the strip was dipped may be; empty for a presence pad
	Scale      bool     // whether a rule is drawn; a presence pad has none
	Then       []string // what stands after the rule and before the warnings
}

// Say puts a reading in words. light describes the light of the reading's photo.
func Say(r calib.Reading, light calib.LightReport) Said {
	s := Said{Head: lines.UpperFirst(lines.OneLine(lines.WithUnit(r.Analyte.Name, Unit(r)))), Word: Grade(r.Reliability)}
	if r.Reliability == calib.Unreliable {
		s.Doubt = Doubt(r, light)
	}
	if r.Analyte.Kind == charts.KindPresence {
		s.Colour = presence(r)
	} else {
		d := Digits(r)
		s.Scale = true
		if r.Range == calib.Above {
			s.Beyond = beyond(r)
		}
		s.Colour, s.Water = sentence(r, d), water("The water", r, d)
		if len(r.Band.Hills) > 1 {
			s.Then = append(s.Then, "The colour fits separate places: "+hillText(r.Band.Hills, d)+".")
		}
	}
	if r.Reliability == calib.Caution && onlyPhoto(r, light) {
		s.Then = append(s.Then, "Doubtful because of "+photoFault(light)+": "+seePhoto+".")
	}
	return s
}

// water says what some water may be, with the strip's own error.
func water(which string, r calib.Reading, d int) string {
	text := which + " " + MayBe(r, r.WaterBand, d) + " (the strip's own error counted"
	if r.KitAssumed {
		text += ", assumed as half a step"
	}
	return text + ")."
}

// MayBe says what water may be: "may be 6.4 to 13.8", "may be anything on the chart".
func MayBe(r calib.Reading, b calib.Band, d int) string {
	switch {
	case whole(r, b) && (b.Low.Open || b.High.Open):
		return "may be anything on the chart or past its end"
	case whole(r, b):
		return "may be anything on the chart"
	}
	return "may be " + Span(b, d)
}

// ofTheWater gives a reading's figures for the water before it was mixed, and in other
// units, with a sentence for each.
func ofTheWater(r calib.Reading, m strip.Meaning) (out []string) {
	switch {
	case m.Refused != "":
		return append(out, "The water was mixed "+lines.OneLine(m.Dilution)+": "+lines.OneLine(m.Refused))
	case m.Undiluted != nil:
		r = *m.Undiluted
		d := Digits(r)
		out = append(out, "The water before it was mixed "+lines.OneLine(m.Dilution)+": "+figures(r, d)+". It counts what is in the "+
			"water used for mixing as nothing: dip a strip in that too.")
	}
	for _, c := range m.Converted {
		x := r
		x.Value, x.Band, x.WaterBand, x.Bracket = c.Value, c.Band, c.WaterBand, c.Bracket
		out = append(out, "In "+lines.OneLine(c.Unit.String())+": "+figures(x, Digits(x))+".")
	}
	if m.NoLimit {
		out = append(out, reading.NoLimit)
	}
	return out
}

// figures are a reading's value and both ranges within a sentence.
func figures(r calib.Reading, d int) string {
	text := "colour read as " + Span(r.Band, d) + "; the water may be " + Span(r.WaterBand, d)
	if r.Range == calib.Within {
		return "reads " + lines.Figure(r.Value, d) + "; " + text
	}
	return text
}

// FirstOf are the sentences before the drawing: the colour's, and then the water's.
func FirstOf(s Said, r calib.Reading, m strip.Meaning) []string {
	out := []string{s.OfColour(m)}
	if text := s.ofDipped(r, m); text != "" {
		out = append(out, text)
	}
	return append(append(out, standards(m)...), ofTheWater(r, m)...)
}

// OfWater are the sentences about the water that a person asks for, so that they can
// stand first: of diluted water they are about the water before it was mixed. There
// are none for a presence pad. A reading that is not to be used tells nothing of the
// water, so all its sentences stay together.
func OfWater(s Said, r calib.Reading, m strip.Meaning) []string {
	if s.Doubt != "" {
		return FirstOf(s, r, m)
	}
	if m.Dilution != "" || s.Water == "" {
		return ofTheWater(r, m)
	}
	return append([]string{s.Water}, ofTheWater(r, m)...)
}

// OfStrip are the sentences about the strip itself, which [OfWater] leaves out.
func OfStrip(s Said, r calib.Reading, m strip.Meaning) []string {
	if s.Doubt != "" {
		return nil
	}
	out := []string{s.OfColour(m)}
	if text := s.ofDipped(r, m); m.Dilution != "" && text != "" {
		out = append(out, text)
	}
	return append(out, standards(m)...)
}

// OfColour is the sentence about the pad's colour. It does not say how to dilute when
// the water was diluted already.
func (s Said) OfColour(m strip.Meaning) string {
	if s.Beyond == "" || m.Dilution != "" {
		return s.Colour
	}
	return s.Colour + " " + s.Beyond
}

// Both are the sentences about the colour and the water, of a strip dipped in the water
// itself.
func (s Said) Both() []string {
	out := []string{s.OfColour(strip.Meaning{})}
	if s.Water != "" {
		out = append(out, s.Water)
	}
	return out
}

// ofDipped says what the water in which the strip was dipped may be. Water that was
// mixed for it is not the water that is asked for, and is named so.
func (s Said) ofDipped(r calib.Reading, m strip.Meaning) string {
	if s.Water == "" || m.Dilution == "" {
		return s.Water
	}
	return water("The mixed water", r, Digits(r))
}

// standards say what each strip of known water reads, next to this reading.
func standards(m strip.Meaning) (out []string) {
	for _, c := range m.Standards {
		out = append(out, standard(c))
	}
	return out
}

// standard says what the strip of known water reads.
func standard(c strip.StandardCheck) string {
	x := c.Reading
	text := "Check standard of " + lines.OneLine(c.Known.String()) + ", " + lines.OneLine(c.Photo) + ": " + figures(x, Digits(x))
	switch {
	case x.Reliability == calib.Unreliable:
		return text + ". Its own reading is not to be used, so it shows nothing."
	case c.Holds:
		return text + ", which holds the value. At this one value strip and photo do as they should; nothing was corrected."
	}
	return text + ", which does not hold the value."
}

// seePhoto sends a person to the paragraph about the photo.
const seePhoto = `see "The photo" below`

// hillText names the separate places of the scale that a colour fits.
func hillText(hills [][2]float64, d int) string {
	var parts []string
	for _, h := range hills {
		parts = append(parts, lines.Between(h[0], h[1], d))
	}
	return strings.Join(parts, ", or ")
}

// sentence says what the colour reads. The bracket comes first; past an end of the
// chart the end itself does.
func sentence(r calib.Reading, d int) string {
	end := func(i int) string { return lines.Plain(r.Swatches[i].Value) }
	switch r.Range {
	case calib.Above:
		return end(len(r.Swatches)-1) + " or more" + couldBe(r, "; could be as low as ", r.Band.Low, d)
	case calib.Below:
		return end(0) + " or less" + couldBe(r, "; could be as high as ", r.Band.High, d)
	}
	bracket := "Between " + lines.Plain(r.Bracket[0]) + " and " + lines.Plain(r.Bracket[1])
	if nearZero(r) {
		bracket += ", at or near 0"
	}
	return bracket + "; reads " + lines.Figure(r.Value, d) + ". " + lines.UpperFirst(ReadAs(r, r.Band, d)) + "."
}

// ReadAs says what a colour reads: "colour read as 5.1 to 9.0".
func ReadAs(r calib.Reading, b calib.Band, d int) string {
	if whole(r, b) {
		return "the colour fits the whole chart"
	}
	return "colour read as " + Span(b, d)
}

// couldBe ends the sentence of a value past an end of the chart with the other end of
// its band, where that is not the chart's end itself.
func couldBe(r calib.Reading, how string, b calib.Bound, d int) string {
	switch {
	case whole(r, r.Band):
		return "; the colour fits the whole chart."
	case b.Open || lines.Alone(b.Value, d) == lines.Alone(r.Value, d):
		return "."
	}
	return how + lines.Alone(b.Value, d) + "."
}

// nearZero reports whether the reading cannot be told from nothing.
func nearZero(r calib.Reading) bool {
	return r.Bracket[0] == 0 && !r.Band.Low.Open && r.Band.Low.Value == 0 && r.Value < (r.Bracket[1]-r.Bracket[0])/10
}

// beyond says what to do about a value past the top. It offers no dilution for pH,
// because diluting the water does not divide this figure.
func beyond(r calib.Reading) string {
	if strings.EqualFold(r.Analyte.Unit, "pH") {
		return "This chart ends there, so it cannot show how much more. Another test with a longer scale can."
	}
	return "To get a value, mix one part of the water with one part of distilled water, dip a new strip in the mixture and read it " +
		"as diluted 1+1. The figure is then doubled for you."
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
