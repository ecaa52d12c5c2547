package calib

import (
	"fmt"
	"slices"
)

// Code names one thing that makes a reading or a photo doubtful, as reading files
// write it. [Codes] lists the facts of each code.
type Code string

// These codes are of what a photo shows: the light, the file, and pads and swatches.
const (
	CodeNoWhite            Code = "no-white"
	CodeClipped            Code = "clipped"
	CodeTooDark            Code = "too-dark"
	CodeNoisy              Code = "noisy"
	CodeGlare              Code = "glare"
	CodeUnevenLight        Code = "uneven-light"
	CodeLightFar           Code = "light-far"
	CodeShadow             Code = "shadow"
	CodeMixedLight         Code = "mixed-light"
	CodeStrongCast         Code = "strong-cast"
	CodeFlash              Code = "flash"
	CodeLightSaid          Code = "light-said"
	CodeOtherLight         Code = "other-light"
	CodeBlurred            Code = "blurred"
	CodeTooSmall           Code = "too-small"
	CodeSwatchesAlike      Code = "swatches-alike"
	CodeSwatchesOutOfOrder Code = "swatches-out-of-order"
	CodeRowReversed        Code = "row-reversed"
	CodeOtherChart         Code = "other-chart"
	CodeNewBottle          Code = "new-bottle"
	CodeOffScaleColour     Code = "off-scale-colour"
	CodeTwoPlaces          Code = "two-places"
	CodeNoProfile          Code = "no-profile"
	CodeProfileDropped     Code = "profile-dropped"
	CodeOrientationUnknown Code = "orientation-unknown"
	CodeNoMarker           Code = "no-marker"
)

// These codes are of marks that contradict the picture, and of pictures that no camera
// made.
const (
	CodeMarkOnEdge   Code = "mark-on-edge"
	CodeNotWhite     Code = "not-white"
	CodeNoColour     Code = "no-colour"
	CodeAlteredPhoto Code = "altered-photo"
	// CodePadUnseen is of a pale pad that nothing tells from the strip beside it.
	CodePadUnseen Code = "pad-unseen"
	// CodeMarksUnchecked is of marks that the program found and nobody has looked at.
	CodeMarksUnchecked Code = "marks-unchecked"
	// CodeCornersTurned is of a chart whose corners were given in another order.
	CodeCornersTurned Code = "corners-turned"
)

// These codes are of the kit, the times and other strips.
const (
	CodeEarly             Code = "early"
	CodeLate              Code = "late"
	CodeNoDipTime         Code = "no-dip-time"
	CodeExpired           Code = "expired"
	CodeOpenTooLong       Code = "open-too-long"
	CodeNoKitDate         Code = "no-kit-date"
	CodeNitriteFound      Code = "nitrite-found"
	CodeDilutionAtTop     Code = "dilution-at-top"
	CodeDilutionDisagrees Code = "dilution-disagrees"
	CodeStandardOff       Code = "standard-off"
	CodeSpoiledBy         Code = "spoiled-by"
	CodeColouredWater     Code = "coloured-water"
)

// About is the subject of a warning.
type About string

// What warnings are about.
const (
	AboutLight    About = "the light"
	AboutFile     About = "the photo's file"
	AboutPad      About = "the pad"
	AboutSwatches About = "the swatches"
	AboutKit      About = "the kit, or the time from dip to photo"
	AboutWater    About = "the water, or another strip of it"
)

// CodeFacts are a code's name, its subject and its consequences. People read them, and
// decisions rest on them.
type CodeFacts struct {
	Code  Code
	Name  string // in a few words
	About About
	// Spoils says, as a part of a sentence, why the strip's own error may differ from
	// what the chart gives; it is empty where the chart's figure still holds. A
	// reading with such a warning is never said to be below a limit for health.
	Spoils string
	// Unsaid is true where it spoils only because nobody said it; what is known to
	// spoil a reading takes every percentage from its judgements.
	Unsaid bool
	// Undergrown is true where the colour was still growing, so that the water may hold
	// more than the reading says.
	Undergrown bool
	// Unlooked is true where nobody has made sure that the reading is of the pad at all;
	// it is never said to be below a limit for health.
	Unlooked bool
	// Again is true where the advice asks for another photo.
	Again bool
	// Stops is true where no verdict is given at all.
	Stops  bool
	Advice string // what to do, one sentence
}

