package report

import (
	"fmt"
	"math"

	"padband/calib"
	"padband/cmd/padband/internal/lines"
	"padband/colorimetry"
)

// Figures are the figures that a page folds away: a reading's colours and its budget.
type Figures struct {
	OffScale string
	Colours  []colourRow
	Budget   []Fact
}

// colourRow is one patch's CIELAB colour and its difference from the pad.
type colourRow struct{ Patch, L, A, B, DeltaE string }

// Fact is a name with its figure.
type Fact struct{ Name, Figure string }

// newFigures gives the figures of a reading. The colours of its pad come first.
func newFigures(r calib.Reading) Figures {
	f := Figures{OffScale: lines.Decimal(r.DeltaEToScale, 1)}
	f.Colours = colourRows("pad", r.Pad, "")
	for _, s := range r.Swatches {
		f.Colours = append(f.Colours, colourRows(swatchNumber(r, s), s.Lab, lines.Decimal(s.DeltaE, 1))...)
	}
	for _, b := range r.Budget {
		f.Budget = append(f.Budget, Fact{lines.UpperFirst(b.Source.Name()), lines.Decimal(b.Steps, 2)})
	}
	return f
}

// colourRows gives a row for each part of a patch. The difference is the mean over the
// parts and stands in the first row.
func colourRows(name string, parts []colorimetry.Lab, deltaE string) (out []colourRow) {
	for i, c := range parts {
		row := colourRow{name, lines.Decimal(c.L, 1), lines.Decimal(c.A, 1), lines.Decimal(c.B, 1), deltaE}
		if len(parts) > 1 {
			row.Patch += fmt.Sprintf(", part %d", i+1)
		}
		if i > 0 {
			row.DeltaE = ""
		}
		out = append(out, row)
	}
	return out
}

// FiguresOf are the figures of the whole photo.
func FiguresOf(s Source) (out []Fact) {
	add := func(name, figure string) {
		if figure != "" {
			out = append(out, Fact{name, figure})
		}
	}
	if l := s.Light; !math.IsNaN(l.CCT) {
		add("White as recorded, colour temperature", lines.Decimal(l.CCT, 0)+"\u00a0K")
		add("White as recorded, Duv", lines.Decimal(l.Duv, 4))
	}
	add("Brightest light over darkest, at the patches", unevenness(s.Light))
	add("Colour profile", lines.OneLine(s.Photo.Profile))
	return out
}

// unevenness prints how much brighter the brightest light is than the darkest, as a
// ratio.
func unevenness(l calib.LightReport) string {
	if math.IsNaN(l.Unevenness) {
		return ""
	}
	return lines.Decimal(1+l.Unevenness, 2)
}
