package words

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
)

// A time is said so that a second past the window shows, and an hour is no string of
// seconds.
func TestAfterDip(t *testing.T) {
	for seconds, want := range map[float64]string{
		0: "0 s after the dip", 75.6: "76 s after the dip", 599: "599 s after the dip", 600: "10 minutes after the dip",
		7199: "120 minutes after the dip", 7200: "2 hours after the dip",
	} {
		assert.Equal(t, want, AfterDip(seconds))
	}
}

func TestPickedTellsThePhotoAndItsTime(t *testing.T) {
	timed := calib.Reading{Analyte: charts.Analyte{Name: "nitrate", ReadWindow: &[2]float64{45, 75}}}
	files := []string{"a.jpg", "b.jpg", "c.jpg"}
	for _, c := range []struct {
		pick    strip.Pick
		reading calib.Reading
		want    []string
	}{
		{strip.Pick{Photo: 1, InTime: true}, timed, []string{"From b.jpg, taken 62 s after the dip; this pad is read at 45 to 75 s."}},
		{strip.Pick{Photo: 0}, timed,
			[]string{"No photo is in time for this pad, which is read at 45 to 75 s. From the nearest: a.jpg, taken 30 s after the dip."}},
		{strip.Pick{Photo: 0, InTime: true}, calib.Reading{}, []string{"From a.jpg, taken 30 s after the dip. The chart gives no time for this " +
			"pad, so it is read from the first photo that shows it; see the maker's sheet."}},
		{strip.Pick{Photo: 0, InTime: true, Passed: []int{1, 2}}, timed, []string{
			"From a.jpg, taken 30 s after the dip; this pad is read at 45 to 75 s.",
			"Nearer in time, but not to be used for this pad: b.jpg and c.jpg."}},
	} {
		j := &strip.Joined{Photos: []strip.Timed{{Seconds: 30}, {Seconds: 62}, {Seconds: 90}}, Readings: []calib.Reading{c.reading},
			Picks: []strip.Pick{c.pick}}
		assert.Equal(t, c.want, Picked(j, 0, files))
	}
}

// Each error names the photos by their names, and says what to do.
func TestNotOneStrip(t *testing.T) {
	files := []string{"a.jpg", "b.jpg", "c.jpg"}
	two := []int{0, 2}
	for _, c := range []struct {
		err  strip.OneStripError
		want string
	}{
		{strip.OneStripError{Fault: strip.TooFew}, "one photo of a strip has nothing to be joined with; name two photos or more"},
		{strip.OneStripError{Fault: strip.SamePhoto, Photos: two}, "a.jpg and c.jpg are the same photo; name each photo once"},
		{strip.OneStripError{Fault: strip.OtherChart, Photos: two, Values: [2]string{"x 1", "y 1"}},
			`a.jpg and c.jpg show different charts, "x 1" and "y 1"; name photos of one strip`},
		{strip.OneStripError{Fault: strip.OtherChart, Photos: two, Values: [2]string{"x 1", "x 1"}},
			`a.jpg and c.jpg show charts of one name, "x 1", that differ; read them with one chart file`},
		{strip.OneStripError{Fault: strip.OtherSaid, Photos: two, Said: "kit.lot", Values: [2]string{"7", "8"}},
			`the marks of a.jpg and c.jpg give the kit's lot (sample.kit.lot) as "7" and as "8", and one strip has one; correct it, or ` +
				`name photos of one strip`},
		{strip.OneStripError{Fault: strip.NotDipped}, "when the strip was dipped is not known, nor so which photo is in time for a pad; " +
			"give the time of the dip in the marks of one photo (sample.dipped)"},
		{strip.OneStripError{Fault: strip.NotTimed, Photos: []int{1}},
			"when b.jpg was taken is not known: the photo holds no time; give it in its marks (sample.taken)"},
		{strip.OneStripError{Fault: strip.BeforeDip, Photos: []int{1}, Seconds: -20},
			"b.jpg was taken 20 s before the dip that the marks give; correct the time of the dip, or leave that photo out"},
	} {
		assert.EqualError(t, NotOneStrip(&c.err, files), c.want)
	}
	other := errors.New("no scale")
	assert.Same(t, other, NotOneStrip(other, files))
}

func TestTakenOfStrip(t *testing.T) {
	at := "2026-11-14T08:41:00-05:00"
	assert.Equal(t, "taken 08:41:00, 42 s after the dip", TakenOfStrip(at, 42, true))
	assert.Equal(t, "taken 08:41:00, 18 s before the dip", TakenOfStrip(at, -18, true))
	assert.Equal(t, "taken 08:41:00", TakenOfStrip(at, 0, false))
	assert.Equal(t, "when it was taken is not known", TakenOfStrip("", 0, false))
}
