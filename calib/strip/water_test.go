package strip

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/charts/units"
	"padband/colorimetry"
)

// demoIn reads a demo photo whose water looked so, with a region as wet white if one is
// given.
func demoIn(t *testing.T, water charts.Water, wet ...charts.Mark) *Result {
	t.Helper()
	data, err := os.ReadFile(demo + "kitchen.jpg")
	require.NoError(t, err)
	m := demoMarks(t, "kitchen.jpg")
	m.Sample.Water = water
	m.Regions = append(m.Regions, wet...)
	r, err := Read(Input{Photo: data, Chart: demoChart(t), Marks: m})
	require.NoError(t, err)
	return r
}

// The word for the water and the wet white reach every reading, and clear water leaves
// all as it is.
func TestWaterReachesTheReadings(t *testing.T) {
	plain := readDemo(t, "kitchen.jpg")
	// Bare card between two white areas, as clear water leaves it.
	card := colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: 205, Y: 580}, {X: 50, Y: 80}}}
	wet := charts.Mark{Role: charts.RoleWetWhite, Material: "filter", Region: card}
	for water, named := range map[charts.Water]bool{charts.WaterUnsaid: false, charts.WaterClear: false, charts.WaterTint: false,
		charts.WaterDark: true, charts.WaterCloudy: true} {
		for _, marks := range [][]charts.Mark{nil, {wet}} {
			r := demoIn(t, water, marks...)
			for k, x := range r.Readings {
				got := false
				for _, w := range x.Warnings {
					got = got || w.Code == calib.CodeColouredWater
				}
				assert.Equal(t, named, got, "%s", water)
				assert.Equal(t, named, x.Reliability == calib.Unreliable, "%s", water)
				switch {
				case named || water == charts.WaterTint:
				case marks == nil:
					assert.Equal(t, plain.Readings[k], x, "%s", water)
				default: // what is wet is no white to see the light by
					assert.InEpsilon(t, plain.Readings[k].Value, x.Value, 0.01, "%s", water)
				}
			}
		}
	}
}

// What coloured or cloudy water holds is in its dilution too: the other strip's word is not
// lost.
func TestColouredWaterIsStillColouredWhenDiluted(t *testing.T) {
	d, err := units.ParseDilution("1+1")
	require.NoError(t, err)
	for water, named := range map[charts.Water]bool{charts.WaterUnsaid: false, charts.WaterDark: true, charts.WaterCloudy: true} {
		r := answered(t, readDemo(t, "kitchen.jpg"), Ask{Dilution: &d, Pure: demoIn(t, water).Readings})
		for _, x := range r.Readings {
			if x.Analyte.Unit == "pH" { // is not diluted
				continue
			}
			got := false
			for _, w := range x.Warnings {
				got = got || w.Code == calib.CodeColouredWater
			}
			assert.Equal(t, named, got, "%s %s", x.Analyte.Name, water)
			assert.Equal(t, named, x.Reliability != calib.Good, "%s %s", x.Analyte.Name, water)
		}
	}
}