const (
	againByDaylight = "Take the photo again by daylight or under one white lamp."
	againNoShine    = "Tilt the phone or move the lamp so that nothing mirrors in strip and chart, and take the photo again."
	freshKit        = "Repeat with a fresh kit before you act on the reading."
	outOfTime       = "the photo was not taken within the time for reading the pad"
)

// codeTable has the codes in the order of the guide. A warning of a reading knows its
// own figures, so it may give closer advice than its code does here.
var codeTable = slices.Concat(
	about(AboutLight, []CodeFacts{
		{Code: CodeNoWhite, Name: "no white is marked",
			Advice: "Mark white card, paper or bare strip near the pad and near the chart."},
		{Code: CodeUnevenLight, Name: "the light on one patch is much stronger than on another",
			Again: true, Advice: "Move the lamp further away, and mark white near pads and chart."},
		{Code: CodeLightFar, Name: "the light at the pad is followed from white areas that lie far from it",
			Advice: "Mark white close to the pad too."},
		{Code: CodeMixedLight, Name: "white changes its colour over the photo, as under two kinds of light",
			Again: true, Advice: "Use one kind of light alone, and take the photo again."},
		{Code: CodeStrongCast, Name: "white is recorded strongly coloured",
			Again: true, Advice: againByDaylight},
		{Code: CodeNotWhite, Name: "something coloured or grey is marked as white",
			Advice: "Mark white card, paper or bare strip instead."},
		{Code: CodeLightSaid, Name: "the light that was said is not the one that the photo tells of; the word is not used",
			Advice: "Say which light was on strip and chart, or take the photo again under one light alone."},
		{Code: CodeOtherLight, Name: "the swatches do not look as they did in daylight, as under another lamp",
			Again: true, Advice: againByDaylight},
		{Code: CodeShadow, Name: "the edge of a shadow lies on a patch or a white area",
			Again: true, Advice: "Keep hand and phone out of the light, and take the photo again."},
		{Code: CodeGlare, Name: "something shines on a patch",
			Again: true, Advice: againNoShine},
		{Code: CodeClipped, Name: "a patch is as bright or as dark as the photo can record",
			Again: true, Advice: "Take the photo with the white just under full brightness."},
		{Code: CodeTooDark, Name: "the photo is too dark to tell colours",
			Again: true, Advice: "Use more light or a longer exposure."},
	}),
	about(AboutFile, []CodeFacts{
		{Code: CodeFlash, Name: "the flash fired",
			Again: true, Advice: "Take the photo again without flash."},
		{Code: CodeNoColour, Name: "the photo is without colour, and is refused",
			Advice: "Use the photo as the camera stored it, not a grey copy."},
		{Code: CodeAlteredPhoto, Name: "the picture's colours were changed, as by a filter",
			Advice: "Use the photo as the camera stored it, without a filter."},
		{Code: CodeNoProfile, Name: "the file says nothing of its colours, which are taken as sRGB",
			Advice: "Use the photo as the camera stored it, not a copy sent on."},
		{Code: CodeProfileDropped, Name: "the file's colour profile cannot be used",
			Advice: "Use the photo as the camera stored it, not a copy sent on."},
		{Code: CodeOrientationUnknown, Name: "the file does not say rightly which way is up",
			Advice: "Check that the marks lie on their patches."},
		{Code: CodeNoMarker, Name: "the file does not say how its colours are coded",
			Advice: "Use the photo as the camera stored it, not a copy sent on."},
	}),
	about(AboutPad, []CodeFacts{
		{Code: CodeMarkOnEdge, Name: "a mark lies over an edge and holds two colours",
			Advice: "Move the mark onto one colour."},
		{Code: CodePadUnseen, Name: "the pad has the colour of what lies beside its mark",
			Advice: "Check that the mark lies on the pad, and draw it nearly as large as the pad."},
		{Code: CodeMarksUnchecked, Name: "the program found the outlines, and nobody has looked at them", Unlooked: true,
			Advice: "Look at the outlines over the photo: each must lie on its own pad or swatch."},
		{Code: CodeBlurred, Name: "the patches' edges are blurred",
			Again: true, Advice: "Hold the phone still, tap on the strip to focus, and take the photo again."},
		{Code: CodeNoisy, Name: "the photo is grainy, or a patch is not of one colour",
			Again: true, Advice: "Use more light, hold the phone still, and check the mark."},
		{Code: CodeTooSmall, Name: "a mark holds few pixels",
			Again: true, Advice: "Go closer, or mark more of the patch."},
		{Code: CodeOffScaleColour, Name: "the pad's colour lies off the chart's scale",
			Again: true, Advice: "Check that it is the right chart, and take the photo by daylight."},
		{Code: CodeTwoPlaces, Name: "the pad's colour fits separate places of the scale",
			Again: true, Advice: "Take another photo in better light, or dip a second strip."},
	}),
	about(AboutSwatches, []CodeFacts{
		{Code: CodeSwatchesAlike, Name: "two swatches look alike",
			Again: true, Advice: "Check that each mark lies on its own swatch, and take the photo by daylight."},
		{Code: CodeSwatchesOutOfOrder, Name: "the colours run on more smoothly with two swatches exchanged",
			Advice: "Check that each mark carries its own value."},
		{Code: CodeRowReversed, Name: "the row of swatches is another one than the chart tells of, or runs the other way",
			Advice: "Check that each mark carries its own value, and that the chart says rightly which end of the row is pale."},
		{Code: CodeOtherChart, Name: "the swatches do not look as this bottle's did, as a faded print or another bottle's",
			Advice: "Check that it is the chart of this bottle and that it has not faded; a faded chart reads wrong."},
		{Code: CodeNewBottle, Name: "the chart remembers another bottle, and not this one",
			Advice: "New bottle? Let the chart remember it again, from a clear photo by daylight."},
		{Code: CodeCornersTurned, Name: "the chart's corners are given from another one than its top left",
			Advice: "Mark the corners again: first the chart's top left, then on clockwise."},
	}),
	about(AboutKit, []CodeFacts{
		{Code: CodeEarly, Name: "the photo was taken before the pad is read",
			Spoils: outOfTime, Undergrown: true, Advice: "Take the photo within the time for reading the pad."},
		{Code: CodeLate, Name: "the photo was taken after the pad is read",
			Spoils: outOfTime, Advice: "Dip a new strip and take the photo within the time for reading the pad."},
		{Code: CodeNoDipTime, Name: "the time from dip to photo is not known",
			Spoils: "the time from dip to photo is not known", Unsaid: true, Advice: "Give the clock times of dip and photo."},
		{Code: CodeExpired, Name: "the kit was past its date",
			Spoils: "the kit was past its date", Advice: freshKit},
		{Code: CodeOpenTooLong, Name: "the kit was open for longer than its chart allows",
			Spoils: "the kit had been open too long", Advice: freshKit},
		{Code: CodeNoKitDate, Name: "the kit's expiry date or the day of the photo is not known",
			Spoils: "the kit's date is not known", Unsaid: true, Advice: "Give the kit's expiry date and the day of the photo."},
	}),
	about(AboutWater, []CodeFacts{
		{Code: CodeNitriteFound, Name: "the strip shows nitrite",
			Advice: "Have the water tested by a certified laboratory."},
		{Code: CodeDilutionAtTop, Name: "the diluted strip is still at the chart's top",
			Advice: "Dilute it further and dip a new strip."},
		{Code: CodeDilutionDisagrees, Name: "the diluted strip and the strip of the water itself disagree",
			Stops: true, Advice: "Check the dilution water with a strip, measure anew, and dip two new strips."},
		{Code: CodeStandardOff, Name: "the check standard does not read what it should",
			Spoils: "the check standard did not read what it should", Advice: "Repeat the strips of water and of standard with a fresh " +
				"kit."},
		{Code: CodeSpoiledBy, Name: "something else in the water spoils the pad, or may",
			Spoils: "something else in the water may spoil the pad", Advice: "Dip a new strip in a sample without it, or have the water " +
				"tested by a laboratory."},
		{Code: CodeColouredWater, Name: "the water is coloured or cloudy",
			Spoils: "the water is coloured or cloudy", Advice: "Soak a corner of coffee filter in the same water and mark it as wet white, " +
				"or have the water tested by a laboratory."},
	}),
)

