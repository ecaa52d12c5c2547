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

// figure prints a value with the given decimals; zero is "0", and what is more
// than zero but would print as zero is "under" the least figure there is.
func figure(v float64, decimals int) string {
	switch {
	case !vanishes(v, decimals):
		return fixed(v, decimals)
	case v > 0:
		return "under " + fixed(math.Pow10(-decimals), decimals)
	}
	return firstDigit(v)
}

func fixed(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// vanishes says that a value would print as zero.
func vanishes(v float64, decimals int) bool {
	p, err := strconv.ParseFloat(fixed(v, decimals), 64)
	return err == nil && p == 0
}

// firstDigit prints a value with one significant digit and no exponent.
func firstDigit(v float64) string {
	one, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 0, 64), 64)
	return plain(one)
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

// endSteps is how near an end of the chart, in steps, a bound is taken for the
// end: a column of the drawn rule is no less.
const endSteps = 0.05

// whole says that a band leaves nothing of the chart out.
func whole(r calib.Reading, b calib.Band) bool {
	top := float64(len(r.Swatches) - 1)
	return (b.Low.Open || r.Analyte.StepOf(b.Low.Value) <= endSteps) &&
		(b.High.Open || r.Analyte.StepOf(b.High.Value) >= top-endSteps)
}

// span prints a band that is not the whole chart: "5.1 to 9.0", "at least 12",
// "at most 1".
func span(b calib.Band, decimals int) string {
	switch {
	case b.High.Open:
		return "at least " + alone(b.Low.Value, decimals)
	case b.Low.Open:
		return "at most " + alone(b.High.Value, decimals)
	}
	return between(b.Low.Value, b.High.Value, decimals)
}

// alone prints a bound that stands by itself; one that would print as zero
// keeps its first digit.
func alone(v float64, decimals int) string {
	if vanishes(v, decimals) {
		return firstDigit(v)
	}
	return fixed(v, decimals)
}

// between prints an interval; ends that would both print as zero keep their
// first digits.
func between(low, high float64, decimals int) string {
	if vanishes(high, decimals) {
		return firstDigit(low) + " to " + firstDigit(high)
	}
	return figure(low, decimals) + " to " + figure(high, decimals)
}
