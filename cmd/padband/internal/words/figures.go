package words

import (
	"math"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
)

// Digits is how many decimals a reading's figures are printed with: enough to
// see an eighth of the band, never more than six.
func Digits(r calib.Reading) int {
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
	return lines.Decimals(width)
}

// Unit is the reading's unit with what it is expressed as: "mg/L as N".
func Unit(r calib.Reading) string {
	if r.Analyte.As == "" {
		return r.Analyte.Unit
	}
	return r.Analyte.Unit + " as " + r.Analyte.As
}

// endSteps is how near to an end of the chart, in steps, a bound counts as that end:
// no column of the drawn rule is narrower.
const endSteps = 0.05

// whole reports whether a band leaves nothing of the chart out.
func whole(r calib.Reading, b calib.Band) bool {
	top := float64(len(r.Swatches) - 1)
	return (b.Low.Open || r.Analyte.StepOf(b.Low.Value) <= endSteps) &&
		(b.High.Open || r.Analyte.StepOf(b.High.Value) >= top-endSteps)
}

// Span prints a band that is not the whole chart: "5.1 to 9.0", "12 or more",
// "1 or less".
func Span(b calib.Band, decimals int) string {
	switch {
	case b.High.Open && b.Low.Open:
		return "anything"
	case b.High.Open:
		return lines.Alone(b.Low.Value, decimals) + " or more"
	case b.Low.Open:
		return lines.Alone(b.High.Value, decimals) + " or less"
	}
	return lines.Between(b.Low.Value, b.High.Value, decimals)
}
