package scene

import (
	"strconv"

	"padband/charts"
)

// Class is a class of light, as the study of the band counts it.
type Class string

// Classes: daylight, white LED and daylight tubes; warm and narrow-band
// lamps; and photos with a fault or an odd lamp.
const (
	Good Class = "good"
	Fair Class = "fair"
	Bad  Class = "bad"
)

// Fault is what is wrong with a bad photo.
type Fault string

// Faults. A scene of class [Bad] has one of them.
const (
	None    Fault = ""
	Mixed   Fault = "mixed"   // two lamps with different shares over the photo
	Glare   Fault = "glare"   // a lamp mirrored in the wet pads
	Shadow  Fault = "shadow"  // a soft-edged shadow over strip or chart
	Over    Fault = "over"    // over-exposed
	Dark    Fault = "dark"    // under-exposed
	Blurred Fault = "blur"    // out of focus or shaken
	Steep   Fault = "steep"   // light falling off steeply
	OddLamp Fault = "oddlamp" // a lamp with a strange spectrum
)

// faults is every fault of a bad photo.
var faults = []Fault{Mixed, Glare, Shadow, Over, Dark, Blurred, Steep, OddLamp}

// Format is how the photo is stored.
type Format string

// Formats.
const (
	JPEG     Format = "jpeg"      // 8 bit, 4:2:0, no profile
	JPEGSRGB Format = "jpeg-srgb" // the same with an ICC profile of sRGB
	PNG      Format = "png"       // 8 bit, no profile
	PNGDeep  Format = "png-16"    // 16 bit, sRGB, said by a cICP chunk
	PNGP3    Format = "png-p3"    // 16 bit, Display P3, said by a cICP chunk
)

// Config is one scene before it is rendered. [Draw] draws every field; a
// field may then be changed before [Render].
type Config struct {
	Seed          uint64
	Class         Class
	Fault         Fault
	Width, Height int
	Curved        bool         // the chart goes around a bottle
	Chart         charts.Chart // with a layout it is printed as that says, and marked by its corners
	Pads          []Pad        // one an analyte, in the chart's order
	Lights        []Light
	Camera        Camera
	Surfaces      Surfaces
	Water         *Water // nil: clear
	Whites        Whites
	Glares        []Spot
	Layout        Layout
	Format        Format
	Quality       int // JPEG, 1-100
	Exif          *Exif
	// Variety is how widely dyes and inks vary about their kinds; 0 stands for 1.
	Variety float64
	// Faded is the share of the print's absorption that light has taken away, wavelength
	// by wavelength; all zeros for a fresh print.
	Faded Spectrum
}

// Pad is one analyte's pad (of one or more parts) and its printed scale.
type Pad struct {
	Family string
	Step   float64 // true place on the scale, below 0 or above the top swatch when past an end
	// PrintCommon and PrintEach are the standard deviations in each of L*, a*,
	// b* of the printing error shared by the analyte's swatches and of each swatch's own.
	PrintCommon, PrintEach float64
	Gloss                  float64 // light reflected by the wet surface, as a share of a perfect white
	Wet                    float64 // by how much the wet paper is darker: relative growth of its K/S
	Blotch                 float64 // unevenness of the dye over the pad, relative standard deviation
	reagents               []reagent
}

// Light is one lamp over the photo. Places run from -1 to 1 across the
// photo's width and height.
type Light struct {
	Lamp  string
	Power Spectrum
	Level float64
	// Slope and Curve are the coefficients of x, y and of x^2, y^2, xy of the logarithm of the light.
	Slope  [2]float64
	Curve  [3]float64
	Drift  [2][3]float64 // relative change of each channel along x and y
	Share  *Share        // nil: everywhere
	Shadow *Shade        // nil: none
}

// Share is a light that reaches one side of the photo more than the other:
// its level runs from Low to High along the direction Angle (radians) about At with softness Soft.
type Share struct{ Low, High, Angle, At, Soft float64 }

// Shade is a soft shadow of a box, in the coordinates of [Light].
type Shade struct {
	X0, Y0, X1, Y1, Soft float64
	Angle                float64 // of the box, radians
	Depth                float64 // share of the light taken away, 0-1
}

// Surfaces are the reflectances of the things in the photo.
type Surfaces struct{ Card, Paper, Plastic, Table, Vein Spectrum }

// Whites says which white areas are marked.
type Whites struct{ Card, Paper, Plastic int }

// Spot is a patch of glare: an ellipse in photo pixels that adds Peak times a
// perfect white in its centre.
type Spot struct{ X, Y, RX, RY, Peak float64 }

// Layout is the geometry of the scene.
type Layout struct {
	Size       float64 // side of a pad, pixels
	Gap        float64 // between swatches, in sides
	StripRight bool
	StripBelow bool
	Turn       float64 // radians
	Keystone   [8]float64
	MarkJitter float64 // standard deviation of a mark's place, pixels
	BottleTurn float64 // angle from which the bottle is lit, radians
	BottleFill float64 // share of the light on the bottle that comes from everywhere
}

// Truth is what is known of one pad.
type Truth struct {
	Analyte string
	Family  string
	Value   float64 // beyond the chart when Past; never negative
	Step    float64 // place on the scale: 0 at the lowest swatch, 1 at the next; beyond the ends when Past
	Past    bool
	Hit     bool // the photo's fault lies on this pad itself (glare, shadow)
}

// Scene is a rendered photo with its truth.
type Scene struct {
	Photo   []byte // the file, in Config.Format
	Chart   charts.Chart
	Marks   charts.Marks
	Truth   []Truth
	Camera  string
	Lamp    string
	Fault   Fault
	Class   Class
	Curved  bool
	Colours []Colours // exact colours, one an analyte
}

// shortNumber writes a chart's value.
func shortNumber(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
