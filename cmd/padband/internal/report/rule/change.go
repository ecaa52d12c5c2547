package rule

import (
	"fmt"
	"math"
	"strings"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/words"
)

// axis is a line of values from left to right.
type axis struct{ from, to, step float64 }

// newAxis holds zero, both bands and the value, its ends on round numbers; past
// an open end there is room to see that it is open.
func newAxis(c judge.Change) axis {
	lo, hi := 0.0, 0.0
	for _, b := range []calib.Band{c.Band, c.WaterBand} {
		for _, e := range []calib.Bound{b.Low, b.High} {
			if !e.Open {
				lo, hi = math.Min(lo, e.Value), math.Max(hi, e.Value)
			}
		}
	}
	if lo == hi {
		lo, hi = -1, 1
	}
	if c.WaterBand.Low.Open {
		lo -= 0.3 * (hi - lo)
	}
	if c.WaterBand.High.Open {
		hi += 0.3 * (hi - lo)
	}
	step := lines.Round125((hi - lo) / (lines.MostTicks - 1))
	return axis{math.Floor(lo/step+1e-9) * step, math.Ceil(hi/step-1e-9) * step, step}
}

// at is where a value stands from left to right.
func (a axis) at(v float64) float64 {
	return svgLeft + (v-a.from)/(a.to-a.from)*(svgRight-svgLeft)
}

// extent is where a band begins and ends on the line.
func (a axis) extent(b calib.Band) reach {
	e := reach{a.at(b.Low.Value), a.at(b.High.Value), b.Low.Open, b.High.Open}
	if e.lowOpen {
		e.from = svgLeft - svgPast
	}
	if e.highOpen {
		e.to = svgRight + svgPast
	}
	return e
}

// DrawChange lays out a line of differences like the chart's rule: the band
// as a bar with a tick for the value, the water band under it, and zero as a
// line through both.
func DrawChange(index int, after calib.Reading, c judge.Change) Drawing {
	a, y := newAxis(c), svgRow+8
	d := Drawing{
		Index: index, Title: "The difference of " + lines.OneLine(after.Analyte.Name) + ", with its ranges",
		Desc:  describeDifference(after, c),
		Width: markup.Px(Wide), Height: markup.Px(y + svgFoot), Line: markup.Px(y), From: markup.Px(svgLeft - svgPast),
		To:       markup.Px(svgRight + svgPast),
		BandText: markup.Px(y + bandTop + bandHigh - 1), WaterText: markup.Px(y + waterAt + 4),
	}
	decimals := int(math.Max(0, -math.Floor(math.Log10(a.step)+1e-9)))
	for k := range int(math.Round((a.to-a.from)/a.step)) + 1 {
		v := a.from + float64(k)*a.step
		n := newNumeral(lines.Signed(v, decimals), a.at(v))
		n.row = 1
		d.number(n, 1, y)
	}
	d.bar(a.extent(c.Band), y)
	d.water(a.extent(c.WaterBand), y+waterAt)
	zero := markup.Px(a.at(0))
	d.Lines = append(d.Lines, stroke{zero, markup.Px(y), zero, markup.Px(y + svgFoot), "zero"})
	if !math.IsNaN(c.Value) {
		x := markup.Px(a.at(c.Value))
		d.Lines = append(d.Lines, stroke{x, markup.Px(y), x, markup.Px(y + bandTop + bandHigh + 4), "value"})
	}
	return d
}

// describeDifference is the figure in words.
func describeDifference(after calib.Reading, c judge.Change) string {
	first, says := words.Change(after, c)
	return fmt.Sprintf("A line marked in differences, with zero on it. %s %s", first, strings.Join(says, " "))
}
