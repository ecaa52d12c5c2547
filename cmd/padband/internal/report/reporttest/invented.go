// Package reporttest has invented readings, and takes pages apart, for the tests of
// words, drawings, pages and sheets. Start at [Nitrate] for a reading and at [Tree]
// for a page. Only tests import it.
package reporttest

import (
	"math"

	"padband/calib"
	"padband/calib/judge"
	"padband/charts"
	"padband/colorimetry"
)

// Nitrate is an invented reading to start from: between 3 and 7.
func Nitrate() calib.Reading {
	a := charts.Analyte{Name: "nitrate", Unit: "mg/L", As: "N", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
	r := calib.Reading{
		Value: 5, Range: calib.Within, Bracket: [2]float64{3, 7}, Reliability: calib.Good, KitAssumed: true,
		Band:      calib.Band{Low: calib.Bound{Value: 4}, High: calib.Bound{Value: 6}, Coverage: 0.95},
		WaterBand: calib.Band{Low: calib.Bound{Value: 3}, High: calib.Bound{Value: 7}, Coverage: 0.95},
		Pad:       []colorimetry.Lab{{L: 71.234567, A: 31, B: -4.1}}, DeltaEToScale: 1.9,
		Budget: []calib.Contribution{{Source: calib.SourceMismatch, Steps: 0.21}},
	}
	for _, v := range []float64{0, 1, 3, 7, 11} {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: v})
		r.Swatches = append(r.Swatches, calib.SwatchColour{Value: v, Lab: []colorimetry.Lab{{L: 90 - v, A: 2 * v, B: 0}}, DeltaE: 6.1})
	}
	r.Analyte = a
	return r
}

// PresencePad is an invented presence reading with the probability of its upper swatch.
func PresencePad(yes float64) calib.Reading {
	r := Nitrate()
	r.Analyte = charts.Analyte{Name: "coliforms", Kind: charts.KindPresence, Parts: 1,
		Swatches: []charts.Swatch{{Value: 0, Label: "none"}, {Value: 1, Label: "present"}}}
	r.Swatches = []calib.SwatchColour{{Value: 0, Label: "none"}, {Value: 1, Label: "present"}}
	r.Bracket, r.Yes, r.Value = [2]float64{0, 1}, yes, math.NaN()
	r.Band = calib.Band{Coverage: 0.95, High: calib.Bound{Value: 1}}
	switch {
	case yes >= 0.95:
		r.Value, r.Band.Low.Value = 1, 1
	case yes <= 0.05:
		r.Value, r.Band.High.Value = 0, 0
	}
	r.WaterBand = r.Band
	return r
}

// Changed is the invented nitrate reading with changes.
func Changed(change func(r *calib.Reading)) calib.Reading {
	r := Nitrate()
	change(&r)
	return r
}

// Forms are readings of every form a sheet has.
func Forms() []calib.Reading {
	return []calib.Reading{
		Nitrate(),
		Changed(func(r *calib.Reading) {
			r.Reliability = calib.Caution
			r.Warnings = []calib.Warning{{Code: calib.CodeGlare, Seen: "20 % of the pad shines. Tilt the phone.", Weight: calib.Caution}}
		}),
		Changed(func(r *calib.Reading) {
			r.Reliability, r.TooWide, r.Band.Hills = calib.Unreliable, true, [][2]float64{{4, 4.5}, {5.5, 6}}
		}),
		Changed(func(r *calib.Reading) {
			r.Range, r.Value, r.Bracket = calib.Above, 11, [2]float64{7, 11}
			r.Band.High, r.WaterBand.High = calib.Bound{Value: 11, Open: true}, calib.Bound{Value: 11, Open: true}
		}),
		Changed(func(r *calib.Reading) { r.Reliability = calib.Caution }), // because of the light
		PresencePad(0.999),
		PresencePad(0.3),
	}
}

// ScaleOf is an invented reading whose chart carries the values.
func ScaleOf(values ...float64) calib.Reading {
	r := Nitrate()
	r.Analyte.Swatches, r.Swatches = nil, nil
	for _, v := range values {
		r.Analyte.Swatches = append(r.Analyte.Swatches, charts.Swatch{Value: v})
		r.Swatches = append(r.Swatches, calib.SwatchColour{Value: v})
	}
	return r
}

// Marked is where a reading's marks lie in an invented photo: part k of the pad
// at (0, k), that of swatch i at (i+1, k).
func Marked(r calib.Reading, parts int) charts.Placed {
	at := func(x, k int) charts.Mark {
		return charts.Mark{Part: k + 1, Region: colorimetry.Region{Shape: colorimetry.Rect,
			Points: []colorimetry.Point{{X: float64(x), Y: float64(k)}, {X: 10, Y: 10}}}}
	}
	p := charts.PlacedAnalyte{Analyte: r.Analyte}
	for k := range parts {
		p.Pad = append(p.Pad, at(0, k))
	}
	for i := range r.Swatches {
		var sw []charts.Mark
		for k := range parts {
			sw = append(sw, at(i+1, k))
		}
		p.Swatches = append(p.Swatches, sw)
	}
	return charts.Placed{Pads: []charts.PlacedAnalyte{{Analyte: charts.Analyte{Name: "other"}}, p}}
}

// Ends2 is a band with two ends.
func Ends2(low, high float64) calib.Band {
	return calib.Band{Low: calib.Bound{Value: low}, High: calib.Bound{Value: high}, Coverage: 0.95}
}

// OpenLow is a band whose lower end is open.
func OpenLow(high float64) calib.Band {
	return calib.Band{Low: calib.Bound{Value: -20, Open: true}, High: calib.Bound{Value: high}, Coverage: 0.95}
}

// OpenHigh is a band whose upper end is open.
func OpenHigh(low float64) calib.Band {
	return calib.Band{Low: calib.Bound{Value: low}, High: calib.Bound{Value: 20, Open: true}, Coverage: 0.95}
}

// Changing is an invented change.
func Changing(direction judge.Direction, value float64, band, water calib.Band) judge.Change {
	return judge.Change{Value: value, Band: band, WaterBand: water, Direction: direction, Reliability: calib.Good}
}
