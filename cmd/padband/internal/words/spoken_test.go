package words

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/charts"
)

func TestSpoken(t *testing.T) {
	swatches := []calib.SwatchColour{}
	for _, v := range []float64{0.5, 1, 3, 7, 12} {
		swatches = append(swatches, calib.SwatchColour{Value: v})
	}
	scale := func(value float64, r calib.Range, word calib.Reliability) calib.Reading {
		return calib.Reading{
			Analyte: charts.Analyte{Name: "nitrate", Unit: "mg/L", Kind: charts.KindScale}, Value: value, Range: r,
			Reliability: word, Swatches: swatches,
			Bracket: [2]float64{3, 7}, Band: calib.Band{Low: calib.Bound{Value: 5.1}, High: calib.Bound{Value: 6.9}},
		}
	}
	lines := charts.Analyte{Name: "iron\nlines", Kind: charts.KindPresence}
	for want, r := range map[string]calib.Reading{
		"Nitrate: 6.2, colour read as 5.1 to 6.9.":                          scale(6.2, calib.Within, calib.Good),
		"Nitrate: 6.2, colour read as 5.1 to 6.9. Do not use this reading.": scale(6.2, calib.Within, calib.Unreliable),
		"Nitrate: 12 or more. Doubtful reading.":                            scale(12, calib.Above, calib.Caution),
		"Nitrate: 0.5 or less.":                                             scale(0.5, calib.Below, calib.Good),
		"Iron lines: cannot tell. Doubtful reading.": {Analyte: lines, Value: math.NaN(), Reliability: calib.Caution,
			Swatches: swatches[:2]},
	} {
		assert.Equal(t, want, Spoken([]calib.Reading{r}, nil))
	}
	assert.Equal(t, "Nitrate: 0.5 or less. Nitrate: 0.5 or less.", Spoken([]calib.Reading{scale(0.5, calib.Below,
		calib.Good), scale(0.5, calib.Below, calib.Good)}, nil))
}
