package history

import (
	"cmp"
	"math"
	"strconv"
	"strings"
	"time"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/words"
)

// Text is a line of what the reading found says, and under it where it is.
func (h Found) Text() string {
	says := []string{h.Analyte + " " + h.reads() + " (" + h.water() + ")"}
	if h.Words != "" {
		says = append(says, h.Words)
	}
	if h.Reliability != calib.Good {
		says = append(says, words.GradeWithin(h.Reliability))
	}
	where, path := lines.Blanked(placeText(h.Place, h.Point)), lines.Blanked(h.Path)
	gap := "  "
	if len([]rune(indent+where+gap+path)) > lines.Width {
		gap = "\n" + indent
	}
	return h.day() + "  " + lines.Blanked(strings.Join(says, ", ")) + "\n" + indent + where + gap + path + "\n"
}

// indent is as wide as a day and the gap after it.
const indent = "            "

// day is when the photo was taken, as wide as a day is when it is not known.
func (h Found) day() string {
	if t, _, ok := record.ParseTime(h.Taken); ok {
		return t.Format(time.DateOnly)
	}
	return "no date   "
}

// placeText is a place with its sampling point.
func placeText(place, point string) string {
	switch {
	case place == "" && point == "":
		return "no place"
	case point == "":
		return place
	case place == "":
		return point
	}
	return place + ", " + point
}

// reads is the value in words, with its unit.
func (h Found) reads() string {
	unit := ""
	if h.Unit != "" && !strings.EqualFold(h.Unit, h.Analyte) {
		unit = " " + unitOf(h.Reading)
	}
	switch {
	case !h.Value.Known():
		return "without a value"
	case h.Range == calib.Above:
		return h.short(float64(h.Value)) + unit + " or more"
	case h.Range == calib.Below:
		return h.short(float64(h.Value)) + unit + " or less"
	}
	return h.short(float64(h.Value)) + unit
}

// water is what the water may be.
func (h Found) water() string {
	low, high := h.WaterBand.Ends()
	switch noLow, noHigh := math.IsInf(low, 0), math.IsInf(high, 0); {
	case noLow && noHigh:
		return "anything"
	case noHigh:
		return h.short(low) + " or more"
	case noLow:
		return h.short(high) + " or less"
	}
	return h.short(low) + " to " + h.short(high)
}

// short prints a figure of a reading with three digits and no exponent, and with
// the five that it was kept with where three would move it to the other side of
// an amount asked for.
func (h Found) short(v float64) string {
	r := rounded(v, 3)
	for _, l := range h.limits {
		if cmp.Compare(v, l) != cmp.Compare(r, l) {
			r = rounded(v, 5)
		}
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// rounded is a figure with so many digits, as it is printed, to compare it with
// another as a person would.
func rounded(v float64, digits int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		return math.NaN()
	}
	return r
}
