package words

import (
	"fmt"
	"slices"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
)

// Doubt says, before the figures of a reading that is not to be used, why that is so.
// Where the photo has no white mark, it says to mark white first, because most other
// faults may follow from that.
func Doubt(r calib.Reading, light calib.LightReport) string {
	why, do := reason(r, light)
	if slices.ContainsFunc(light.Warnings, func(w calib.Warning) bool { return w.Code == calib.CodeNoWhite }) {
		text := "Mark white first: " + seePhoto + "."
		if why != "" && !onlyPhoto(r, light) {
			text += " " + lines.UpperFirst(why) + "."
		}
		return text
	}
	if why == "" {
		return "Its figures are not to be relied on."
	}
	return lines.UpperFirst(why) + "." + do
}

// reason says why a reading is not to be used. Where no warning says what to do about
// it, it says that too.
func reason(r calib.Reading, light calib.LightReport) (why, do string) {
	switch {
	case own(r) == calib.Unreliable:
		return "the reason is given below", ""
	case r.TooWide:
		return tooWide(r), " Take another photo by daylight, closer and without shine or shadow, or dip a new strip."
	case onlyPhoto(r, light):
		return photoFault(light) + " is at fault, " + seePhoto, ""
	}
	return "", ""
}

// photoFault names what gives the photo its reliability: its light, its file, or both.
func photoFault(light calib.LightReport) string {
	ofFile, ofLight := false, false
	for _, w := range light.Warnings {
		if w.Weight != light.Reliability {
			continue
		}
		facts, _ := w.Code.Facts()
		ofFile = ofFile || facts.About == calib.AboutFile
		ofLight = ofLight || facts.About != calib.AboutFile
	}
	switch {
	case ofFile && ofLight:
		return "the photo"
	case ofFile:
		return "the file"
	}
	return "the light"
}

// tooWide says how much of the chart the colour fits.
func tooWide(r calib.Reading) string {
	if whole(r, r.Band) {
		return "the colour fits the whole chart"
	}
	steps := r.Analyte.StepOf(r.Band.High.Value) - r.Analyte.StepOf(r.Band.Low.Value)
	return fmt.Sprintf("the colour fits %.1f of the chart's %d steps, too much to act on", steps, len(r.Swatches)-1)
}

// own is the reliability that the reading's own warnings alone would give it.
func own(r calib.Reading) calib.Reliability {
	word := calib.Good
	for _, w := range r.Warnings {
		word = word.Worse(w.Weight)
	}
	return word
}

// onlyPhoto reports whether the photo's light or file alone gives the reading its reliability.
func onlyPhoto(r calib.Reading, light calib.LightReport) bool {
	return r.Reliability == light.Reliability && own(r) != r.Reliability && !r.TooWide
}
