package strip

import (
	"time"

	"padband/charts"
	"padband/colorimetry/photo"
)

// Elapsed returns the seconds from the dip to the photo, from the marks' dip
// time and the photo's own time. A photo without an offset from UTC is taken to
// use the dip's: both come from one device. ok is false when either time is missing.
func Elapsed(sample charts.SampleInfo, facts photo.Facts) (seconds float64, ok bool) {
	dipped, err := time.Parse(time.RFC3339, sample.Dipped)
	if err != nil {
		return 0, false
	}
	if facts.Taken == "" {
		taken, err := time.Parse(time.RFC3339, sample.Taken)
		return taken.Sub(dipped).Seconds(), err == nil
	}
	taken := facts.TakenTime
	if !facts.TakenHasOffset {
		taken = time.Date(taken.Year(), taken.Month(), taken.Day(), taken.Hour(), taken.Minute(), taken.Second(), taken.Nanosecond(), dipped.Location())
	}
	return taken.Sub(dipped).Seconds(), true
}

// readWindow says how a photo stands to an analyte's read window.
func readWindow(a charts.Analyte, seconds float64) (code string) {
	switch {
	case a.ReadWindow == nil:
		return ""
	case seconds < a.ReadWindow[0]:
		return "early"
	case seconds > a.ReadWindow[1]:
		return "late"
	}
	return ""
}
