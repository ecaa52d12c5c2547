package report

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/reading"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// strips are two photos of one strip with an invented reading from each: one in time,
// and one of a pad without a window.
func strips() OneStripSource {
	timed := reporttest.Changed(func(r *calib.Reading) { r.Analyte.ReadWindow = &[2]float64{45, 75} })
	free := reporttest.Changed(func(r *calib.Reading) { r.Analyte.Name, r.Analyte.ReadWindow = "copper", nil })
	early := &strip.Result{Photo: &photo.Photo{Facts: photo.Facts{SHA256: "1", Taken: "2026-11-14T08:40:40-05:00"}}}
	late := &strip.Result{Photo: &photo.Photo{Facts: photo.Facts{SHA256: "2"}}}
	late.Marks.Unchecked = true
	late.Marks.Sample = charts.SampleInfo{Taken: "2026-11-14T08:41:05-05:00", Light: charts.LampDaylight}
	late.Light.Warnings = []calib.Warning{{Code: calib.CodeShadow, Seen: "There is a shadow."}}
	return OneStripSource{Files: []string{"a.jpg", "b.jpg"}, Version: "1", Joined: &strip.Joined{
		Chart:    charts.Chart{Name: "orchard", Title: "Orchard"},
		Photos:   []strip.Timed{{Result: early, Seconds: 40}, {Result: late, Index: 1, Seconds: 65}},
		Readings: []calib.Reading{timed, free},
		Picks:    []strip.Pick{{Photo: 1, InTime: true, Passed: []int{0}}, {Photo: 0, InTime: true}},
		Meanings: make([]strip.Meaning, 2),
		Notes:    []charts.Note{{Code: charts.NoteNoPad, Analyte: "pH", Text: "no pad is marked for pH: skipped"}},
	}}
}

func TestOneStripText(t *testing.T) {
	text := OneStripText(strips())
	assert.True(t, strings.HasPrefix(text, "2 photos of one strip, read against \"Orchard\"\n"+
		"  a.jpg, taken 2026-11-14 08:40:40 -05:00, 40 s after the dip\n"+
		"  b.jpg, taken 2026-11-14 08:41:05 -05:00, 65 s after the dip. As was said:\n    taken by daylight.\n\nNitrate"), text)
	assert.Contains(t, text, "\n  From b.jpg, taken 65 s after the dip; this pad is read at 45 to 75 s.\n"+
		"  Nearer in time, but not to be used for this pad: a.jpg.\n")
	assert.Contains(t, text, "\n\nThe photo b.jpg\n  - There is a shadow. [shadow]\n")
	assert.NotContains(t, text, "The photo a.jpg")
	assert.Contains(t, text, "\n\nNot read\n  - no pad is marked for pH: skipped\n")
	for _, l := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, utf8.RuneCountInString(l), 80, l)
	}
	s := strips()
	s.Picks[0].Photo = 0 // then no pad is read in that shadow
	assert.NotContains(t, OneStripText(s), "shadow")
}

// What reads reading files finds the readings of a strip too.
func TestOneStripJSON(t *testing.T) {
	data, err := OneStripJSON(strips())
	require.NoError(t, err)
	f, err := reading.Parse(data)
	require.NoError(t, err)
	require.Len(t, f.Readings, 2)
	assert.Equal(t, "nitrate", f.Readings[0].Analyte)
	assert.Equal(t, reading.OfPad(strips().Readings[0], strip.Meaning{}).Band, f.Readings[0].Band)

	var d struct {
		OneStrip []map[string]any `json:"one_strip"`
		Readings []map[string]any `json:"readings"`
	}
	require.NoError(t, json.Unmarshal(data, &d))
	require.Len(t, d.OneStrip, 2)
	for i, want := range []map[string]any{
		{"file": "a.jpg", "sha256": "1", "after_dip_s": 40.0, "marks_unchecked": nil},
		{"file": "b.jpg", "sha256": "2", "after_dip_s": 65.0, "marks_unchecked": true},
	} {
		for k, v := range want {
			assert.Equal(t, v, d.OneStrip[i][k], k)
		}
	}
	for i, want := range []map[string]any{
		{"photo": "b.jpg", "after_dip_s": 65.0, "read_window_s": []any{45.0, 75.0}, "in_time": true, "passed_over": []any{"a.jpg"}},
		{"photo": "a.jpg", "after_dip_s": 40.0, "read_window_s": nil, "in_time": nil, "passed_over": nil},
	} {
		for k, v := range want {
			assert.Equal(t, v, d.Readings[i][k], k)
		}
	}
}

// On a page each section says which photo it is from, and has that photo's pictures.
func TestOneStripHTML(t *testing.T) {
	s := strips()
	s.Photos[0].Index, s.Photos[1].Index = 1, 0 // as when they were given the other way round
	s.Files = []string{"photo 2", "photo 1"}
	page, err := OneStripHTML(s, func(int, colorimetry.Region) string { return "" })
	require.NoError(t, err)
	assert.Contains(t, page, "From photo 1, taken 65 s after the dip; this pad is read at 45 to 75 s.")
	assert.Contains(t, page, "From photo 2, taken 40 s after the dip. The chart gives no time for this pad")
	assert.Equal(t, 1, strings.Count(page, ` id="reading-1"`))
	assert.Equal(t, 1, strings.Count(page, ` id="reading-2"`))
	nitrate, copper := strings.Index(page, `data-analyte="nitrate"`), strings.Index(page, `data-analyte="copper"`)
	require.Less(t, nitrate, copper)
	assert.Contains(t, page[nitrate:copper], `data-photo="0"`)
	assert.Contains(t, page[copper:], `data-photo="1"`)
	assert.Contains(t, page, ">Photo 1</h3>")
	assert.Contains(t, page, "There is a shadow.")
	assert.Contains(t, page, "Figures of photo 2")
	assert.Contains(t, page, "no pad is marked for pH")
	assert.Contains(t, page, words.OneStripMeaning)
}
