package judge

import (
	"slices"
	"strings"

	"padband/calib"
	"padband/charts"
)

// CheckNitrite warns, in the nitrate readings of a strip, when the strip's nitrite pad
// shows nitrite. A yes-or-no pad shows it where it says yes; another pad does where
// its water band begins above 0. A nitrate pad that answers to nitrite then reads both
// together. CheckNitrite reports whether any was shown.
func CheckNitrite(rs []calib.Reading) bool {
	found := false
	for _, r := range rs {
		if named(r, "nitrite") && r.Reliability != calib.Unreliable && shown(r) {
			found = true
		}
	}
	if !found {
		return false
	}
	for i := range rs {
		if named(rs[i], "nitrate") {
			rs[i].Warnings = append(rs[i].Warnings, calib.Warning{Code: calib.CodeNitriteFound, Weight: calib.Good,
				Places: []calib.Place{{Kind: calib.PlacePad, Analyte: rs[i].Analyte.Name}},
				Seen:   "The strip shows nitrite as well.", Then: nitriteText(rs[i].Analyte)})
		}
	}
	return true
}

func named(r calib.Reading, name string) bool { return strings.EqualFold(r.Analyte.Name, name) }

// shown reports whether a pad shows that its analyte is in the water.
func shown(r calib.Reading) bool {
	if r.Analyte.Kind == charts.KindPresence {
		return r.Yes >= calib.Coverage
	}
	return !r.WaterBand.Low.Open && r.WaterBand.Low.Value > 0 && r.Posterior.Quantile(0.5) >= 0.5
}

func nitriteText(a charts.Analyte) string {
	holds := "This pad does not answer to nitrite, so the water holds that nitrite besides the nitrate read here."
	switch {
	case len(a.RespondsTo) == 0:
		holds = "The chart does not say whether this pad counts it too."
	case slices.ContainsFunc(a.RespondsTo, func(to string) bool { return strings.EqualFold(to, "nitrite") }):
		holds = "This pad counts it too, so its figure is nitrate and nitrite together."
	}
	return holds + " Nitrite in a well is unusual: have the water tested by a certified laboratory."
}
