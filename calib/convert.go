package calib

import (
	"padband/charts/units"
)

// Converted is a reading in another unit: value, bands and bracket, each times
// the one factor, so that coverage stays as it is.
type Converted struct {
	Unit            units.Unit
	Value           float64 // NaN where the reading has none
	Band, WaterBand Band
	Bracket         [2]float64
}

// In returns the reading in another unit. The error is a [*charts.UnitError]: a
// pH is never converted, nor a figure that does not say what it is expressed as.
func (r Reading) In(u units.Unit) (Converted, error) {
	f, err := units.Factor(r.Analyte.Name, r.Analyte.Measure(), u)
	if err != nil {
		return Converted{}, err
	}
	return Converted{u, f.Of(r.Value), r.Band.times(f), r.WaterBand.times(f), [2]float64{f.Of(r.Bracket[0]), f.Of(r.Bracket[1])}}, nil
}

// times is the band with both ends, and those of its hills, times a factor over 0.
func (b Band) times(f units.Ratio) Band {
	b.Low.Value, b.High.Value = f.Of(b.Low.Value), f.Of(b.High.Value)
	hills := b.Hills
	b.Hills = nil
	for _, h := range hills {
		b.Hills = append(b.Hills, [2]float64{f.Of(h[0]), f.Of(h[1])})
	}
	return b
}
