package judge

import (
	"math"

	"padband/calib"
	"padband/charts"
)

// Chance is a probability (0-1) between two bounds. They differ where the chart ends
// before a limit: a value past the chart's end may lie on either side of that limit.
type Chance struct{ AtLeast, AtMost float64 }

// Known reports whether the two bounds are one figure.
func (c Chance) Known() bool { return c.AtMost-c.AtLeast < 1e-9 }

// not is the chance of the contrary.
func (c Chance) not() Chance { return Chance{1 - c.AtMost, 1 - c.AtLeast} }

// plus is the chance that one of two events happens, which exclude each other.
func (c Chance) plus(o Chance) Chance {
	return Chance{math.Min(1, c.AtLeast+o.AtLeast), math.Min(1, c.AtMost+o.AtMost)}
}

// overOn returns the chance that the water holds more than a value, which is in the
// unit of the scale, from the posterior of places on that scale (JCGM 106:2012, 7.2).
// Of a value past an end of the chart only one bound is known: what lies on the
// chart's side of it.
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

// outsideOf returns the chance that the water's value is under low, and the chance
// that it is over high.
func outsideOf(p calib.Posterior, a charts.Analyte, low, high float64) (under, over Chance) {
	return overOn(p, a, low).not(), overOn(p, a, high)
}
