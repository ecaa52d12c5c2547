package report

import (
	"math"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry"
)

// nitrate is an invented reading to start from: between 3 and 7.
func nitrate() calib.Reading {
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

// presencePad is an invented presence reading with the probability of its upper swatch.
func presencePad(yes float64) calib.Reading {
	r := nitrate()
	r.Analyte = charts.Analyte{Name: "coliforms", Kind: charts.KindPresence, Parts: 1, Swatches: []charts.Swatch{{Value: 0, Label: "none"}, {Value: 1, Label: "present"}}}
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

func source(readings ...calib.Reading) Source {
	return Source{
		File: "kitchen.jpg", ChartSHA256: "cc", Version: "1.2.3",
		Photo:    PhotoFacts{SHA256: "aa", Profile: "Display P3", Taken: "2026-11-14T08:41:10-05:00", Width: 4032, Height: 3024},
		Chart:    charts.Chart{Name: "orchard-well", Version: "2", Title: "Orchard well"},
		Light:    calib.LightReport{Reliability: calib.Good, CCT: 5210.123, Duv: 0.0020004, Unevenness: 0.08},
		Readings: readings,
	}
}
