package strip

import (
	"strings"
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

// Past twice the end of its window a pad is of no use; up to there it is doubtful. The
// photo was taken at 08:41:10, and nitrate is read at 45 to 75 s.
func TestPadTwiceAsOldAsItMayBeIsUnreliable(t *testing.T) {
	for dipped, want := range map[string]calib.Reliability{
		"2026-11-14T08:39:50-05:00": calib.Caution,    // 80 s
		"2026-11-14T08:38:40-05:00": calib.Caution,    // 150 s
		"2026-11-14T08:38:39-05:00": calib.Unreliable, // 151 s
		"2026-11-14T08:40:10-05:00": calib.Good,
	} {
		r := demoAt(t, func(s *charts.SampleInfo) { s.Dipped = dipped })
		assert.Equal(t, want, r.Readings[0].Reliability, dipped)
	}
}

// A late strip would be later still in another photo, so all advice to take one says
// that it takes a new strip. Advice without a photo stays as it is.
func TestAnotherPhotoOfALateStripTakesANewOne(t *testing.T) {
	again := calib.Warning{Code: calib.CodeBlurred, Then: "Hold the phone still, and take the photo again."}
	light := calib.Warning{Code: calib.CodeMixedLight, Then: "Use one of them alone, and take the photo again."}
	other := calib.Warning{Code: calib.CodeRowReversed, Then: "Check that each mark carries its own value."}
	early := charts.Analyte{Name: "chlorine", ReadWindow: &[2]float64{10, 25}}
	nitrate := charts.Analyte{Name: "nitrate", ReadWindow: &[2]float64{45, 75}}
	for seconds, late := range map[int][3]bool{20: {}, 26: {true, false, false}, 75: {true, false, false}, 76: {true, true, true}} {
		r := Result{Photo: &photo.Photo{}, Light: calib.LightReport{Warnings: []calib.Warning{light}}}
		for _, a := range []charts.Analyte{early, nitrate} {
			r.Readings = append(r.Readings, calib.Reading{Analyte: a, Warnings: []calib.Warning{again, other}})
		}
		dip := time.Date(2026, 11, 14, 8, 0, 0, 0, time.UTC)
		r.Marks.Sample.Dipped = dip.Format(time.RFC3339)
		r.Marks.Sample.Taken = dip.Add(time.Duration(seconds) * time.Second).Format(time.RFC3339)
		r.addTimes()
		for i, w := range []calib.Warning{r.Readings[0].Warnings[0], r.Readings[1].Warnings[0], r.Light.Warnings[0]} {
			assert.Equal(t, late[i], strings.HasSuffix(w.Then, "take the photo again. "+newStrip), "%d s, %d: %s", seconds, i, w.Then)
		}
		assert.Equal(t, other, r.Readings[0].Warnings[1])
	}
	assert.Contains(t, newStrip, "with a new strip")
}

// The cellar's glare on its first pad asks for another photo: read late, of a new strip.
func TestLateDemoAsksForANewStrip(t *testing.T) {
	r := readDemo(t, "cellar.jpg")
	m := r.Marks
	for dipped, want := range map[string]bool{"2026-11-14T09:11:00-05:00": true, "2026-11-14T09:11:35-05:00": false, "": false} {
		m.Sample.Dipped = dipped
		out, err := ReadPhoto(r.Photo, r.Chart, m, Ask{})
		require.NoError(t, err)
		seen, said := 0, 0
		for _, w := range out.Readings[0].Warnings {
			if f, _ := w.Code.Facts(); f.Again {
				seen++
				if strings.Contains(w.Then, newStrip) {
					said++
				}
			}
		}
		assert.Positive(t, seen)
		if want {
			assert.Equal(t, seen, said, dipped)
		} else {
			assert.Zero(t, said, dipped)
		}
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
