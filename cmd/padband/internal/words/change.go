package words

import (
	"math"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/lines"
)

// Change says in words how a reading differs from an earlier one: the answer first,
// then the bands.
func Change(after calib.Reading, c judge.Change) (first string, says []string) {
	d := Digits(calib.Reading{Band: c.Band, Bracket: after.Bracket})
	errors := "with the strips' own errors as the charts give them"
	if c.KitAssumed {
		errors = "with the strips' own errors, assumed in part: half a step"
	}
	in := " " + Unit(after)
	moved := func(how string, sign float64) (string, []string) {
		bands := "Band " + extentOf(c.Band, sign, d) + "; water band " + extentOf(c.WaterBand, sign, d)
		return "Changed: it " + how + " by " + amount(c, sign, d) + in + ".", []string{bands + ", " + errors + "."}
	}
	switch c.Direction {
	case judge.Rose:
		return moved("rose", 1)
	case judge.Fell:
		return moved("fell", -1)
	}
	reads := ""
	if !math.IsNaN(c.Value) {
		reads = "The difference reads " + lines.Signed(c.Value, d) + in + "; "
	}
	says = []string{lines.UpperFirst(reads + "band " + signedSpan(c.Band, d) + "; water band " + signedSpan(c.WaterBand,
		d) + ", " + errors + ".")}
	if c.Direction == judge.CannotTell {
		return "Cannot tell whether it changed: one of the readings is not to be relied on.", says
	}
	return "Not shown to have changed: zero lies within the water band.", says
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
	return Span(calib.Band{Low: low, High: high}, d)
}

// signedSpan prints a band whose ends carry their signs.
func signedSpan(b calib.Band, d int) string {
	switch {
	case b.Low.Open && b.High.Open:
		return "open on both sides"
	case b.High.Open:
		return "at least " + lines.Signed(b.Low.Value, d)
	case b.Low.Open:
		return "at most " + lines.Signed(b.High.Value, d)
	}
	return lines.Signed(b.Low.Value, d) + " to " + lines.Signed(b.High.Value, d)
}
