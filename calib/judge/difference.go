package judge

import (
	"errors"
	"fmt"
	"math"

	"padband/calib"
	"padband/charts"
)

// Direction says what two readings of one analyte show of the water from one to the
// other.
type Direction string

// Directions. The first two are given only when the difference's water band leaves
// zero out.
const (
	Rose       Direction = "rose"
	Fell       Direction = "fell"
	NotShown   Direction = "not shown to have changed"
	CannotTell Direction = "cannot tell" // a reading is unreliable
)

// Change is the difference of two readings, the later minus the earlier, in
// their unit.
type Change struct {
	Value     float64    // median; NaN when what lies past an end of a chart decides it
	Band      calib.Band // of reading the colours alone; its ends are open as a reading's are
	WaterBand calib.Band // with the strips' own errors: the direction rests on it
	// Rise and Fall are the least probabilities that the water rose and that it fell:
	// where what lies past an end of a chart could be either, it counts for neither.
	Rise, Fall  float64
	Direction   Direction
	Reliability calib.Reliability // the worse of the two
	KitAssumed  bool              // a chart does not state its strip's error
}

// Difference returns how much the later reading lies above the earlier one. The two
// readings are of different strips, and their errors are taken as independent, those
// of the strips themselves too (JCGM 101:2008, the model Y = X2 - X1; the distribution
// is worked out and not drawn). Strips of one lot, or photos of one chart, share a
// part of their error, and that part cancels: for them the band is wider than it need
// be, never narrower. The charts may differ. The error says why two readings cannot be
// subtracted: other analytes or units, or no scale.
func Difference(before, after calib.Reading) (Change, error) {
	if err := subtractable(before, after); err != nil {
		return Change{}, err
	}
	colour := subtract(pieces(before.Analyte, before.Posterior), pieces(after.Analyte, after.Posterior))
	water := subtract(pieces(before.Analyte, before.Water), pieces(after.Analyte, after.Water))
	band := colour.band()
	c := Change{
		Value: colour.median(band), Band: band,
		Rise: water.low.above(0), Fall: water.high.below(0),
		Reliability: before.Reliability.Worse(after.Reliability), KitAssumed: before.KitAssumed || after.KitAssumed,
	}
	c.WaterBand = water.band().Hull(c.Band)
	c.Direction = c.direction()
	return c, nil
}

func (c Change) direction() Direction {
	switch {
	case c.Reliability == calib.Unreliable:
		return CannotTell
	case !c.WaterBand.Low.Open && c.WaterBand.Low.Value > 0:
		return Rose
	case !c.WaterBand.High.Open && c.WaterBand.High.Value < 0:
		return Fell
	}
	return NotShown
}

func subtractable(a, b calib.Reading) error {
	x, y := a.Analyte, b.Analyte
	switch {
	case x.Name != y.Name:
		return fmt.Errorf("%s and %s are not the same; compare readings of one analyte", x.Name, y.Name)
	case x.Kind == charts.KindPresence || y.Kind == charts.KindPresence:
		return fmt.Errorf("%s is read as present or not, which has no difference; look at both readings", x.Name)
	case x.Unit != y.Unit || x.As != y.As:
		return fmt.Errorf("%s is in %s before and in %s after; read both with charts of one unit", x.Name, unitOf(x), unitOf(y))
	case len(a.Posterior.Mass) == 0 || len(b.Posterior.Mass) == 0:
		return errors.New(x.Name + ": a reading without its distribution has no difference; read its photo again")
	}
	return nil
}

func unitOf(a charts.Analyte) string {
	switch {
	case a.As != "":
		return a.Unit + " as " + a.As
	case a.Unit == "":
		return "no unit"
	}
	return a.Unit
}

// piece is a share of probability spread evenly from one value to another; the
// ends may be infinite for what lies past a chart.
type piece struct{ from, to, mass float64 }

// leastMass is the least share of probability that is worked with; what is smaller is
// dropped.
const leastMass = 1e-12

// pieces turns a posterior over steps into pieces over values.
func pieces(a charts.Analyte, p calib.Posterior) (out []piece) {
	for i, m := range p.Mass {
		t := p.Step(i)
		low, high := p.Cell(i)
		from, to := a.ValueAt(low), a.ValueAt(high)
		switch {
		case m < leastMass:
			continue
		case t < 0:
			from, to = math.Inf(-1), a.ValueAt(0)
		case t > p.Top:
			from, to = a.ValueAt(p.Top), math.Inf(1)
		}
		out = append(out, piece{from, to, m})
	}
	for len(out) > mostPieces {
		out = inPairs(out)
	}
	return out
}

// mostPieces caps the pieces of a distribution, because each piece of one is taken
// with each piece of the other. A chart of six swatches makes under 200.
const mostPieces = 400

// inPairs joins neighbouring pieces two by two; a piece past an end of the chart is
// not joined.
func inPairs(in []piece) (out []piece) {
	for i := 0; i < len(in); i++ {
		p := in[i]
		if i+1 < len(in) && p.from != math.Inf(-1) && in[i+1].to != math.Inf(1) {
			p.to, p.mass = in[i+1].to, p.mass+in[i+1].mass
			i++
		}
		out = append(out, p)
	}
	return out
}
