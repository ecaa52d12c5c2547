package report

import (
	"math"
	"slices"
	"strings"

	"padband/calib"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
)

// cropColumn is one patch as the photo shows it, with its number under it.
type cropColumn struct {
	Number string
	Pad    bool
	Images []image // one for each part
}

// Crops are the pictures of a reading side by side.
type Crops struct {
	Columns []cropColumn
	Parts   bool // each patch has several pictures, one above the other
}

// image is a picture with a text for people who do not see it.
type image struct{ Src, Alt string }

// around is how much wider the square shown is than the mark in it.
const around = 1.5

// Around returns the square of the photo to show for a mark. It is half as wide again
// as the mark, so that some of what lies beside the mark is seen. It is moved or made
// smaller to lie within a photo of that size in pixels.
func Around(mark colorimetry.Region, width, height int) colorimetry.Region {
	least, most := mark.Bounds()
	side := around * math.Max(most.X-least.X, most.Y-least.Y)
	side = math.Min(side, float64(min(width, height)))
	from := func(a, b float64, room int) float64 {
		return math.Max(0, math.Min((a+b-side)/2, float64(room)-side))
	}
	x, y := from(least.X, most.X, width), from(least.Y, most.Y, height)
	return colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: x, Y: y}, {X: side, Y: side}}}
}

// besides gives the pictures of the pad and of the two swatches of its bracket, in
// order of value; it is nil when their marks are not known.
func besides(r calib.Reading, placed charts.Placed, crop func(colorimetry.Region) string) *Crops {
	i := slices.IndexFunc(placed.Pads, func(p charts.PlacedAnalyte) bool { return p.Analyte.Name == r.Analyte.Name })
	if i < 0 || crop == nil {
		return nil
	}
	p := placed.Pads[i]
	var out []cropColumn
	for k, s := range r.Swatches {
		if k < len(p.Swatches) && (s.Value == r.Bracket[0] || s.Value == r.Bracket[1]) {
			out = append(out, cropColumn{Number: swatchNumber(r, s), Images: images(p.Swatches[k],
				lines.OneLine(r.Analyte.Name)+", swatch for "+lines.Plain(s.Value), crop)})
		}
	}
	pad := cropColumn{Number: padNumber(r), Pad: true, Images: images(p.Pad, lines.OneLine(r.Analyte.Name)+", pad", crop)}
	at := min(1, len(out))
	switch r.Range {
	case calib.Below:
		at = 0
	case calib.Above:
		at = len(out)
	}
	return &Crops{slices.Insert(out, at, pad), len(p.Pad) > 1}
}

// images are the pictures of some marks, one for each part.
func images(marks []charts.Mark, alt string, crop func(colorimetry.Region) string) (out []image) {
	for _, m := range marks {
		a := alt
		if len(marks) > 1 {
			a += ", part " + lines.Plain(float64(m.Part))
		}
		if src := markup.Address(crop(m.Region)); src != "" {
			out = append(out, image{src, a})
		}
	}
	return out
}

// swatchNumber is the text under a swatch: its value. It is the label where that
// begins with the value or the pad is one of two, and else both.
func swatchNumber(r calib.Reading, s calib.SwatchColour) string {
	label, value := lines.OneLine(s.Label), lines.Plain(s.Value)
	rest, begins := strings.CutPrefix(label, value)
	switch {
	case label == "":
		return value
	case r.Analyte.Kind == charts.KindPresence, begins && !strings.ContainsAny(rest[:min(1, len(rest))], "0123456789.,"):
		return label
	}
	return value + ", " + label
}

// padNumber is the text under the pad.
func padNumber(r calib.Reading) string {
	switch {
	case r.Analyte.Kind == charts.KindPresence:
		return "pad"
	case r.Range == calib.Above:
		return "pad, " + lines.Plain(r.Swatches[len(r.Swatches)-1].Value) + " or more"
	case r.Range == calib.Below:
		return "pad, " + lines.Plain(r.Swatches[0].Value) + " or less"
	}
	return "pad " + lines.Figure(r.Value, words.Digits(r))
}
