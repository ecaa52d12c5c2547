package calib

import (
	"padband/charts/units"
)

// Converted is a reading in another unit. Value, bands and bracket are all multiplied
// by one factor, so the bands cover as much as before.
type Converted struct {
	Unit            units.Unit
	Value           float64 // NaN where the reading has none
	Band, WaterBand Band
	Bracket         [2]float64
}

// In returns the reading in another unit. The error is a [*units.Error]: a
// pH is never converted, nor a figure that does not say what it is expressed as.
func (r Reading) In(u units.Unit) (Converted, error) {
	f, err := units.Factor(r.Analyte.Name, r.Analyte.Measure(), u)
	if err != nil {
		return Converted{}, err
	}
	return Converted{u, f.Of(r.Value), r.Band.times(f), r.WaterBand.times(f), [2]float64{f.Of(r.Bracket[0]), f.Of(r.Bracket[1])}}, nil
}

// times multiplies both ends of the band, and those of its hills, by a factor over 0.
func (b Band) times(f units.Ratio) Band {
	b.Low.Value, b.High.Value = f.Of(b.Low.Value), f.Of(b.High.Value)
	unconverted := b.Hills
	b.Hills = nil
	for _, h := range unconverted {
		b.Hills = append(b.Hills, [2]float64{f.Of(h[0]), f.Of(h[1])})
	}
	return b
}

// Undiluted turns a reading of diluted water into one of the water before it was
// mixed. Value and bands are multiplied by the factor, and the water band is widened
// by the error of measuring the water out; the colours of the pad stay as the photo
// shows them. Undiluted refuses pH and yes-or-no pads; the error is a [*units.Error].
func (r Reading) Undiluted(d units.Dilution) (Reading, error) {
	a, err := r.Analyte.Undiluted(d)
	if err != nil {
		return Reading{}, err
	}
	out := r
	out.Analyte = a
	out.Water = r.Water.Blur(func(t float64) float64 {
		const h = 0.5 / PerStep
		slope := (a.ValueAt(t+h) - a.ValueAt(t-h)) / (2 * h)
		if !(slope > 0) {
			return 0
		}
		return d.Error / 1.96 * a.ValueAt(t) / slope
	})
	out.Value, out.Range = out.value(r.Posterior.Quantile(0.5))
	out.Bracket = out.bracket(r.Posterior.Quantile(0.5))
	out.Band = out.band(out.Posterior)
	out.WaterBand = out.band(out.Water).Hull(out.Band)
	out.Swatches = append([]SwatchColour(nil), r.Swatches...)
	for i := range out.Swatches {
		out.Swatches[i].Value, out.Swatches[i].Label = a.Swatches[i].Value, ""
	}
	return out, nil
}
