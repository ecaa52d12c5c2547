package report

import (
	"math"
	"strconv"

	"padband/calib"
)

// digits is how many decimals a reading's figures are printed with: enough to
// see an eighth of the band, never more than six.
func digits(r calib.Reading) int {
	width := math.NaN()
	if !r.Band.Low.Open && !r.Band.High.Open {
		width = r.Band.High.Value - r.Band.Low.Value
	}
	if !(width > 0) {
		width = r.Bracket[1] - r.Bracket[0]
	}
	if !(width > 0) {
		return 1
	}
	return min(max(int(math.Ceil(-math.Log10(width/8))), 0), 6)
}

// figure prints a value with the given decimals; zero is "0", and what is not
// zero but would print as zero keeps its first digit instead.
func figure(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if p, err := strconv.ParseFloat(s, 64); err == nil && p == 0 {
		one, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 0, 64), 64)
		return plain(one)
	}
	return s
}

// plain prints a chart's own value as the chart has it.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// unit is the unit with what it is expressed as: "mg/L as N".
func unit(r calib.Reading) string {
	if r.Analyte.As == "" {
		return r.Analyte.Unit
	}
	return r.Analyte.Unit + " as " + r.Analyte.As
}

// span prints a band: "5.1 to 9.0", "at least 12", "at most 1".
func span(b calib.Band, decimals int) string {
	switch {
	case b.Low.Open && b.High.Open:
		return "anything on this chart"
	case b.High.Open:
		return "at least " + figure(b.Low.Value, decimals)
	case b.Low.Open:
		return "at most " + figure(b.High.Value, decimals)
	}
	return figure(b.Low.Value, decimals) + " to " + figure(b.High.Value, decimals)
}
