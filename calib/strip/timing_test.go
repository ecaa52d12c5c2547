package strip

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry/photo"
)

// demoAt reads the kitchen photo, taken 2026-11-14 at 08:41:10 -05:00, with
// another sample.
func demoAt(t *testing.T, change func(*charts.SampleInfo)) *Result {
	t.Helper()
	r := readDemo(t, "kitchen.jpg")
	m := r.Marks
	change(&m.Sample)
	r, err := ReadPhoto(r.Photo, r.Chart, m, Ask{})
	require.NoError(t, err)
	return r
}

func codesOf(r calib.Reading) []string {
	var out []string
	for _, w := range r.Warnings {
		out = append(out, string(w.Code))
	}
	return out
}

func TestReadWindow(t *testing.T) {
	// The bundled chart reads nitrate at 45 to 75 s.
	for dipped, code := range map[string]string{
		"2026-11-14T08:40:40-05:00": "early",
		"2026-11-14T08:40:10-05:00": "",
		"2026-11-14T13:40:10Z":      "", // the same moment, told from another zone
		"2026-11-14T08:30:10-05:00": "late",
		"2026-11-14T08:50:10-05:00": "early", // after the photo
	} {
		r := demoAt(t, func(s *charts.SampleInfo) { s.Dipped = dipped })
		got := codesOf(r.Readings[0])
		if code == "" {
			assert.NotContains(t, got, "early", dipped)
			assert.NotContains(t, got, "late", dipped)
			continue
		}
		assert.Contains(t, got, code, dipped)
		assert.NotEqual(t, calib.Good, r.Readings[0].Reliability, dipped)
	}
}

func TestKitDates(t *testing.T) {
	for _, c := range []struct {
		expires, opened string
		want            []string
	}{
		{"2026-11", "2026-09-01", nil}, // a month means its last day
		{"2026-11-14", "", nil},        // good to the end of that day
		{"2026-11-13", "", []string{"expired"}},
		{"2026-10", "", []string{"expired"}},
		{"2027-05", "2026-05-18", nil}, // 180 days, the chart's limit
		{"2027-05", "2026-05-17", []string{"open-too-long"}},
		{"2025-01", "2024-01-01", []string{"expired", "open-too-long"}},
	} {
		r := demoAt(t, func(s *charts.SampleInfo) { s.Kit.Expires, s.Kit.Opened = c.expires, c.opened })
		assert.Equal(t, c.want, codesOf(r.Readings[0]), c)
	}
}

// What is not known is said and leaves the reading as good as it looks.
func TestTimesThatNobodyGave(t *testing.T) {
	for _, c := range []struct {
		change func(*charts.SampleInfo)
		want   []string
	}{
		{func(s *charts.SampleInfo) { s.Dipped = "" }, []string{"no-dip-time"}},
		{func(s *charts.SampleInfo) { s.Kit.Expires = "" }, []string{"no-kit-date"}},
		{func(s *charts.SampleInfo) { *s = charts.SampleInfo{} }, []string{"no-dip-time", "no-kit-date"}},
		{func(*charts.SampleInfo) {}, nil},
	} {
		r := demoAt(t, c.change)
		for _, x := range r.Readings {
			assert.Equal(t, c.want, codesOf(x), x.Analyte.Name)
			assert.Equal(t, calib.Good, x.Reliability)
		}
	}
}

func TestPhotoTimeWithoutOffsetIsTheDipsOwn(t *testing.T) {
	local := time.Date(2026, 11, 14, 8, 41, 10, 0, time.UTC)
	facts := photo.Facts{Taken: "2026-11-14T08:41:10", TakenTime: local}
	s, ok := Elapsed(charts.SampleInfo{Dipped: "2026-11-14T08:40:10-05:00"}, facts)
	assert.True(t, ok)
	assert.InDelta(t, 60, s, 1e-9)
	_, ok = Elapsed(charts.SampleInfo{}, facts)
	assert.False(t, ok)
}
