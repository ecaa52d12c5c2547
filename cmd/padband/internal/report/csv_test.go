package report

import (
	"encoding/csv"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/cmd/padband/internal/report/reporttest"
)

// table reads a CSV back by the standard library's reader: a map of columns a row.
func table(t *testing.T, s Source) (rows []map[string]string) {
	t.Helper()
	data, err := CSV(s)
	require.NoError(t, err)
	all, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	require.NoError(t, err)
	for _, r := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = r[i]
		}
		require.Len(t, row, len(all[0]), "each column has its own name")
		rows = append(rows, row)
	}
	return rows
}

func TestCSV(t *testing.T) {
	r := reporttest.Nitrate()
	r.Warnings = []calib.Warning{{Code: "glare"}, {Code: "noisy"}}
	s := source(r, reporttest.PresencePad(0.3))
	s.Light = lit(calib.Good, "shadow")
	data, err := CSV(s)
	require.NoError(t, err)
	first, _, _ := strings.Cut(string(data), "\n")
	assert.Equal(t, strings.Join(csvHeader, ","), first)
	rows := table(t, s)
	require.Len(t, rows, 2)
	for column, want := range map[string]string{
		"photo": "kitchen.jpg", "taken": "2026-11-14T08:41:10-05:00", "analyte": "nitrate", "unit": "mg/L", "as": "N",
		"range": "within", "value": "5",
		"band_low": "4", "band_high": "6", "water_low": "3", "water_high": "7", "kit_error": "assumed",
		"bracket_low": "3", "bracket_high": "7",
		"presence_probability": "", "reliability": "good", "warnings": "glare noisy shadow", "chart": "orchard-well", "chart_version": "2",
		"photo_sha256": "aa", "chart_sha256": "cc", "program": "padband 1.2.3",
	} {
		assert.Equal(t, want, rows[0][column], column)
	}
	assert.Equal(t, "0.3", rows[1]["presence_probability"])
	assert.Empty(t, rows[1]["value"], "a missing figure")
	assert.Empty(t, rows[0]["light_said"]+rows[0]["water_said"], "nobody said")
	s.Sample.Light, s.Sample.Water = charts.LampTube, charts.WaterTint
	for _, row := range table(t, s) {
		assert.Equal(t, "tube tint", row["light_said"]+" "+row["water_said"])
		assert.Equal(t, "yes", row["marks_checked"])
	}
	s.Unchecked = true
	for _, row := range table(t, s) {
		assert.Equal(t, "no", row["marks_checked"])
	}
}

func TestCSVOpenEndsAreEmpty(t *testing.T) {
	r := reporttest.Nitrate()
	r.Band.High.Open, r.WaterBand.Low.Open, r.Value = true, true, math.NaN()
	row := table(t, source(r))[0]
	assert.Equal(t, []string{"4", "", "", "7", ""}, []string{row["band_low"], row["band_high"], row["water_low"],
		row["water_high"], row["value"]})
}

// A text that begins as a formula does is kept from being one; a figure below
// zero stays a figure.
func TestCSVHoldsNoFormula(t *testing.T) {
	for text, want := range map[string]string{
		"=1+1": "'=1+1", "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'=1", " \r\n=1": "'=1", "＝1": "'＝1", "＠x": "'＠x",
		"a=1": "a=1", "": "", `a"b,c`: `a"b,c`, "two\nlines": "two lines", "'x": "'x",
	} {
		r := reporttest.Nitrate()
		r.Analyte.Name, r.Analyte.Unit, r.Analyte.As = text, text, text
		r.Value, r.Bracket = -4.5, [2]float64{-7, 3}
		s := source(r)
		s.File, s.Photo.Taken, s.Chart.Name, s.Chart.Version = text, text, text, text
		row := table(t, s)[0]
		for _, c := range []string{"photo", "taken", "analyte", "unit", "as", "chart", "chart_version"} {
			assert.Equal(t, want, row[c], c)
		}
		assert.Equal(t, "-4.5", row["value"])
		assert.Equal(t, "-7", row["bracket_low"])
	}
}
