package rule

import (
	"math"
	"strings"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
)

// The rule's measures, in columns: where the lowest swatch stands, and how far
// the highest is from it at most.
const (
	ruleLeft = 9
	ruleRoom = 64
)

// places returns the rule's length for so many swatches and the column of a
// place in steps. Swatches stand whole columns apart as long as they can.
func places(swatches int) (length int, at func(step float64) int) {
	steps := max(1, swatches-1)
	length = max(ruleRoom/steps*steps, min(steps, ruleRoom))
	return length, func(step float64) int {
		return ruleLeft + int(math.Round(step*float64(length)/float64(steps)))
	}
}

// Text draws the chart's scale with its numbers, the band as a bar with the
// value as a tick, and the water band under it; people read "colour" and "water". Swatches stand at even
// distances, as steps do.
func Text(r calib.Reading) string {
	length, at := places(len(r.Swatches))
	scale := blank()
	put(scale, ruleLeft, strings.Repeat("-", length))
	for i := range r.Swatches {
		put(scale, at(float64(i)), "|")
	}
	band := bar(r, r.Band, at, '=')
	for _, gap := range valleys(r) {
		for i := at(gap[0]) + 1; i < at(gap[1]); i++ {
			band[i] = '.'
		}
	}
	put(band, 2, "colour")
	put(band, at(r.Analyte.StepOf(r.Value)), "O")
	water := bar(r, r.WaterBand, at, '-')
	put(water, 2, "water")
	var b strings.Builder
	for _, l := range [][]rune{numbers(r, at), scale, band, water} {
		b.WriteString(strings.TrimRight(string(l), " ") + "\n")
	}
	return b.String()
}

// numbers writes the swatches' values over their places: the ends always,
// those between where there is room.
func numbers(r calib.Reading, at func(float64) int) []rune {
	out := blank()
	begin := func(i int) (int, string) {
		s := lines.Plain(r.Swatches[i].Value)
		return max(0, min(at(float64(i))-len(s)/2, lines.Width-len(s))), s
	}
	last := len(r.Swatches) - 1
	end, highest := begin(last)
	put(out, end, highest)
	free := 0
	for i := range last {
		if from, s := begin(i); from >= free && from+len(s) < end {
			put(out, from, s)
			free = from + len(s) + 1
		}
	}
	return out
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

// valleys are the stretches, in steps, between the hills of the band.
func valleys(r calib.Reading) (out [][2]float64) {
	for i := 1; i < len(r.Band.Hills); i++ {
		out = append(out, [2]float64{r.Analyte.StepOf(r.Band.Hills[i-1][1]), r.Analyte.StepOf(r.Band.Hills[i][0])})
	}
	return out
}

func blank() []rune { return []rune(strings.Repeat(" ", lines.Width)) }

func put(l []rune, at int, s string) {
	for i, c := range []rune(s) {
		if at+i >= 0 && at+i < len(l) {
			l[at+i] = c
		}
	}
}
