package strip

import (
	"fmt"
	"strings"
	"time"

	"padband/calib"
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
		taken = time.Date(taken.Year(), taken.Month(), taken.Day(), taken.Hour(), taken.Minute(), taken.Second(), taken.Nanosecond(),
			dipped.Location())
	}
	return taken.Sub(dipped).Seconds(), true
}

// InTime reports whether a photo taken so many seconds after the dip lies within an
// analyte's read window, or the chart gives none.
func InTime(a charts.Analyte, seconds float64) bool { return readWindow(a, seconds) == "" }

// readWindow says whether a photo taken so many seconds after the dip is too early or
// too late for an analyte's read window, as a code; the code is empty for a photo
// within it.
func readWindow(a charts.Analyte, seconds float64) (code calib.Code) {
	switch {
	case a.ReadWindow == nil:
		return ""
	case seconds < a.ReadWindow[0]:
		return calib.CodeEarly
	case seconds > a.ReadWindow[1]:
		return calib.CodeLate
	}
	return ""
}

// addTimes warns of photos outside an analyte's read window and of kits past their
// date. The kit is judged on the day of the photo. What the marks do not say gives a
// warning too, but one without weight: it makes nothing doubtful that was seen. Advice
// to take another photo says that it takes a new strip where the time is past.
func (r *Result) addTimes() {
	sample := r.Marks.Sample
	seconds, known := Elapsed(sample, r.Photo.Facts)
	kit := kitWarnings(sample, r.Photo.Facts, r.Chart.KitLifeDays)
	late := 0
	for i := range r.Readings {
		x := &r.Readings[i]
		switch {
		case known:
			x.Add(windowWarning(x.Analyte, seconds)...)
			if readWindow(x.Analyte, seconds) == calib.CodeLate {
				withNewStrip(x.Warnings)
				late++
			}
		case x.Analyte.ReadWindow != nil:
			x.Add(noDipTime)
		}
		x.Add(kit...)
	}
	if late > 0 && late == len(r.Readings) {
		withNewStrip(r.Light.Warnings)
	}
}

// windowWarning is the warning of a photo taken outside an analyte's read window,
// seconds after the dip; none for one inside.
func windowWarning(a charts.Analyte, seconds float64) []calib.Warning {
	pad := []calib.Place{{Kind: calib.PlacePad, Analyte: a.Name}}
	if seconds < 0 {
		return []calib.Warning{{Code: calib.CodeEarly, Figure: seconds, Weight: calib.Unreliable, Places: pad,
			Seen: fmt.Sprintf("The photo is %s older than the dip that the marks give.", long(-seconds)), Then: "Check the dip time."}}
	}
	switch code := readWindow(a, seconds); code {
	case calib.CodeEarly:
		return []calib.Warning{{Code: code, Figure: seconds, Threshold: a.ReadWindow[0], Weight: calib.Caution, Places: pad,
			Seen: fmt.Sprintf("The photo was taken %.0f s after the dip; this pad is read at %g to %g s, and its colour was still "+
				"growing.", seconds, a.ReadWindow[0], a.ReadWindow[1]),
			Then: "Take the photo within that time."}}
	case calib.CodeLate:
		if seconds > tooLate*a.ReadWindow[1] {
			return []calib.Warning{{Code: code, Figure: seconds, Threshold: tooLate * a.ReadWindow[1], Weight: calib.Unreliable, Places: pad,
				Seen: fmt.Sprintf("The photo was taken %s after the dip. This pad is read at %g to %g s: it is more than twice as old as "+
					"it may be, and pads go on changing.", long(seconds), a.ReadWindow[0], a.ReadWindow[1]),
				Then: "Do not use this reading: dip a new strip and take the photo within that time."}}
		}
		return []calib.Warning{{Code: code, Figure: seconds, Threshold: a.ReadWindow[1], Weight: calib.Caution, Places: pad,
			Seen: fmt.Sprintf("The photo was taken %s after the dip; this pad is read at %g to %g s, and pads go on changing.",
				long(seconds), a.ReadWindow[0], a.ReadWindow[1]),
			Then: "Dip a new strip and take the photo within that time."}}
	}
	return nil
}

