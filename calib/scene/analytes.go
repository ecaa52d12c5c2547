package scene

import (
	"errors"
	"math"

	"padband/charts"
	"padband/colorimetry"
)

// kindOf is one kind of analyte that scenes draw from.
type kindOf struct {
	name, unit, as string
	families       []string
	values         func(d dice, n int) []float64
}

var kinds = []kindOf{
	{"nitrate", "mg/L", "N", []string{"pink", "pink", "turning"}, growing},
	{"nitrite", "mg/L", "N", []string{"pink"}, growing},
	{"total hardness", "mg/L", "CaCO3", []string{"hardness"}, mostlyGrowing},
	{"free chlorine", "mg/L", "Cl2", []string{"violet", "violet", "reversed"}, growing},
	{"total alkalinity", "mg/L", "CaCO3", []string{"alkaline"}, mostlyEven},
	{"pH", "pH", "", []string{"acid"}, acidity},
	{"sulfite", "mg/L", "SO3", []string{"fading"}, growing},
	{"copper", "mg/L", "Cu", []string{"turning", "fading"}, growing},
	{"iron", "mg/L", "Fe", []string{"turning", "reversed", "pink"}, growing},
}

func mostlyGrowing(d dice, n int) []float64 {
	if d.chance(0.7) {
		return growing(d, n)
	}
	return evenly(d, n)
}

func mostlyEven(d dice, n int) []float64 {
	if d.chance(0.5) {
		return growing(d, n)
	}
	return evenly(d, n)
}

// Limits on what a maker would print as a scale: CIE76 distances between neighbours.
const (
	closestSwatches  = 6.0
	meanStepLow      = 9.0
	meanStepHigh     = 26.0
	unevennessOfStep = 4.0
)

var errNoReagent = errors.New("scene: no printable reagent drawn for the chart")

// drawAnalyte draws an analyte of n swatches with reagents whose scale a maker would print.
func drawAnalyte(d dice, k kindOf, n, parts int, p *press, v *viewer) (charts.Analyte, Pad, error) {
	for range 4 {
		a := charts.Analyte{Name: k.name, Unit: k.unit, As: k.as, Kind: charts.KindScale, Spacing: charts.SpacingAuto, Parts: parts}
		values := k.values(d, n)
		for _, value := range values {
			a.Swatches = append(a.Swatches, charts.Swatch{Value: value})
		}
		pad := Pad{Family: pick(d, k.families)}
		if pad.draw(d, values, parts, p, v) {
			return a, pad, nil
		}
	}
	return charts.Analyte{}, Pad{}, errNoReagent
}

// draw draws the reagents of a pad until its scale is one that can be printed and told apart.
func (p *Pad) draw(d dice, values []float64, parts int, on *press, v *viewer) bool {
	for range 15 {
		p.reagents = p.reagents[:0]
		for range parts {
			p.reagents = append(p.reagents, families[p.Family](d, values))
		}
		if saleable(p.reagents, values, v) && printable(p.reagents, values, on, v) {
			return true
		}
	}
	return false
}

// saleable says whether neighbours on the scale differ as on charts that are sold.
func saleable(reagents []reagent, values []float64, v *viewer) bool {
	least, most, sum := math.Inf(1), 0.0, 0.0
	for i := range values[1:] {
		d2 := 0.0
		for k := range reagents {
			a, b := reagents[k].spectrumAt(values[i], 1), reagents[k].spectrumAt(values[i+1], 1)
			d := colorimetry.DeltaE76(v.lab(&a), v.lab(&b))
			d2 += d * d
		}
		d := math.Sqrt(d2)
		least, most, sum = min(least, d), max(most, d), sum+d
	}
	mean := sum / float64(len(values)-1)
	wide := math.Sqrt(float64(len(reagents)))
	return least >= closestSwatches && mean >= meanStepLow && mean <= meanStepHigh*wide && most <= unevennessOfStep*least
}

// printable says whether the press can print all of the scale.
func printable(reagents []reagent, values []float64, on *press, v *viewer) bool {
	for k := range reagents {
		for _, value := range values {
			r := reagents[k].spectrumAt(value, 1)
			if _, err := on.match(v, v.lab(&r)); err != nil {
				return false
			}
		}
	}
	return true
}

// Colours are the exact colours of one analyte: CIELAB under D50 against the
// perfect white, by the CIE 1931 observer. Indices: part, then swatch.
type Colours struct {
	Pad    []colorimetry.Lab   // the dry pad at the true value
	Scale  [][]colorimetry.Lab // the dry pad at each swatch's value
	Swatch [][]colorimetry.Lab // the printed swatches
}

// scalePrints are the spectra of one analyte: of its pad's parts and of its swatches [part][swatch].
type scalePrints struct {
	pads     []Spectrum
	rough    []Spectrum // pad where there is more dye
	swatches [][]Spectrum
	colours  Colours
}

// prints works out the spectra of one analyte's pad and swatches.
func (p *Pad) prints(d dice, a *charts.Analyte, on *press, v *viewer) (out scalePrints, err error) {
	value := valueAt(a, p.Step)
	common := printError(d, p.PrintCommon)
	for k := range p.reagents {
		r := &p.reagents[k]
		out.pads = append(out.pads, p.wet(r, value, 1))
		out.rough = append(out.rough, p.wet(r, value, 1.1))
		dry := r.spectrumAt(value, 1)
		out.colours.Pad = append(out.colours.Pad, v.lab(&dry))
		row, scale, printed := make(
			[]Spectrum,
			len(a.Swatches),
		), make(
			[]colorimetry.Lab,
			len(a.Swatches),
		), make(
			[]colorimetry.Lab,
			len(a.Swatches),
		)
		for i, s := range a.Swatches {
			want := r.spectrumAt(s.Value, 1)
			scale[i] = v.lab(&want)
			if row[i], err = on.nearest(v, moved(scale[i], common, printError(d, p.PrintEach)), scale[i]); err != nil {
				return out, err
			}
			printed[i] = v.lab(&row[i])
		}
		out.swatches = append(out.swatches, row)
		out.colours.Scale, out.colours.Swatch = append(out.colours.Scale, scale), append(out.colours.Swatch, printed)
	}
	return out, nil
}

// wet is the pad's reflectance as photographed: darker paper, and the gloss of its surface.
func (p *Pad) wet(r *reagent, value, strength float64) Spectrum {
	moist := *r
	moist.base = r.base.scaled(1 + p.Wet)
	s := moist.spectrumAt(value, strength)
	for i := range s {
		s[i] = p.Gloss + (1-p.Gloss)*s[i]
	}
	return s
}

// nearest prints the colour wanted or, where the error leads out of what the
// press can print, the colour on the way back to the one meant.
func (p *press) nearest(v *viewer, want, meant colorimetry.Lab) (Spectrum, error) {
	var got Spectrum
	var err error
	for _, f := range []float64{1, 0.7, 0.4, 0} {
		aim := colorimetry.Lab{L: meant.L + f*(want.L-meant.L), A: meant.A + f*(want.A-meant.A), B: meant.B + f*(want.B-meant.B)}
		if got, err = p.match(v, aim); err == nil {
			return got, nil
		}
	}
	return got, err
}

func printError(d dice, sd float64) [3]float64 {
	return [3]float64{d.near(0, sd), d.near(0, sd), d.near(0, sd)}
}

func moved(c colorimetry.Lab, a, b [3]float64) colorimetry.Lab {
	return colorimetry.Lab{L: c.L + a[0] + b[0], A: c.A + a[1] + b[1], B: c.B + a[2] + b[2]}
}
