package units

import (
	"regexp"
	"strconv"
	"strings"
)

// atomicMass in g/mol: IUPAC abridged standard atomic weights 2021 (Prohaska et
// al. 2022, Pure Appl. Chem. 94:573).
var atomicMass = map[string]float64{
	"H": 1.008, "C": 12.011, "N": 14.007, "O": 15.999, "Mg": 24.305,
	"Si": 28.085, "P": 30.974, "S": 32.06, "Ca": 40.078,
}

var element = regexp.MustCompile(`([A-Z][a-z]?)([0-9]*)`)

// molarMass is a formula's mass in g/mol, 0 when one of its elements is not known here.
func molarMass(formula string) float64 {
	sum := 0.0
	for _, m := range element.FindAllStringSubmatch(formula, -1) {
		n := 1
		if m[2] != "" {
			n, _ = strconv.Atoi(m[2])
		}
		a, ok := atomicMass[m[1]]
		if !ok {
			return 0
		}
		sum += float64(n) * a
	}
	return sum
}

// substance is what is known of an analyte to convert its figures. Amounts are
// counted in the atom or ion that all its forms share.
type substance struct {
	words []string // the analyte's name holds one of them
	forms []form   // the first is what a figure without an "as" is, unless needs
	needs bool     // a mass of it means nothing without what it is expressed as
	// charges are the equivalents in what is counted; 0 where no one counts so.
	charges float64
	degrees bool // German, French and English degrees are used for it
	// asOnly is true where a mole of it must say of what.
	asOnly bool
}

// form is one way to express a substance; one unit of its formula holds count
// of what is counted.
type form struct {
	as    string
	count float64
}

// substances are looked through in order: carbonate hardness is an alkalinity.
var substances = []substance{
	{words: []string{"nitrate"}, forms: []form{{"N", 1}, {"NO3", 1}}, needs: true, charges: 1},
	{words: []string{"nitrite"}, forms: []form{{"N", 1}, {"NO2", 1}}, needs: true, charges: 1},
	{words: []string{"ammoni"}, forms: []form{{"N", 1}, {"NH3", 1}, {"NH4", 1}}, needs: true},
	{words: []string{"phosph"}, forms: []form{{"P", 1}, {"PO4", 1}, {"P2O5", 2}}, needs: true},
	{
		words:   []string{"alkalinity", "carbonate hardness"},
		forms:   []form{{"CaCO3", 1}, {"HCO3", 0.5}, {"CaO", 1}},
		needs:   true,
		charges: 2,
		degrees: true,
		asOnly:  true,
	},
	{words: []string{"hardness"}, forms: []form{{"CaCO3", 1}, {"CaO", 1}, {"Ca", 1}, {"Mg", 1}}, needs: true, charges: 2, degrees: true},
	{words: []string{"calcium"}, forms: []form{{"Ca", 1}, {"CaCO3", 1}, {"CaO", 1}}, charges: 2, degrees: true},
	{words: []string{"magnesium"}, forms: []form{{"Mg", 1}, {"CaCO3", 1}, {"CaO", 1}}, charges: 2, degrees: true},
	{words: []string{"sulfate", "sulphate"}, forms: []form{{"SO4", 1}, {"S", 1}}, charges: 2},
	{words: []string{"silica"}, forms: []form{{"SiO2", 1}, {"Si", 1}}},
	{words: []string{"chlorine", "chloramine"}, forms: []form{{"Cl2", 1}}, needs: true},
	{words: []string{"bromine"}, forms: []form{{"Br2", 1}}},
	{words: []string{"chloride"}, forms: []form{{"Cl", 1}}},
	{words: []string{"fluoride"}, forms: []form{{"F", 1}}},
	{words: []string{"iron"}, forms: []form{{"Fe", 1}}},
	{words: []string{"manganese"}, forms: []form{{"Mn", 1}}},
	{words: []string{"copper"}, forms: []form{{"Cu", 1}}},
	{words: []string{"lead"}, forms: []form{{"Pb", 1}}},
	{words: []string{"arsenic"}, forms: []form{{"As", 1}}},
	{words: []string{"zinc"}, forms: []form{{"Zn", 1}}},
	{words: []string{"aluminium", "aluminum"}, forms: []form{{"Al", 1}}},
	{words: []string{"silver"}, forms: []form{{"Ag", 1}}},
	{words: []string{"cadmium"}, forms: []form{{"Cd", 1}}},
	{words: []string{"antimony"}, forms: []form{{"Sb", 1}}},
	{words: []string{"boron"}, forms: []form{{"B", 1}}},
	{words: []string{"sodium"}, forms: []form{{"Na", 1}}},
}

// substanceOf finds what an analyte's name stands for. An unknown one can only
// be converted between units of one kind.
func substanceOf(analyte string) substance {
	name := strings.ToLower(analyte)
	for _, s := range substances {
		for _, w := range s.words {
			if strings.Contains(name, w) {
				return s
			}
		}
	}
	return substance{}
}

// form finds how the substance is expressed by that name; without a name, as
// its figures are understood.
func (s substance) form(as string) (form, bool) {
	for i, f := range s.forms {
		if f.as == as || (as == "" && i == 0) {
			return f, true
		}
	}
	return form{}, false
}

// known lists the forms for messages: "N or NO3".
func (s substance) known() string {
	var all []string
	for _, f := range s.forms {
		all = append(all, f.as)
	}
	return strings.Join(all, " or ")
}
