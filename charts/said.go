package charts

import (
	"fmt"
	"slices"
	"strings"

	"padband/charts/strict"
)

// Lamp is the light of the photo as a person can say it by looking round.
type Lamp string

// The lights. [LampUnsaid] stands for mixed light and for a person who does not know.
const (
	LampUnsaid   Lamp = ""
	LampDaylight Lamp = "daylight" // a window, lamps off
	LampLamp     Lamp = "lamp"     // a bulb or LED lamp
	LampTube     Lamp = "tube"     // a long tube or a ring lamp
	LampFlash    Lamp = "flash"    // the phone's own
)

// Lamps are the words for the light that a marks file may hold.
func Lamps() []Lamp { return []Lamp{LampDaylight, LampLamp, LampTube, LampFlash} }

// Water is how the water looked before the dip, in a white cup looked down into.
type Water string

// The looks of water. [WaterUnsaid] is of a person who did not look.
const (
	WaterUnsaid Water = ""
	WaterClear  Water = "clear"
	WaterTint   Water = "tint"   // like weak tea
	WaterDark   Water = "dark"   // dyed
	WaterCloudy Water = "cloudy" // milky or muddy
)

// Waters are the words for the water that a marks file may hold.
func Waters() []Water { return []Water{WaterClear, WaterTint, WaterDark, WaterCloudy} }

// ParseLamp reads a word for the light as a person types it; nothing typed is
// [LampUnsaid]. The error lists the words.
func ParseLamp(text string) (Lamp, error) {
	l := typed[Lamp](text)
	if l != LampUnsaid && !slices.Contains(Lamps(), l) {
		return LampUnsaid, fmt.Errorf("is %s; write one of %s, or leave it out for mixed light",
			strict.Quote(text), strings.Join(texts(Lamps()), ", "))
	}
	return l, nil
}

// ParseWater reads a word for the look of the water as a person types it; nothing typed
// is [WaterUnsaid]. The error lists the words.
func ParseWater(text string) (Water, error) {
	w := typed[Water](text)
	if w != WaterUnsaid && !slices.Contains(Waters(), w) {
		return WaterUnsaid, fmt.Errorf("is %s; write one of %s, or leave it out where nobody looked",
			strict.Quote(text), strings.Join(texts(Waters()), ", "))
	}
	return w, nil
}

// typed is a word as it was typed, without the blanks and capitals of a phone's
// keyboard.
func typed[T ~string](text string) T { return T(strings.ToLower(strings.TrimSpace(text))) }

// texts are words as plain texts.
func texts[T ~string](words []T) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = string(w)
	}
	return out
}
