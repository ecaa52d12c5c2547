package page

import (
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// byDaylight is the demo photo's work with the light said, which a chart may remember by.
func (r *run) byDaylight() work {
	r.t.Helper()
	w := r.kitchen()
	w.Marks = sampled(r.t, w.Marks, func(sample map[string]any) { sample["light"] = "daylight" })
	return w
}

// sampled are marks with what they say of the sample edited.
func sampled(t *testing.T, marks []byte, edit func(sample map[string]any)) json.RawMessage {
	t.Helper()
	return changed(t, marks, func(m map[string]any) { edit(m["sample"].(map[string]any)) })
}

// remembering is the work with colours in its chart, as the page puts them there.
func remembering(t *testing.T, w work, colours json.RawMessage) work {
	t.Helper()
	w.Chart = changed(t, w.Chart, func(m map[string]any) { m["print_colours"] = []json.RawMessage{colours} })
	return w
}

func (r *run) coloursOf(w work) json.RawMessage {
	r.t.Helper()
	status, body := r.post("api/photos/1/reading", w)
	return ok[readingAnswer](r.t, status, body).Colours
}

// The chart may take a bottle's colours from a clear photo of all its rows, by daylight
// that was said, of a lot that was said, and only once.
func TestColoursAreOffered(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.byDaylight()
	colours := r.coloursOf(w)
	var got struct {
		Lot, Day, Light string
		Swatches        []any
	}
	require.NoError(t, json.Unmarshal(colours, &got))
	assert.Equal(t, []any{"OW-2418", "2026-11-14", "daylight"}, []any{got.Lot, got.Day, got.Light})
	assert.Len(t, got.Swatches, 18, "three rows of six")

	none := map[string]work{"no light": r.kitchen(), "known": remembering(t, w, colours)}
	for name, edit := range map[string]func(sample map[string]any){
		"no lot":     func(s map[string]any) { delete(s, "kit") },
		"other lamp": func(s map[string]any) { s["light"] = "tube" },
	} {
		none[name] = work{Marks: sampled(t, w.Marks, edit), Chart: w.Chart}
	}
	none["not all rows"] = work{Marks: regionsOf(t, w.Marks, func(_, analyte string) bool { return analyte != "pH" }), Chart: w.Chart}
	none["nobody looked"] = work{Marks: changed(t, w.Marks, func(m map[string]any) { m["checked"] = false }), Chart: w.Chart}
	for name, w := range none {
		assert.Equal(t, "null", string(r.coloursOf(w)), name)
	}
}

// The saved chart is the file that it was, with the colours in it, and stays the same
// chart to the reading; it is found again, and the colours can be taken out again.
func TestSaveOfRememberedColours(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.byDaylight()
	type hashed struct {
		Chart struct{ SHA256 string }
	}
	chartHash := func(w work) string {
		status, body := r.post("api/photos/1/reading", w)
		a := ok[readingAnswer](t, status, body)
		assert.NotContains(t, a.HTML, "other-light")
		assert.NotContains(t, a.HTML, "new-bottle")
		return ok[hashed](t, http.StatusOK, []byte(a.JSON)).Chart.SHA256
	}
	own, _ := charts.BundledFile("orchard-well")
	was := chartHash(w)
	kept := remembering(t, w, r.coloursOf(w))
	assert.NotEmpty(t, was)
	assert.Equal(t, was, chartHash(kept))

	status, body := r.post("api/photos/1/save", kept)
	assert.Contains(t, string(body), "kitchen.chart.json")
	require.Equal(t, http.StatusOK, status)
	data, err := os.ReadFile(filepath.Join(r.folder, "kitchen.chart.json"))
	require.NoError(t, err)
	assert.Contains(t, string(data), `"print_colours"`)
	assert.Equal(t, string(own), string(charts.Forget(data)))

	kept.Force = true
	status, body = r.post("api/photos/1/save", kept)
	assert.Equal(t, http.StatusOK, status, "%s", body)
	again, err := os.ReadFile(filepath.Join(r.folder, "kitchen.chart.json"))
	require.NoError(t, err)
	assert.Equal(t, string(data), string(again))

	w.Force = true
	status, body = r.post("api/photos/1/save", w)
	assert.Equal(t, http.StatusOK, status, "%s", body)
	plain, err := os.ReadFile(filepath.Join(r.folder, "kitchen.chart.json"))
	require.NoError(t, err)
	assert.Equal(t, string(own), string(plain), "forgotten")
}

// A chart's file for each of two bottles is one chart, and the next photo has the one that
// remembers both.
func TestTheChartThatRemembersMore(t *testing.T) {
	own, _ := charts.BundledFile("orchard-well")
	swatch := charts.PrintColour{Analyte: "pH", Value: 7, Part: 1, Lab: [3]float64{74, 1, 31}}
	one, err := charts.Remember(own, charts.PrintColours{Lot: "A", Day: "2026-11-14", Light: charts.LampDaylight, Swatches: []charts.PrintColour{swatch}})
	require.NoError(t, err)
	two, err := charts.Remember(one, charts.PrintColours{Lot: "B", Day: "2026-11-24", Light: charts.LampDaylight, Swatches: []charts.PrintColour{swatch}})
	require.NoError(t, err)
	for _, files := range []map[string][]byte{
		{"a.chart.json": one, "b.chart.json": two}, {"a.chart.json": two, "b.chart.json": one}, {"a.chart.json": own, "b.chart.json": two},
	} {
		r := start(t, "kitchen.jpg")
		for name, data := range files {
			require.NoError(t, os.WriteFile(filepath.Join(r.folder, name), data, 0o600))
		}
		w := r.kitchen()
		assert.JSONEq(t, string(two), string(w.Chart))
		status, body := r.post("api/photos/1/save", w)
		assert.Equal(t, []string{"kitchen.marks.json", "kitchen.reading.json"}, ok[kept](t, status, body).Files, "it is found without a file of its own")
	}
}

// What the swatches tell against the chart's memory stands in the page's reading.
func TestReadingAgainstRememberedColours(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.byDaylight()
	colours := r.coloursOf(w)
	read := func(w work) readingAnswer {
		status, body := r.post("api/photos/1/reading", w)
		return ok[readingAnswer](t, status, body)
	}
	next := remembering(t, w, colours)
	next.Marks = sampled(t, w.Marks, func(s map[string]any) { s["kit"].(map[string]any)["lot"] = "OW-3000" })
	a := read(next)
	assert.Contains(t, a.HTML, `data-code="new-bottle"`)
	assert.Contains(t, string(a.Colours), "OW-3000", "it may be remembered too")

	faded := changed(t, colours, func(m map[string]any) {
		for i, s := range m["swatches"].([]any) {
			lab := s.(map[string]any)["lab"].([]any)
			lab[1] = lab[1].(float64) + []float64{14, -9, 11}[i%3]
		}
	})
	a = read(remembering(t, w, faded))
	assert.Regexp(t, `data-code="(other-light|other-chart|altered-photo)"`, a.HTML)
	assert.Contains(t, a.HTML, "These colours do not fit what this bottle (lot OW-2418) showed on 2026-11-14 by daylight")
	assert.Regexp(t, `"code":"(other-light|other-chart|altered-photo)"`, a.JSON)
}
