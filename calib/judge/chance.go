package judge

import (
	"math"

	"padband/calib"
	"padband/charts"
)

// Chance is a probability (0-1) as far as it can be known: where the chart ends
// before a limit, what lies past its end may be on either side of it.
type Chance struct{ AtLeast, AtMost float64 }

// Known reports whether the chance is one figure.
func (c Chance) Known() bool { return c.AtMost-c.AtLeast < 1e-9 }

// not is the chance of the contrary.
func (c Chance) not() Chance { return Chance{1 - c.AtMost, 1 - c.AtLeast} }

// and is the chance of either of two that exclude each other.
func (c Chance) plus(o Chance) Chance {
	return Chance{math.Min(1, c.AtLeast+o.AtLeast), math.Min(1, c.AtMost+o.AtMost)}
}

// overOn returns the chance that the water holds more than a value, in the unit
// of the scale, that a posterior of places on it gives (JCGM 106:2012, 7.2): of
// a value past an end of the chart only what the other side allows.
func overOn(p calib.Posterior, a charts.Analyte, value float64) Chance {
	lowest, highest := a.Swatches[0].Value, a.Swatches[len(a.Swatches)-1].Value
	switch {
	case value > highest:
		return Chance{0, p.Over(p.Top)}
	case value < lowest:
		return Chance{p.Over(0), 1}
	}
	over := p.Over(a.StepOf(value))
	return Chance{over, over}
}

// outsideOf returns the chances of a value under low and over high.
func outsideOf(p calib.Posterior, a charts.Analyte, low, high float64) (under, over Chance) {
	return overOn(p, a, low).not(), overOn(p, a, high)
}
