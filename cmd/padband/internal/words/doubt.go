package words

import (
	"fmt"
	"slices"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
)

// Doubt is what is said of an unreliable reading before its figures. Without a
// white mark that is what to mend first, for most else may follow from it.
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

// reason is why a reading is unreliable and, where no warning says it, what to do.
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

// own is the word that the reading's own warnings make.
func own(r calib.Reading) calib.Reliability {
	word := calib.Good
	for _, w := range r.Warnings {
		word = word.Worse(w.Weight)
	}
	return word
}

// onlyLight says that the reading has its word from the photo's light alone.
func onlyLight(r calib.Reading, light calib.LightReport) bool {
	return r.Reliability == light.Reliability && own(r) != r.Reliability && !r.TooWide
}
