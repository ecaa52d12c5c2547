package words

import (
	"padband/calib/strip"
	"padband/cmd/padband/internal/lines"
)

// NotRemembered says why a chart does not take its colours from a photo, and what to do.
func NotRemembered(e *strip.UnclearError) string {
	const not = "the chart is not to remember its colours by this photo: "
	switch e.Why {
	case strip.UnclearLot:
		return not + "nobody says which bottle this is; say the lot in the marks"
	case strip.UnclearDay:
		return not + "the day of the photo is not known; say in the marks when it was taken"
	case strip.UnclearLight:
		return not + "nobody says that it was taken by daylight alone, or the photo tells otherwise; say the light in the marks"
	case strip.UnclearWhite:
		return not + "no white is marked, so the light is not known; mark white near the chart"
	case strip.UnclearMarks:
		return not + "nobody has looked at its outlines; look at them first"
	case strip.UnclearMissing:
		return not + lines.OneLine(e.Of) + " is not marked; mark its pad and swatches too"
	}
	of := ""
	if e.Of != "" {
		of = lines.OneLine(e.Of) + " is no clear reading. "
	}
	return not + of + e.By.Text()
}
