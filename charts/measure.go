package charts

import (
	"strings"

	"padband/charts/units"
)

// Measure returns the unit of the analyte's swatches, spelled as in [All]
// where it is one of them and as the chart has it where not.
func (a Analyte) Measure() units.Unit {
	u := units.Unit{Name: strings.TrimSpace(a.Unit), As: strings.TrimSpace(a.As)}
	if p, err := units.Parse(u.String()); err == nil {
		return p
	}
	return u
}

// Undiluted returns the analyte with its values as they are for the water
// before it was mixed. Printed texts beside swatches are left out: they are of
// the pad. It refuses pH, which mixing does not divide, and yes-or-no pads; the
// error is a [*Error].
func (a Analyte) Undiluted(d units.Dilution) (Analyte, error) {
	if strings.EqualFold(a.Unit, "pH") {
		return a, &units.Error{Text: a.Name, What: "is not divided by diluting", Do: "dip a strip in the water itself"}
	}
	if a.Kind == KindPresence {
		return a, &units.Error{Text: a.Name, What: "is read as yes or no, which cannot be multiplied", Do: "dip a strip in the water itself"}
	}
	return a.Scaled(d.Times()), nil
}

// Scaled is the analyte with its swatches' values multiplied, without the texts
// printed beside them.
func (a Analyte) Scaled(f units.Ratio) Analyte {
	all := make([]Swatch, len(a.Swatches))
	for i, s := range a.Swatches {
		all[i] = Swatch{Value: f.Of(s.Value)}
	}
	a.Swatches = all
	return a
}

// In returns the analyte with its swatches' values in another unit; errors as [Convert].
func (a Analyte) In(to units.Unit) (Analyte, error) {
	f, err := units.Factor(a.Name, a.Measure(), to)
	if err != nil {
		return a, err
	}
	out := a.Scaled(f)
	out.Unit, out.As = to.Name, to.As
	return out, nil
}