func about(what About, facts []CodeFacts) []CodeFacts {
	for i := range facts {
		facts[i].About = what
	}
	return facts
}

// Codes are the facts of all codes, in the order of the guide.
func Codes() []CodeFacts { return slices.Clone(codeTable) }

var factsByCode = func() map[Code]CodeFacts {
	out := map[Code]CodeFacts{}
	for _, f := range codeTable {
		out[f.Code] = f
	}
	return out
}()

// Facts returns the facts of a code; ok is false for one that this
// program does not know.
func (c Code) Facts() (f CodeFacts, ok bool) {
	f, ok = factsByCode[c]
	return f, ok
}

// PlaceKind is a kind of place in a photo.
type PlaceKind string

// Kinds of places.
const (
	PlacePad    PlaceKind = "pad"    // of an analyte, all its parts
	PlacePart   PlaceKind = "part"   // one part of its pad
	PlaceSwatch PlaceKind = "swatch" // the swatch of a value, or one part of it
	PlaceRow    PlaceKind = "row"    // all swatches of an analyte
	PlaceWhite  PlaceKind = "white"  // one white area
	PlacePhoto  PlaceKind = "photo"  // all of it
)

// Place says where in the photo a warning applies. Fields that its kind does not need
// are zero.
type Place struct {
	Kind    PlaceKind
	Analyte string
	Value   float64 // of a swatch, in the analyte's unit
	Part    int     // from 1; 0 means all parts
	Number  int     // of a white area, from 1, in the order of the marks
}

