package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/colorimetry/photo"
)

// A source holds all that strip says, and its line is the format's.
func TestOf(t *testing.T) {
	want := source(reporttest.Nitrate())
	want.Notes, want.Placed = []charts.Note{{Text: "a note"}}, reporttest.Marked(want.Readings[0], 1)
	got := Of("kitchen.jpg", "cc", "1.2.3", &strip.Result{
		Photo: &photo.Photo{Width: 4032, Height: 3024, Facts: photo.Facts{SHA256: "aa", Profile: "Display P3",
			Taken: "2026-11-14T08:41:10-05:00"}},
		Chart:  charts.Chart{Name: "orchard-well", Version: "2", Title: "Orchard well"},
		Light:  calib.LightReport{Reliability: calib.Good, CCT: 5210.123, Duv: 0.0020004, Unevenness: 0.08},
		Placed: want.Placed, Readings: []calib.Reading{reporttest.Nitrate()}, Notes: []charts.Note{{Text: "a note"}},
	})
	line, err := got.JSON()
	require.NoError(t, err)
	f, err := reading.Parse(line)
	require.NoError(t, err)
	assert.Equal(t, "kitchen.jpg", f.Photo.File)
	assert.Equal(t, "cc", f.Chart.SHA256)
	assert.Equal(t, "1.2.3", f.Program.Version)
	got.result = nil
	assert.Equal(t, want, got)
	assert.NotContains(t, string(line), "\n")
}
