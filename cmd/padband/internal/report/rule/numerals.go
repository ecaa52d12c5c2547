package rule

import (
	"math"
	"unicode/utf8"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
)

// svgDigit is the room that one character of a number takes: wide, for a fount
// is not known before it is drawn.
const svgDigit = 8.5

// numeral is a swatch's number in a drawing: where its tick stands, the room
// that its text takes from left to right, and its row, counted from the line:
// 0 when there is no room for it.
type numeral struct {
	text         string
	at, from, to float64
	row          int
}

// numerals places the swatches' values over their ticks and counts the rows
// they take, 1 or 2: the ends always, those between where there is room, in the
// upper row when the lower has none.
func numerals(r calib.Reading) (all []numeral, rows int) {
	for i, s := range r.Swatches {
		all = append(all, newNumeral(lines.Plain(s.Value), svgAt(r, float64(i))))
	}
	end := all[len(all)-1]
	lower, upper := math.Inf(-1), math.Inf(-1) // where each row is free from
	rows = 1
	for i := range all {
		n := &all[i]
		switch {
		case i == len(all)-1 || n.from >= lower && n.to+svgDigit <= end.from:
			n.row, lower = 1, n.to+svgDigit
		case n.from >= upper && n.at >= lower-svgDigit+2 && n.at+2 <= end.from: // its tick passes between the numbers below
			n.row, lower, upper, rows = 2, math.Max(lower, n.at+2), n.to+svgDigit, 2
		}
	}
	return all, rows
}

// newNumeral centres a number over its tick, moved inwards where it would leave
// the drawing.
func newNumeral(text string, at float64) numeral {
	w := svgDigit * float64(utf8.RuneCountInString(text))
	from := math.Max(0, math.Min(at-w/2, Wide-w))
	return numeral{text: text, at: at, from: from, to: from + w}
}
