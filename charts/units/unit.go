// Package units holds quantities of an analyte in water: units, what they are
// expressed as, conversion and dilution. Start at [ParseQuantity] and [Convert]. The
// package never guesses what a quantity is expressed as.
package units

import (
	"fmt"
	"strings"

	"padband/charts/strict"
)

// Unit is what a figure is counted in and what it is expressed as: mg/L as N.
// The zero Unit counts nothing (the sum of ratios of a rule).
type Unit struct {
	Name string // one of [All], or a chart's own word for it
	As   string // such as N, NO3, CaCO3; empty where nothing is said
}

// String prints the unit as charts do: "mg/L as N", "°dH", "pH".
func (u Unit) String() string {
	if u.As == "" {
		return u.Name
	}
	return u.Name + " as " + u.As
}

// Quantity is a figure in a unit.
type Quantity struct {
	Value float64
	Unit  Unit
}

// String prints the quantity: "10 mg/L as N", "7.2 pH".
func (q Quantity) String() string {
	return strings.TrimSpace(strict.Figure(q.Value) + " " + q.Unit.String())
}

// Named is one unit that people may type.
type Named struct {
	Name    string   // as it is printed
	Means   string   // in words
	Written []string // other ways to write it
	// per is the unit's worth in its measure: of mass in mg/L, of amount in
	// mmol/L, of conductivity in uS/cm.
	per     Ratio
	measure measure
}

// measure is what a unit counts.
type measure int

const (
	_            measure = iota
	mass                 // of the form that the figure is expressed as, in a volume of water
	amount               // of substance
	charge               // equivalents
	acidity              // pH
	conductivity         // of current
)

// Grains and gallons are exact: NIST SP 811, appendix B (grain 64.79891 mg, US
// gallon 3.785411784 L); UK Units of Measurement Regulations 1995 (gallon
// 4.54609 L). A German degree is 10 mg/L of CaO (DIN 38409-6), a French one
// 10 mg/L of CaCO3; both from memory.
var named = []Named{
	{
		Name:    "mg/L",
		Means:   "milligrams in a litre",
		measure: mass,
		per:     Ratio{1, 1},
		Written: []string{"mg/dm3", "milligrams per litre", "milligrams per liter"},
	},
	{
		Name:    "ug/L",
		Means:   "micrograms in a litre, a thousandth of mg/L",
		measure: mass,
		per:     Ratio{1, 1000},
		Written: []string{"mcg/L", "ug/dm3", "mg/m3"},
	},
	{Name: "ppm", Means: "parts per million, taken as mg/L in water", measure: mass, per: Ratio{1, 1}},
	{Name: "ppb", Means: "parts per billion, taken as ug/L in water", measure: mass, per: Ratio{1, 1000}},
	{Name: "g/m3", Means: "grams in a cubic metre, the same as mg/L", measure: mass, per: Ratio{1, 1}, Written: []string{"g m-3"}},
	{Name: "g/L", Means: "grams in a litre", measure: mass, per: Ratio{1000, 1}},
	{
		Name:    "gr/gal",
		Means:   "grains in a US gallon, 17.12 mg/L",
		measure: mass,
		per:     Ratio{64.79891, 3.785411784},
		Written: []string{"gpg", "grains per US gallon", "grains per gallon", "grains/gal", "gr/US gal"},
	},
	{
		Name:    "°e",
		Means:   "English (Clark) degrees, grains in an imperial gallon, 14.25 mg/L as CaCO3",
		measure: mass,
		per:     Ratio{64.79891, 4.54609},
		Written: []string{"°Clark", "Clark degrees", "English degrees", "gr/imp gal"},
	},
	{
		Name:    "°dH",
		Means:   "German degrees, 10 mg/L as CaO",
		measure: mass,
		per:     Ratio{10, 1},
		Written: []string{"dH", "°d", "German degrees", "dKH", "°KH", "dGH", "°GH"},
	},
	{
		Name:    "°fH",
		Means:   "French degrees, 10 mg/L as CaCO3",
		measure: mass,
		per:     Ratio{10, 1},
		Written: []string{"fH", "°f", "French degrees"},
	},
	{Name: "mmol/L", Means: "millimoles in a litre; of hardness, of calcium and magnesium together", measure: amount, per: Ratio{1, 1}},
	{Name: "mol/m3", Means: "moles in a cubic metre, the same as mmol/L", measure: amount, per: Ratio{1, 1}},
	{Name: "umol/L", Means: "micromoles in a litre", measure: amount, per: Ratio{1, 1000}},
	{Name: "meq/L", Means: "milliequivalents in a litre", measure: charge, per: Ratio{1, 1}, Written: []string{"mval/L", "meq/dm3"}},
	{Name: "uS/cm", Means: "microsiemens in a centimetre, conductivity", measure: conductivity, per: Ratio{1, 1}},
	{Name: "mS/cm", Means: "millisiemens in a centimetre", measure: conductivity, per: Ratio{1000, 1}},
	{Name: "pH", Means: "acidity; a scale of its own, never converted", measure: acidity, per: Ratio{1, 1}},
}

// All lists the units that can be typed and converted, in order for a help text.
func All() []Named { return append([]Named(nil), named...) }

// degrees are the units of hardness that carry in their name what they are
// expressed as.
var degrees = map[string]string{"gr/gal": "CaCO3", "°e": "CaCO3", "°fH": "CaCO3", "°dH": "CaO"}

// info returns what is known of a unit.
func (u Unit) info() (Named, bool) {
	for _, n := range named {
		if n.Name == u.Name {
			return n, true
		}
	}
	return Named{}, false
}

// Note says what has to be taken for granted to use the unit, empty for most:
// "ppm is taken as mg/L in water".
func (u Unit) Note() string {
	switch u.Name {
	case "ppm":
		return "ppm is taken as mg/L in water"
	case "ppb":
		return "ppb is taken as ug/L in water"
	}
	return ""
}

// Error says why a quantity cannot be read or converted. Its text is one line.
type Error struct {
	Text string // what was read or converted
	What string // what is wrong with it
	Do   string // what to do
	// NeedsAs is true where the figure does not say what it is expressed as.
	NeedsAs bool
}

// Error returns "text what; do".
func (e *Error) Error() string {
	return fmt.Sprintf("%s %s; %s", e.Text, e.What, e.Do)
}
