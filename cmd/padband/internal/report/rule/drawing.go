// Package rule draws the chart's numbers over a line, with the band and the water band
// under it. [Text] draws in characters for a terminal, [Draw] and [SVG] make a small
// drawing for pages and sheets, and [DrawChange] draws the difference of two readings
// in the same way. The package does not draw the statistical figures of many readings.
package rule

import (
	"fmt"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/words"
)

// The drawing's measures, in its own units, of which the narrowest page shows
// it about one a pixel.
const (
	Wide     = 360.0
	svgLeft  = 56.0  // where the lowest swatch stands; the bars' names stand before it
	svgRight = 340.0 // where the highest stands
	svgPast  = 10.0  // how far the line goes on past both: an open band ends there
	svgRow   = 16.0  // height of a row of numbers
	bandTop  = 10.0  // from the line down to the band's bar
	bandHigh = 10.0
	waterAt  = 32.0 // from the line down to the water band's
	svgFoot  = 40.0
)

// Drawing is the rule as a page draws it. All lengths are ready to print.
type Drawing struct {
	Index        int
	Title, Desc  string
	Width        string
	Height, Line string // of the whole, and where the line stands
	From, To     string // the line's ends
	BandText     string // where the bars' names stand
	WaterText    string
	Numbers      []mark
	Ticks        []mark
	Bars         []box
	Lines        []stroke
}

type mark struct{ X, Y, Text string }
type box struct{ X, Y, Width, Height string }

// stroke is one straight line; its class tells its weight.
type stroke struct{ X1, Y1, X2, Y2, Class string }

// Draw lays out the chart's numbers over a line, the band as a bar with a tick
// for the value, and the water band under it. Swatches stand at even distances,
// as steps do. An open end of a band runs to the line's end and has no end tick.
func Draw(index int, r calib.Reading) Drawing {
	placed, rows := numerals(r)
	y := svgRow*float64(rows) + 8
	d := Drawing{
		Index: index, Title: "The chart's numbers for " + lines.OneLine(r.Analyte.Name) + ", with what was read", Desc: describe(r),
		Width: markup.Px(Wide), Height: markup.Px(y + svgFoot), Line: markup.Px(y), From: markup.Px(svgLeft - svgPast),
		To:       markup.Px(svgRight + svgPast),
		BandText: markup.Px(y + bandTop + bandHigh - 1), WaterText: markup.Px(y + waterAt + 4),
	}
	for _, n := range placed {
		d.number(n, rows, y)
	}
	for _, e := range ends(r) {
		d.bar(e, y)
	}
	d.water(extent(r, r.WaterBand.Low, r.WaterBand.High), y+waterAt)
	if r.Range == calib.Within {
		x := markup.Px(svgAt(r, r.Analyte.StepOf(r.Value)))
		d.Lines = append(d.Lines, stroke{x, markup.Px(y), x, markup.Px(y + bandTop + bandHigh + 4), "value"})
	}
	return d
}

// number adds a swatch's tick and, where there is room for it, its number; the
// tick of one in the upper row is long.
func (d *Drawing) number(n numeral, rows int, line float64) {
	top := line - 6
	if n.row > 1 {
		top = svgRow + 2
	}
	d.Ticks = append(d.Ticks, mark{X: markup.Px(n.at), Y: markup.Px(top)})
	if n.row > 0 {
		d.Numbers = append(d.Numbers, mark{markup.Px((n.from + n.to) / 2), markup.Px(svgRow*float64(rows-n.row+1) - 2), n.text})
	}
}

// reach is where a bar begins and ends, and which of its ends are open.
type reach struct {
	from, to          float64
	lowOpen, highOpen bool
}

// ends are the band's bars: one, or one for each hill.
func ends(r calib.Reading) (out []reach) {
	if len(r.Band.Hills) < 2 {
		return []reach{extent(r, r.Band.Low, r.Band.High)}
	}
	last := len(r.Band.Hills) - 1
	for i, h := range r.Band.Hills {
		low := calib.Bound{Value: h[0], Open: i == 0 && r.Band.Low.Open}
		high := calib.Bound{Value: h[1], Open: i == last && r.Band.High.Open}
		out = append(out, extent(r, low, high))
	}
	return out
}

func extent(r calib.Reading, low, high calib.Bound) reach {
	e := reach{svgAt(r, r.Analyte.StepOf(low.Value)), svgAt(r, r.Analyte.StepOf(high.Value)), low.Open, high.Open}
	if e.lowOpen {
		e.from = svgLeft - svgPast
	}
	if e.highOpen {
		e.to = svgRight + svgPast
	}
	return e
}

// svgAt is where a place in steps stands from left to right.
func svgAt(r calib.Reading, step float64) float64 {
	return svgLeft + step*(svgRight-svgLeft)/float64(max(1, len(r.Swatches)-1))
}

// bar adds one bar of the band: filled, lined above and below, and closed at an
// end that is not open.
func (d *Drawing) bar(e reach, line float64) {
	top, foot := markup.Px(line+bandTop), markup.Px(line+bandTop+bandHigh)
	from, to := markup.Px(e.from), markup.Px(e.to)
	d.Bars = append(d.Bars, box{from, top, markup.Px(e.to - e.from), markup.Px(bandHigh)})
	d.Lines = append(d.Lines, stroke{from, top, to, top, "band"}, stroke{from, foot, to, foot, "band"})
	if !e.lowOpen {
		d.Lines = append(d.Lines, stroke{from, top, from, foot, "end"})
	}
	if !e.highOpen {
		d.Lines = append(d.Lines, stroke{to, top, to, foot, "end"})
	}
}

// water adds the water band: a line with a short tick at an end that is not open.
func (d *Drawing) water(e reach, y float64) {
	from, to := markup.Px(e.from), markup.Px(e.to)
	d.Lines = append(d.Lines, stroke{from, markup.Px(y), to, markup.Px(y), "water"})
	if !e.lowOpen {
		d.Lines = append(d.Lines, stroke{from, markup.Px(y - 4), from, markup.Px(y + 4), "water"})
	}
	if !e.highOpen {
		d.Lines = append(d.Lines, stroke{to, markup.Px(y - 4), to, markup.Px(y + 4), "water"})
	}
}

// describe is the drawing in words, for those who do not see it.
func describe(r calib.Reading) string {
	var values []string
	for _, s := range r.Swatches {
		values = append(values, lines.Plain(s.Value))
	}
	d := words.Digits(r)
	text := "The line carries " + lines.List(values) + ". " + lines.UpperFirst(words.ReadAs(r, r.Band, d)) + ". " +
		"The water " + words.MayBe(r, r.WaterBand, d) + "."
	if len(r.Band.Hills) > 1 {
		text += fmt.Sprintf(" The colour's bar is in %d pieces.", len(r.Band.Hills))
	}
	if r.Range == calib.Within {
		text += " A tick stands at " + lines.Figure(r.Value, d) + "."
	}
	return text
}
