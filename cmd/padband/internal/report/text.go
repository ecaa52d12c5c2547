package report

import (
	"fmt"
	"math"
	"strings"

	"padband/calib"
	"padband/charts"
)

// width is the terminal's columns that the text keeps to.
const width = 80

// Text returns the readings as text for people: for each analyte the bracket
// first, then the value, the band and the reliability word, a drawn rule, and
// the warnings as sentences. It has no colour codes.
func Text(s Source) string {
	var b strings.Builder
	title := s.Chart.Title
	if title == "" {
		title = s.Chart.Name
	}
	line(&b, "", fmt.Sprintf("%s, read against %q", s.File, title))
	if s.Photo.Taken != "" {
		line(&b, "", "Photo taken "+strings.Replace(s.Photo.Taken, "T", " ", 1))
	}
	for _, r := range s.Readings {
		b.WriteString("\n")
		b.WriteString(reading(r))
	}
	if len(s.Light.Warnings) > 0 {
		b.WriteString("\nThe photo\n")
		notes(&b, s.Light.Warnings)
	}
	for _, n := range s.Notes {
		b.WriteString("\n")
		line(&b, "  ", n)
	}
	b.WriteString("\n")
	line(&b, "", "The band covers reading the colour; the water band adds the strip's own error. A strip is a screening test: what matters to health is for a certified laboratory and the local health authority.")
	return b.String()
}

func reading(r calib.Reading) string {
	var b strings.Builder
	head := r.Analyte.Name
	if u := unit(r); u != "" && u != r.Analyte.Name {
		head += ", " + u
	}
	word := strings.ToUpper(string(r.Reliability[:1])) + string(r.Reliability[1:])
	fmt.Fprintf(&b, "%s%s%s\n", upperFirst(head), strings.Repeat(" ", max(2, width-2-len([]rune(head))-len(word))), word)
	if r.Analyte.Kind == charts.KindPresence {
		line(&b, "  ", presence(r))
	} else {
		d := digits(r)
		line(&b, "  ", sentence(r, d))
		kit := "the chart's kit error"
		if r.KitAssumed {
			kit = "kit error assumed, half a step"
		}
		line(&b, "  ", fmt.Sprintf("Water band %s (%s).", span(r.WaterBand, d), kit))
		if len(r.Band.Hills) > 1 {
			line(&b, "  ", "It may be in one of: "+hillText(r.Band.Hills, d)+".")
		}
		b.WriteString(rule(r))
	}
	if r.Reliability == calib.Unreliable {
		line(&b, "  ", "Do not rely on this value.")
	}
	notes(&b, r.Warnings)
	return b.String()
}

func hillText(hills [][2]float64, d int) string {
	var parts []string
	for _, h := range hills {
		parts = append(parts, figure(h[0], d)+" to "+figure(h[1], d))
	}
	return strings.Join(parts, ", or ")
}

// sentence is the reading in words, the bracket first.
func sentence(r calib.Reading, d int) string {
	n := len(r.Swatches)
	lowest, highest := plain(r.Swatches[0].Value), plain(r.Swatches[n-1].Value)
	switch r.Range {
	case calib.Above:
		return fmt.Sprintf("At or above the highest swatch, %s; band %s. Dilute the sample and read again to get a value.", highest, span(r.Band, d))
	case calib.Below:
		return fmt.Sprintf("At or below the lowest swatch, %s; band %s.", lowest, span(r.Band, d))
	}
	if r.Bracket[0] == 0 && !r.Band.Low.Open && r.Band.Low.Value == 0 && r.Value < (r.Bracket[1]-r.Bracket[0])/10 {
		return fmt.Sprintf("At or near %s; reads %s; band %s.", plain(r.Bracket[0]), figure(r.Value, d), span(r.Band, d))
	}
	return fmt.Sprintf("Between %s and %s; reads %s; band %s.", plain(r.Bracket[0]), plain(r.Bracket[1]), figure(r.Value, d), span(r.Band, d))
}

func presence(r calib.Reading) string {
	name := func(i int) string {
		if l := r.Swatches[i].Label; l != "" {
			return l
		}
		return plain(r.Swatches[i].Value)
	}
	if math.IsNaN(r.Value) {
		return fmt.Sprintf("Cannot tell %q from %q in this photo (%.0f %% for %q).", name(0), name(1), 100*r.Yes, name(1))
	}
	i, p := 0, 1-r.Yes
	if r.Value == r.Swatches[1].Value {
		i, p = 1, r.Yes
	}
	return fmt.Sprintf("Shows %q (%s against %q).", name(i), percent(p), name(1-i))
}

// percent never rounds up to certainty.
func percent(p float64) string {
	if p > 0.99 {
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// rule draws the chart's scale with its numbers, the band as a bar and the
// value as a tick, and the water band under it.
func rule(r calib.Reading) string {
	n := len(r.Swatches)
	left, room := 9, width-9-7
	each := room / (n - 1)
	at := func(step float64) int { return left + int(math.Round(step*float64(each))) }
	numbers, scale := blank(), blank()
	for i, s := range r.Swatches {
		put(numbers, at(float64(i))-len(plain(s.Value))/2, plain(s.Value))
		if i > 0 {
			put(scale, at(float64(i-1)), "|"+strings.Repeat("-", each-1)+"|")
		}
	}
	band := bar(r, r.Band, at, '=')
	put(band, 2, "band")
	put(band, at(r.Analyte.StepOf(r.Value)), "O")
	water := bar(r, r.WaterBand, at, '-')
	put(water, 2, "water")
	var b strings.Builder
	for _, l := range [][]rune{numbers, scale, band, water} {
		b.WriteString(strings.TrimRight(string(l), " ") + "\n")
	}
	return b.String()
}

// bar draws a band; an open end carries an arrow past the chart.
func bar(r calib.Reading, band calib.Band, at func(float64) int, fill rune) []rune {
	out := blank()
	lo, hi := at(0)-1, at(float64(len(r.Swatches)-1))+1
	if !band.Low.Open {
		lo = at(r.Analyte.StepOf(band.Low.Value))
	}
	if !band.High.Open {
		hi = at(r.Analyte.StepOf(band.High.Value))
	}
	for i := lo; i <= hi; i++ {
		out[i] = fill
	}
	if band.Low.Open {
		out[lo] = '<'
	}
	if band.High.Open {
		out[hi] = '>'
	}
	return out
}

func blank() []rune { return []rune(strings.Repeat(" ", width)) }

func put(l []rune, at int, s string) {
	for i, c := range []rune(s) {
		if at+i >= 0 && at+i < len(l) {
			l[at+i] = c
		}
	}
}

func notes(b *strings.Builder, ws []calib.Warning) {
	for _, w := range ws {
		wrap(b, "  - ", "    ", w.Text+" ["+w.Code+"]")
	}
}

// line writes a paragraph with every line indented.
func line(b *strings.Builder, indent, s string) { wrap(b, indent, indent, s) }

// wrap breaks a paragraph at words to keep to the width.
func wrap(b *strings.Builder, first, rest, s string) {
	lead, used := first, 0
	b.WriteString(lead)
	used = len([]rune(lead))
	for i, w := range strings.Fields(s) {
		n := len([]rune(w))
		switch {
		case i == 0:
		case used+1+n > width:
			b.WriteString("\n" + rest)
			used = len([]rune(rest))
		default:
			b.WriteString(" ")
			used++
		}
		b.WriteString(w)
		used += n
	}
	b.WriteString("\n")
}

func upperFirst(s string) string {
	if s == "" || strings.HasPrefix(s, "pH") {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}
