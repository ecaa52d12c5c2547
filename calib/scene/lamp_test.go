package scene

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// publishedWhites reads CIE 15's published chromaticities of the lamps.
func publishedWhites(t *testing.T) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/checks/cie_whitepoint_check.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 28)
	return rows[1:]
}

func TestLampsHaveTheirPublishedWhites(t *testing.T) {
	const tolerance = 5.1e-5 // rounding of the published digits, as the table states
	for _, row := range publishedWhites(t) {
		lamp, err := lampNamed(row[0])
		require.NoError(t, err)
		v := newViewer(&lamp)
		c := v.white.Chromaticity()
		x, _ := strconv.ParseFloat(row[6], 64)
		y, _ := strconv.ParseFloat(row[7], 64)
		assert.InDelta(t, x, c.X, tolerance, "%s x", row[0])
		assert.InDelta(t, y, c.Y, tolerance, "%s y", row[0])
	}
}

func TestEveryLampOfTheClassesExists(t *testing.T) {
	for _, list := range [][]string{goodLamps, fairLamps, oddLamps} {
		for _, name := range list {
			_, err := lampNamed(name)
			assert.NoError(t, err, name)
		}
	}
}

// Daylight of 6504 K (6500 K before the constant c2 was changed) is D65 and
// of 5003 K D50: CIE 15:2018.
func TestDaylightIsTheTabledOne(t *testing.T) {
	for name, tabled := range map[string]string{"daylight 6503.62": "D65", "daylight 5002.78": "D50"} {
		made, err := lampNamed(name)
		require.NoError(t, err)
		want, err := lampNamed(tabled)
		require.NoError(t, err)
		for i := range made {
			assert.InDelta(t, want[i], made[i], 1e-4, "%s at %g nm", tabled, wavelength(i))
		}
	}
}

func TestUnknownLampsAreRefused(t *testing.T) {
	for _, name := range []string{"", "D51", "daylight", "daylight x", "daylight 3999", "daylight 25001", "daylight NaN"} {
		_, err := lampNamed(name)
		require.Error(t, err, name)
		assert.NotContains(t, err.Error(), "\n")
	}
}

func TestBrokenTablesAreRefused(t *testing.T) {
	for what, text := range map[string]string{
		"short":        "nm,A\n380,1\n",
		"long":         "nm,A\n" + strings.Repeat("380,1\n", bands+1),
		"not a number": "nm,A\n380,x\n",
		"ragged":       "nm,A,B\n380,1\n",
	} {
		_, err := parseTable(text)
		assert.Error(t, err, what)
	}
}

// A surface that reflects half of everything has L* 76.07 and no colour under
// any lamp: CIELAB, 116 (1/2)^(1/3) - 16.
func TestGreysAreGreyUnderEveryLamp(t *testing.T) {
	tables, err := cie()
	require.NoError(t, err)
	for name, lamp := range tables.lamps {
		v := newViewer(&lamp)
		got := v.lab(new(flat(0.5)))
		assert.Less(t, colorimetry.DeltaE76(got, colorimetry.Lab{L: 76.0693}), 1e-3, name)
	}
}
