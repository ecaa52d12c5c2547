package page

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// regionsOf edits the regions of marks: those are kept that keep says yes to.
func regionsOf(t *testing.T, marks []byte, keep func(role, analyte string) bool) json.RawMessage {
	t.Helper()
	return changed(t, marks, func(m map[string]any) {
		out := []any{}
		for _, r := range m["regions"].([]any) {
			f := r.(map[string]any)
			analyte, _ := f["analyte"].(string)
			if keep(f["role"].(string), analyte) {
				out = append(out, r)
			}
		}
		m["regions"] = out
	})
}

func TestReadingOfTheDemo(t *testing.T) {
	r := start(t, "kitchen.jpg", "kitchen.marks.json")
	status, body := r.post("api/photos/1/reading", r.kitchen())
	got := ok[readingAnswer](t, status, body)
	assert.True(t, got.Complete)
	assert.Empty(t, got.Pending)
	assert.True(t, json.Valid([]byte(got.JSON)))
	assert.NotContains(t, got.JSON, "\n")
	for _, analyte := range []string{"nitrate", "total hardness", "pH"} {
		assert.Contains(t, got.HTML, `data-analyte="`+analyte+`"`)
	}
	assert.Contains(t, got.HTML, `src="api/photos/1/part?x=`)
	assert.Contains(t, got.Say, "Nitrate: ")
	assert.Len(t, got.Placed, 18, "the chart's swatches by its corners: three rows of six")
	for _, p := range got.Placed {
		assert.Equal(t, "swatch", string(p.Role))
		assert.GreaterOrEqual(t, len(p.Polygon), 3)
	}
	status, body = r.post("api/photos/1/rows", r.kitchen())
	assert.Equal(t, got.Placed, ok[rowsAnswer](t, status, body).Placed, "to be looked at before there is a reading")
}

// Analytes that are not all marked yet wait, named; the others are read.
func TestReadingGrows(t *testing.T) {
	r := start(t, "kitchen.jpg")
	all := r.kitchen()
	for _, c := range []struct {
		keep    func(role, analyte string) bool
		pending []pendingEntry
		reads   string
	}{
		{func(role, a string) bool { return false }, []pendingEntry{{"nitrate", "mark its pad"}, {"total hardness", "mark its pad"}, {"pH", "mark its pad"}}, ""},
		{func(role, a string) bool { return role == "white" }, []pendingEntry{{"nitrate", "mark its pad"}, {"total hardness", "mark its pad"}, {"pH", "mark its pad"}}, ""},
		{func(role, a string) bool { return role == "white" || a == "pH" }, []pendingEntry{{"nitrate", "mark its pad"}, {"total hardness", "mark its pad"}}, "pH"},
		{func(role, a string) bool { return a == "nitrate" }, []pendingEntry{{"total hardness", "mark its pad"}, {"pH", "mark its pad"}}, "nitrate"},
	} {
		status, body := r.post("api/photos/1/reading", work{Marks: regionsOf(t, all.Marks, c.keep), Chart: all.Chart})
		got := ok[readingAnswer](t, status, body)
		assert.Equal(t, c.pending, got.Pending)
		assert.Equal(t, c.reads != "", got.HTML != "")
		assert.Equal(t, c.reads != "", got.JSON != "")
		assert.Equal(t, c.reads != "", strings.Contains(got.HTML, `data-analyte="`+c.reads+`"`) && c.reads != "")
	}
}

// Without corners a pad waits for its swatches: the next one is named, and the
// reading is not said to be complete.
func TestReadingNamesTheNextSwatch(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.kitchen()
	w.Marks = changed(t, w.Marks, func(m map[string]any) { delete(m, "corners") })
	status, body := r.post("api/photos/1/reading", w)
	got := ok[readingAnswer](t, status, body)
	assert.Equal(t, pendingEntry{"nitrate", "mark the swatch for 0"}, got.Pending[0])
	assert.Empty(t, got.JSON)
	assert.False(t, got.Complete)

	status, body = r.post("api/photos/1/reading", r.kitchen())
	placed := ok[readingAnswer](t, status, body).Placed
	w.Marks = changed(t, w.Marks, func(m map[string]any) {
		for _, p := range placed {
			if p.Analyte == "pH" {
				m["regions"] = append(m["regions"].([]any), p)
			}
		}
	})
	status, body = r.post("api/photos/1/reading", w)
	got = ok[readingAnswer](t, status, body)
	assert.Equal(t, []pendingEntry{{"nitrate", "mark the swatch for 0"}, {"total hardness", "mark the swatch for 0"}}, got.Pending)
	assert.Contains(t, got.HTML, `data-analyte="pH"`)
	assert.False(t, got.Complete, "two pads were left out")
}

