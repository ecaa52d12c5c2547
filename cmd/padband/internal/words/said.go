package words

import (
	"slices"

	"padband/calib"
	"padband/charts"
)

// Lamp says by what light a photo was taken, such as "by daylight"; it is empty where
// nobody said.
func Lamp(l charts.Lamp) string {
	switch l {
	case charts.LampDaylight:
		return "by daylight"
	case charts.LampLamp:
		return "under a lamp"
	case charts.LampTube:
		return "under a tube"
	case charts.LampFlash:
		return "by the phone's flash"
	}
	return string(l)
}

// Water says how the water looked before the dip, such as "clear"; it is empty where
// nobody looked.
func Water(w charts.Water) string {
	switch w {
	case charts.WaterTint:
		return "tint, like weak tea"
	case charts.WaterDark:
		return "dark, dyed"
	}
	return string(w)
}

// AsSaid is a sentence on the light and the water as a person said them; it is empty
// where nobody did. A word for the light that is not used, as a warning of the light has
// it, is said to be so.
func AsSaid(s charts.SampleInfo, l calib.LightReport) string {
	light, water := Lamp(s.Light), Water(s.Water)
	if light != "" && slices.ContainsFunc(l.Warnings, func(w calib.Warning) bool { return w.Code == calib.CodeLightSaid }) {
		light += " (not used)"
	}
	switch {
	case light == "" && water == "":
		return ""
	case water == "":
		return "As was said: taken " + light + "."
	case light == "":
		return "As was said: the water looked " + looked(s.Water) + "."
	}
	return "As was said: taken " + light + "; the water looked " + looked(s.Water) + "."
}

// looked is the look of the water within a sentence.
func looked(w charts.Water) string {
	switch w {
	case charts.WaterTint:
		return "like weak tea"
	case charts.WaterDark:
		return "dyed"
	}
	return string(w)
}
