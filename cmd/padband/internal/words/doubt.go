package words

import (
	"fmt"
	"slices"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
)

// Doubt is the sentence that stands before the figures of an unreliable reading. Where
// the photo has no white mark, the sentence says to mark white first, because most
// other faults may follow from that.
func Doubt(r calib.Reading, light calib.LightReport) string {
	const not = "Do not rely on this reading"
	why, do := reason(r, light)
	if slices.ContainsFunc(light.Warnings, func(w calib.Warning) bool { return w.Code == calib.CodeNoWhite }) {
		text := not + ". Mark white first: " + seePhoto + "."
		if why != "" && !onlyLight(r, light) {
			text += " " + lines.UpperFirst(why) + "."
		}
		return text
	}
	if why == "" {
		return not + "."
	}
	return not + ": " + why + "." + do
}

// reason says why a reading is unreliable. Where no warning says what to do about it,
// it says that too.
func reason(r calib.Reading, light calib.LightReport) (why, do string) {
	switch {
	case own(r) == calib.Unreliable:
		return "the reason is given below", ""
	case r.TooWide:
		return tooWide(r), " Take another photo by daylight, closer and without shine or shadow, or dip a new strip."
	case onlyLight(r, light):
		return "the light is at fault, " + seePhoto, ""
	}
	return "", ""
}

// tooWide says how much of the chart the band covers.
func tooWide(r calib.Reading) string {
	if whole(r, r.Band) {
		return "its band covers the whole chart"
	}
	steps := r.Analyte.StepOf(r.Band.High.Value) - r.Analyte.StepOf(r.Band.Low.Value)
	return fmt.Sprintf("its band spans %.1f of the chart's %d steps, too much to act on", steps, len(r.Swatches)-1)
}

// own is the reliability that the reading's own warnings alone would give it.
func own(r calib.Reading) calib.Reliability {
	word := calib.Good
	for _, w := range r.Warnings {
		word = word.Worse(w.Weight)
	}
	return word
}

// onlyLight reports whether the photo's light alone gives the reading its reliability.
func onlyLight(r calib.Reading, light calib.LightReport) bool {
	return r.Reliability == light.Reliability && own(r) != r.Reliability && !r.TooWide
}