// Marks and chart are files: what a file may not hold, the page may not send. No
// colour can come that way.
func TestWorkIsReadStrictly(t *testing.T) {
	r := start(t, "kitchen.jpg")
	good := r.kitchen()
	first := func(key string, v any) func(m map[string]any) {
		return func(m map[string]any) { m["regions"].([]any)[0].(map[string]any)[key] = v }
	}
	for want, w := range map[string]work{
		"regions[0].lab: ":          {Marks: changed(t, good.Marks, first("lab", []int{50, 0, 0})), Chart: good.Chart},
		"regions[0].rgb: ":          {Marks: changed(t, good.Marks, first("rgb", "#ff0000")), Chart: good.Chart},
		"colours: ":                 {Marks: changed(t, good.Marks, func(m map[string]any) { m["colours"] = []int{1} }), Chart: good.Chart},
		"reaches outside the photo": {Marks: changed(t, good.Marks, first("polygon", [][2]int{{0, 0}, {9000, 0}, {0, 9000}})), Chart: good.Chart},
		"analytes[0].swatches[0].lab: ": {Marks: good.Marks, Chart: changed(t, good.Chart, func(m map[string]any) {
			m["analytes"].([]any)[0].(map[string]any)["swatches"].([]any)[0].(map[string]any)["lab"] = 1
		})},
		"another photo":     {Marks: changed(t, good.Marks, func(m map[string]any) { m["photo"] = map[string]any{"sha256": strings.Repeat("0", 64)} }), Chart: good.Chart},
		"are for the chart": {Marks: changed(t, good.Marks, func(m map[string]any) { m["chart"] = "mill-spring" }), Chart: good.Chart},
		"is null":           {Chart: good.Chart},
	} {
		for _, call := range []string{"reading", "save", "files"} {
			status, body := r.post("api/photos/1/"+call, w)
			assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, want, call)
		}
	}
	status, body := r.post("api/photos/1/reading", good)
	assert.True(t, ok[readingAnswer](t, status, body).Complete)
}

// A chart described in words, marked by hand with its corners, learns where its
// swatches are; the corners alone then place them.
func TestLayoutFromMarks(t *testing.T) {
	r := start(t, "kitchen.jpg")
	all := r.kitchen()
	status, body := r.post("api/photos/1/reading", all)
	placed := ok[readingAnswer](t, status, body).Placed
	plain := changed(t, all.Chart, func(m map[string]any) { delete(m, "layout"); m["chart"] = "own"; m["version"] = "1" })
	byHand := changed(t, all.Marks, func(m map[string]any) {
		m["chart"] = "own"
		for _, p := range placed {
			m["regions"] = append(m["regions"].([]any), p)
		}
	})
	status, body = r.post("api/photos/1/reading", work{Marks: byHand, Chart: plain})
	hand := ok[readingAnswer](t, status, body)
	require.True(t, hand.Complete, "corners that the chart has no use for yet are no hindrance: %s", body)

	status, body = r.post("api/photos/1/layout", work{Marks: byHand, Chart: plain})
	learnt := ok[struct{ Chart json.RawMessage }](t, status, body).Chart
	cornersOnly := changed(t, all.Marks, func(m map[string]any) { m["chart"] = "own" })
	status, body = r.post("api/photos/1/reading", work{Marks: cornersOnly, Chart: learnt})
	again := ok[readingAnswer](t, status, body)
	require.Len(t, again.Placed, len(placed))
	for i, p := range again.Placed {
		for k, q := range p.Polygon {
			assert.InDelta(t, placed[i].Polygon[k][0], q[0], 0.15)
			assert.InDelta(t, placed[i].Polygon[k][1], q[1], 0.15)
		}
	}

	status, body = r.post("api/photos/1/layout", work{Marks: cornersOnly, Chart: plain})
	assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "mark the swatches first")
	noCorners := changed(t, byHand, func(m map[string]any) { delete(m, "corners") })
	status, body = r.post("api/photos/1/layout", work{Marks: noCorners, Chart: plain})
	assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "four corners")
}

// A chart as it is typed becomes one of the list; a wrong field is named.
func TestDescribedChart(t *testing.T) {
	r := start(t)
	typed := func(values string) map[string]any {
		return map[string]any{"title": "Shed strips", "analytes": []map[string]string{{"name": "nitrate", "unit": "mg/L", "as": "N", "values": values}}}
	}
	status, body := r.post("api/charts", typed("0, 1, x"))
	assert.Equal(t, "analytes.0.values", refused(t, http.StatusUnprocessableEntity, status, body).Field)
	status, body = r.post("api/charts", typed("0, 1, 3, 7 (6-9), 12"))
	made := ok[struct{ Chart json.RawMessage }](t, status, body).Chart
	status, listed := r.get("api/charts")
	list := ok[[]ChartInfo](t, status, listed)
	assert.Equal(t, ChartInfo{Name: "shed-strips", Title: "Shed strips", From: "this page", Analytes: []string{"nitrate"}}, list[0])
	status, body = r.get("api/charts/shed-strips")
	require.Equal(t, http.StatusOK, status)
	assert.JSONEq(t, string(made), string(body))
	names := map[string]string{}
	for _, c := range list {
		names[c.Name] = c.From
	}
	assert.Equal(t, map[string]string{"shed-strips": "this page", "orchard-well": "bundled", "mill-spring": "bundled"}, names)
}