// long says a time in a unit that a person can picture.
func long(seconds float64) string {
	switch {
	case seconds < 300:
		return fmt.Sprintf("%.0f s", seconds)
	case seconds < 2*3600:
		return fmt.Sprintf("%.0f minutes", seconds/60)
	case seconds < 2*86400:
		return fmt.Sprintf("%.0f hours", seconds/3600)
	}
	return fmt.Sprintf("%.0f days", seconds/86400)
}

// tooLate is how many times the end of its window a pad's age may be before its reading
// is of no use (common practice, no source).
const tooLate = 2

// withNewStrip adds to every advice to take another photo that it takes a new strip, for
// a pad that is past its window: the old one would only be later still.
func withNewStrip(ws []calib.Warning) {
	for i, w := range ws {
		if f, known := w.Code.Facts(); known && f.Again {
			ws[i].Then = strings.TrimSpace(w.Then + " " + newStrip)
		}
	}
}

// newStrip is what is added for a pad that is past its window.
const newStrip = "Take the next photo with a new strip: this one is past its time."

// freshKit is the advice about an old kit.
const freshKit = "Repeat with a fresh kit before you act on this."

// These warnings name what the marks do not say. They have no weight, because they
// make nothing doubtful that was seen.
var (
	noDipTime = calib.Warning{Code: calib.CodeNoDipTime, Figure: 1, Weight: calib.Good,
		Seen: "Whether the photo was taken within the time for reading the pads is not known: give the clock times of dip and photo.",
		Then: "Pads go on changing."}
	noKitDate = calib.Warning{Code: calib.CodeNoKitDate, Figure: 1, Weight: calib.Good,
		Seen: "Whether the kit was past its date is not known: give its expiry date and the day of the photo.",
		Then: "Old strips read wrong."}
)

// kitWarnings are the warnings of a kit past its date, or open for longer than
// lifeDays, on the day the photo was taken.
func kitWarnings(sample charts.SampleInfo, facts photo.Facts, lifeDays int) []calib.Warning {
	day, ok := takenDay(sample, facts)
	last, err := charts.ParseExpiry(sample.Kit.Expires)
	var out []calib.Warning
	if !ok || err != nil {
		out = append(out, noKitDate)
	}
	if !ok {
		return out
	}
	if err == nil && day.After(last) {
		out = append(out, calib.Warning{Code: calib.CodeExpired, Figure: day.Sub(last).Hours() / 24, Weight: calib.Caution,
			Seen: fmt.Sprintf("The strip's kit expired on %s, %.0f days before the photo.", last.Format(time.DateOnly),
				day.Sub(last).Hours()/24), Then: freshKit})
	}
	opened, err := time.Parse(time.DateOnly, sample.Kit.Opened)
	if days := day.Sub(opened).Hours() / 24; err == nil && lifeDays > 0 && days > float64(lifeDays) {
		out = append(out, calib.Warning{Code: calib.CodeOpenTooLong, Figure: days, Threshold: float64(lifeDays), Weight: calib.Caution,
			Seen: fmt.Sprintf("The kit had been open for %.0f days; its chart allows %d.", days, lifeDays), Then: freshKit})
	}
	return out
}

// takenDay is the local day on which the photo was taken, as the photo says or, if it
// does not, as the marks say. The second result is false where neither says it.
func takenDay(sample charts.SampleInfo, facts photo.Facts) (time.Time, bool) {
	taken := facts.TakenTime
	if facts.Taken == "" {
		var err error
		if taken, err = time.Parse(time.RFC3339, sample.Taken); err != nil {
			return time.Time{}, false
		}
	}
	return time.Date(taken.Year(), taken.Month(), taken.Day(), 0, 0, 0, 0, time.UTC), true
}
