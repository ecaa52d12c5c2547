package calib

import (
	"fmt"

	"padband/charts/units"
)

// Undiluted returns a reading of diluted water as one of the water before it
// was mixed: value and bands times the factor, the water band wider by how far
// the measuring may be off. What the photo shows of the pad stays. It refuses pH
// and yes-or-no pads; the error is a [*charts.UnitError].
func (r Reading) Undiluted(d units.Dilution) (Reading, error) {
	a, err := r.Analyte.Undiluted(d)
	if err != nil {
		return Reading{}, err
	}
	out := r
	out.Analyte = a
	out.Water = r.Water.Blur(func(t float64) float64 {
		const h = 0.5 / perStep
		slope := (a.ValueAt(t+h) - a.ValueAt(t-h)) / (2 * h)
		if !(slope > 0) {
			return 0
		}
		return d.Error / 1.96 * a.ValueAt(t) / slope
	})
	out.Value, out.Range = out.value(r.Posterior.Quantile(0.5))
	out.Bracket = out.bracket(r.Posterior.Quantile(0.5))
	out.Band = out.band(out.Posterior)
	out.WaterBand = out.band(out.Water).hull(out.Band)
	out.Swatches = append([]SwatchColour(nil), r.Swatches...)
	for i := range out.Swatches {
		out.Swatches[i].Value, out.Swatches[i].Label = a.Swatches[i].Value, ""
	}
	return out, nil
}

// disagreed is the probability that two strips must differ with to be said to:
// one pair in a hundred by chance.
const disagreed = 0.995

// CheckDilution compares a strip of the water itself with one of the diluted
// water, already as [Reading.Undiluted], and reports what is wrong between them:
// the diluted pad is still at the chart's top, or the two cannot both be right.
func CheckDilution(undiluted, diluted Reading) (Warning, bool) {
	name := diluted.Analyte.Name
	if diluted.Range == Above {
		return Warning{Code: CodeDilutionAtTop, Weight: Caution, Places: []Place{{Kind: PlacePad, Analyte: name}},
			Seen: fmt.Sprintf("Diluted as it is, the %s pad is still at the chart's top.", name), Then: "Dilute it further and dip a new strip."}, true
	}
	if undiluted.Analyte.Measure() != diluted.Analyte.Measure() {
		return Warning{}, false
	}
	difference := fold(undiluted.Water.worths(undiluted.Analyte, 1), minus(diluted.Water.worths(diluted.Analyte, 1)))
	more := over(difference, 0)
	word := "less"
	switch {
	case more.AtMost <= 1-disagreed:
		word = "more"
	case more.AtLeast < disagreed:
		return Warning{}, false
	}
	return Warning{Code: CodeDilutionDisagrees, Weight: Caution, Limit: disagreed, Figure: max(more.AtLeast, 1-more.AtMost), Places: []Place{{Kind: PlacePad, Analyte: name}},
		Seen: fmt.Sprintf("The diluted strip says that there is %s %s in the water than the strip of the water itself does.", word, name),
		Then: "One of the two is wrong: check the dilution water with a strip, measure anew, and dip two new strips."}, true
}
