package page

import (
	"encoding/json"
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// The rows of the demonstration are shown in order, each with its pale end; one marked
// the other way round has that end at the other side.
func TestRowsOfTheDemo(t *testing.T) {
	r := start(t, "kitchen.jpg", "kitchen.marks.json")
	status, body := r.post("api/photos/1/rows", r.kitchen())
	got := ok[rowsAnswer](t, status, body).Rows
	require.Len(t, got, 3)
	for i, want := range []rowShown{
		{Analyte: "nitrate", Palest: charts.PalestLowest}, {Analyte: "total hardness", Palest: charts.PalestNeither}, {Analyte: "pH", Palest: charts.PalestNeither},
	} {
		assert.Equal(t, want.Analyte, got[i].Analyte)
		assert.Equal(t, want.Palest, got[i].Palest, want.Analyte)
		assert.Empty(t, got[i].Against)
		require.Len(t, got[i].Cells, 6)
		assert.Contains(t, got[i].Cells[0].Picture, "api/photos/1/part?x=")
	}
	assert.Equal(t, "7 (6-9)", got[0].Cells[3].Label)
	assert.Equal(t, 25.0, got[0].Cells[5].Value)

	back := r.kitchen()
	back.Marks = reversed(t, r, "nitrate")
	status, body = r.post("api/photos/1/rows", back)
	turned := ok[rowsAnswer](t, status, body).Rows
	assert.Equal(t, charts.PalestHighest, turned[0].Palest)
	assert.NotEqual(t, got[0].Cells[0].Picture, turned[0].Cells[0].Picture)
	assert.Contains(t, turned[0].Against, "the swatch marked 25 is paler than the one marked 0")
}

// reversed are the demonstration's marks with the swatches of a row marked the other
// way round.
func reversed(t *testing.T, r *run, analyte string) json.RawMessage {
	t.Helper()
	status, body := r.post("api/photos/1/reading", r.kitchen())
	placed := ok[readingAnswer](t, status, body).Placed
	return changed(t, r.kitchen().Marks, func(m map[string]any) {
		row := placed[:0:0]
		for _, p := range placed {
			if p.Analyte == analyte {
				row = append(row, p)
			}
		}
		for i, p := range row {
			m["regions"] = append(m["regions"].([]any), map[string]any{
				"role": "swatch", "analyte": analyte, "value": p.Value, "polygon": row[len(row)-1-i].Polygon,
			})
		}
	})
}

// Rows that are not marked whole are not shown.
func TestRowsWait(t *testing.T) {
	r := start(t, "kitchen.jpg", "kitchen.marks.json")
	for want, keep := range map[int]func(role, analyte string) bool{
		0: func(role, analyte string) bool { return role == "white" },
		1: func(role, analyte string) bool { return role == "white" || analyte == "pH" },
	} {
		w := r.kitchen()
		w.Marks = regionsOf(t, w.Marks, keep)
		status, body := r.post("api/photos/1/rows", w)
		assert.Len(t, ok[rowsAnswer](t, status, body).Rows, want)
	}
}

// A photo that is open is told again to a page that was loaded again.
func TestAPhotoAgain(t *testing.T) {
	r := start(t, "kitchen.jpg")
	status, body := r.get("api/photos/1")
	assert.Equal(t, "kitchen.jpg", ok[PhotoInfo](t, status, body).Name)
	status, body = r.get("api/photos/7")
	assert.Contains(t, refused(t, http.StatusNotFound, status, body).Error, "no longer open")
}
