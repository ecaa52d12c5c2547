package words

import (
	"math"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/lines"
)

// Change says in words how a reading differs from an earlier one: the answer first,
// then both ranges.
func Change(after calib.Reading, c judge.Change) (first string, says []string) {
	d := Digits(calib.Reading{Band: c.Band, Bracket: after.Bracket})
	in := " " + Unit(after)
	counted := " (the strips' own errors counted)."
	if c.KitAssumed {
		counted = " (the strips' own errors counted, in part assumed as half a step)."
	}
	moved := func(how string, sign float64) (string, []string) {
		return "Changed: it " + how + " by " + amount(c, sign, d) + in + ".", []string{"By the colours it " + how + " by " +
			extentOf(c.Band, sign, d) + "; in the water by " + extentOf(c.WaterBand, sign, d) + counted}
	}
	switch c.Direction {
	case judge.Rose:
		return moved("rose", 1)
	case judge.Fell:
		return moved("fell", -1)
	}
	reads := ""
	if !math.IsNaN(c.Value) {
		reads = "The difference reads " + lines.Signed(c.Value, d) + in + ". "
	}
	says = []string{reads + "By the colours it is " + signedSpan(c.Band, d) + "; in the water it may be " +
		signedSpan(c.WaterBand, d) + counted}
	if c.Direction == judge.CannotTell {
		return "Cannot tell whether it changed: one of the readings is not to be used.", says
	}
	return "Not shown to have changed: the errors of strips and photos alone could make this difference.", says
}

// amount says how far it rose (sign 1) or fell (-1), when that is known.
func amount(c judge.Change, sign float64, d int) string {
	if !math.IsNaN(c.Value) {
		return lines.Figure(sign*c.Value, d)
	}
	return extentOf(c.WaterBand, sign, d)
}

// extentOf prints a band of a rise (sign 1) or a fall (-1) without signs. Such a band
// leaves zero out.
func extentOf(b calib.Band, sign float64, d int) string {
	low, high := b.Low, b.High
	if sign < 0 {
		low, high = calib.Bound{Value: -high.Value, Open: high.Open}, calib.Bound{Value: -low.Value, Open: low.Open}
	}
	switch {
	case high.Open:
		return "at least " + lines.Alone(low.Value, d)
	case low.Open:
		return "at most " + lines.Alone(high.Value, d)
	}
	return lines.Between(low.Value, high.Value, d)
}

// signedSpan prints a band whose ends carry their signs.
func signedSpan(b calib.Band, d int) string {
	switch {
	case b.Low.Open && b.High.Open:
		return "anything"
	case b.High.Open:
		return lines.Signed(b.Low.Value, d) + " or more"
	case b.Low.Open:
		return lines.Signed(b.High.Value, d) + " or less"
	}
	return lines.Signed(b.Low.Value, d) + " to " + lines.Signed(b.High.Value, d)
}
