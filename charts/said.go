package charts

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

// texts are words as plain texts.
func texts[T ~string](words []T) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = string(w)
	}
	return out
}