// partPlace is the place of one part of a pad, or of the whole pad when it has one
// part.
func (p Pad) partPlace(k int) Place {
	if len(p.Parts) < 2 {
		return Place{Kind: PlacePad, Analyte: p.Analyte.Name}
	}
	return Place{Kind: PlacePart, Analyte: p.Analyte.Name, Part: k + 1}
}

// padPlace is the place of a whole pad.
func (p Pad) padPlace() Place { return Place{Kind: PlacePad, Analyte: p.Analyte.Name} }

// swatchPart returns a function that gives the place of each part of swatch i.
func (p Pad) swatchPart(i int) func(k int) Place {
	return func(k int) Place { return p.swatchPlace(i, k) }
}

// swatchPlace is the place of part k of swatch i, or of the whole swatch when it has
// one part.
func (p Pad) swatchPlace(i, k int) Place {
	out := Place{Kind: PlaceSwatch, Analyte: p.Analyte.Name, Value: p.Analyte.Swatches[i].Value}
	if len(p.Swatches[i]) > 1 {
		out.Part = k + 1
	}
	return out
}

// swatchPlaces are the places of the swatches that have these values.
func swatchPlaces(analyte string, values ...float64) (out []Place) {
	for _, v := range values {
		out = append(out, Place{Kind: PlaceSwatch, Analyte: analyte, Value: v})
	}
	return out
}

// words names the patch for a sentence that is about the patch's own analyte.
func (p Place) words() string {
	if p.Kind == PlaceSwatch {
		return fmt.Sprintf("the swatch for %g", p.Value)
	}
	return "the pad"
}
