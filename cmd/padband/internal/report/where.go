package report

import (
	"fmt"
	"slices"
	"strings"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
)

// Codes of warnings by what they are about. All others are about the pad.
var (
	ofTheKit    = []string{"expired", "open-too-long", "no-kit-date", "no-dip-time"}
	ofOnePatch  = []string{"glare", "shadow", "too-small"}
	ofTheRow    = []string{"swatches-out-of-order"}
	ofBracketed = []string{"swatches-alike"}
)

// where names the place in the photo that a reading's warning is about:
// "pad:nitrate", "swatch:nitrate:7" (the value after the last colon),
// "bracket:nitrate" for the two swatches of the bracket, "row:nitrate" for all
// swatches, and "" for a warning of the kit, which is not in the photo.
func where(w calib.Warning, r calib.Reading) string {
	name := r.Analyte.Name
	switch {
	case slices.Contains(ofTheKit, w.Code):
		return ""
	case slices.Contains(ofTheRow, w.Code):
		return "row:" + name
	case slices.Contains(ofBracketed, w.Code):
		return "bracket:" + name
	case slices.Contains(ofOnePatch, w.Code):
		for _, s := range r.Swatches {
			if names(w.Text, s.Value) {
				return "swatch:" + name + ":" + lines.Plain(s.Value)
			}
		}
	}
	return "pad:" + name
}

// names says that a warning's text is about the swatch of that value.
func names(text string, value float64) bool {
	_, after, found := strings.Cut(text, fmt.Sprintf("swatch for %g", value))
	return found && (strings.HasPrefix(after, " ") || strings.HasPrefix(after, ":"))
}

// unknown are the warnings of no weight about kit and times, each once: what
// nobody said is said once for all readings, and not under each.
func unknown(readings []calib.Reading) (out []calib.Warning) {
	for _, r := range readings {
		for _, w := range r.Warnings {
			if weightless(w) && !slices.ContainsFunc(out, func(o calib.Warning) bool { return o.Text == w.Text }) {
				out = append(out, w)
			}
		}
	}
	return out
}

// weighty are the reading's other warnings.
func weighty(r calib.Reading) []calib.Warning {
	return slices.DeleteFunc(slices.Clone(r.Warnings), weightless)
}

func weightless(w calib.Warning) bool {
	return w.Weight == calib.Good && slices.Contains(ofTheKit, w.Code)
}
