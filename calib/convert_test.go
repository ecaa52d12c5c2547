package calib

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/charts/units"
)

// Value and bands convert alike, open ends stay open, and back gives the same.
// The factor itself is held to published figures in charts; 4.42664 is nitrate
// as the ion over nitrate as nitrogen by the IUPAC 2021 atomic masses, 62.004
// over 14.007.
func TestReadingInAnotherUnit(t *testing.T) {
	r := Reading{
		Analyte: charts.Analyte{Name: "nitrate", Unit: "mg/L", As: "N"}, Value: 10,
		Band:      Band{Low: Bound{Value: 8}, High: Bound{Value: 12}, Coverage: 0.95, Hills: [][2]float64{{8, 9}, {11, 12}}},
		WaterBand: Band{Low: Bound{Value: 7}, High: Bound{Value: 25, Open: true}, Coverage: 0.95},
	}
	c, err := r.In(units.Unit{Name: "mg/L", As: "NO3"})
	require.NoError(t, err)
	within(t, 44.2664, c.Value, 1e-3, "value")
	within(t, 8*4.42664, c.Band.Low.Value, 1e-3, "low")
	within(t, 12*4.42664, c.Band.Hills[1][1], 1e-3, "hill")
	assert.True(t, c.WaterBand.High.Open)
	assert.Equal(t, 0.95, c.Band.Coverage)
	assert.Equal(t, 8.0, r.Band.Hills[0][0], "the reading is left as it is")
	r.Analyte.As = "NO3"
	r.Value = c.Value
	back, err := r.In(units.Unit{Name: "mg/L", As: "N"})
	require.NoError(t, err)
	within(t, 10, back.Value, 1e-12, "there and back")

	r.Analyte = charts.Analyte{Name: "pH", Unit: "pH"}
	_, err = r.In(units.Unit{Name: "mg/L"})
	assert.Error(t, err)
	r.Analyte, r.Value = charts.Analyte{Name: "nitrate", Unit: "mg/L"}, math.NaN()
	_, err = r.In(units.Unit{Name: "mg/L", As: "N"})
	assert.Error(t, err, "what it is expressed as is not said")
}
