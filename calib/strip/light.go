package strip

import (
	"fmt"
	"math"
	"slices"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry/photo"
)

// leastDaylight is the exposure value at ISO 100 under which no photo was taken by
// daylight from a window. A room by day at a window has about 8 to 12, and a room at
// night by its lamps about 4 to 7 (common practice, no source).
const leastDaylight = 3.0

// lampOf is the light that a reading may rest on: what a person said, unless the photo's
// own facts contradict it. Then the light counts as unsaid, and a warning without weight
// says so: the reading is as good as one without the word. The facts never choose a
// light, but for a flash that fired, which is as good as the word. That no flash fired
// contradicts nothing: a phone's light can shine all the time and is told of nowhere.
func lampOf(said charts.Lamp, facts photo.Facts) (charts.Lamp, []calib.Warning) {
	if said == charts.LampUnsaid && facts.Flash {
		return charts.LampFlash, nil
	}
	seen := contradicted(said, facts)
	if seen == "" {
		return said, nil
	}
	return charts.LampUnsaid, notUsed(said, seen)
}

// notUsed says why a word for the light is not used.
func notUsed(said charts.Lamp, seen string) []calib.Warning {
	w := calib.Warning{Code: calib.CodeLightSaid, Figure: 1, Weight: calib.Good, Places: []calib.Place{{Kind: calib.PlacePhoto}},
		Seen: "The light was said to be " + lampName(said) + ", but " + seen + ". The word is not used."}
	if f, ok := w.Code.Facts(); ok {
		w.Then = f.Advice
	}
	return []calib.Warning{w}
}

// mixed reports whether a photo shows two kinds of light.
func mixed(l calib.LightReport) bool {
	return slices.ContainsFunc(l.Warnings, func(w calib.Warning) bool { return w.Code == calib.CodeMixedLight })
}

// contradicted says, as a part of a sentence, what in the photo's facts speaks against
// the light that was said; it is empty where nothing does. What a camera took the light
// for counts only where it names a lamp: many name daylight where they know nothing
// (common practice, no source).
func contradicted(said charts.Lamp, facts photo.Facts) string {
	if said == charts.LampUnsaid || said == charts.LampFlash {
		return ""
	}
	ev, known := ev100(facts)
	switch {
	case facts.Flash:
		return "the photo says that the flash fired"
	case facts.LightSource.Fluorescent() && said != charts.LampTube:
		return "the photo says that the camera took it for a fluorescent tube"
	case facts.LightSource.Tungsten() && said != charts.LampLamp:
		return "the photo says that the camera took it for a bulb"
	case said == charts.LampDaylight && known && ev < leastDaylight:
		return fmt.Sprintf("the exposure tells of a dark room (exposure value %.1f at ISO 100; a window by day gives 8 to 12)", ev)
	}
	return ""
}

// ev100 is the exposure value at ISO 100 that a photo was taken with, log2(N²/t) less
// log2(ISO/100) (the APEX system, as in Exif's annex; from memory). ok is false where the
// photo does not say f-number, time and speed.
func ev100(f photo.Facts) (ev float64, ok bool) {
	if !(f.FNumber > 0) || !(f.ExposureSeconds > 0) || f.ISO <= 0 {
		return 0, false
	}
	return math.Log2(f.FNumber*f.FNumber/f.ExposureSeconds) - math.Log2(float64(f.ISO)/100), true
}

// lampName is a light within a sentence.
func lampName(l charts.Lamp) string {
	switch l {
	case charts.LampLamp:
		return "a lamp"
	case charts.LampTube:
		return "a tube or ring lamp"
	case charts.LampFlash:
		return "the flash"
	}
	return string(l)
}
