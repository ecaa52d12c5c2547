package units

import (
	"slices"
	"strings"
)

// commonForms are offered for an analyte that nothing is known of.
var commonForms = []string{"N", "NO3", "NO2", "NH4", "P", "PO4", "CaCO3", "Cl2", "SO4", "SiO2"}

// Offered lists what the figures of an analyte may be counted in and expressed as, the
// likeliest first: units, and forms such as N and NO3. Nothing else is ruled out.
func Offered(analyte string) (units []Named, forms []string) {
	s := substanceOf(analyte)
	first, forms := []string{"mg/L", "ppm", "ug/L", "ppb"}, commonForms
	switch {
	case isPH(analyte):
		first, forms = []string{"pH"}, nil
	case isConductivity(analyte):
		first, forms = []string{"uS/cm", "mS/cm"}, nil
	case s.degrees:
		first, forms = []string{"mg/L", "ppm", "gr/gal", "°dH", "°fH", "°e", "mmol/L"}, s.list()
	case s.forms != nil:
		forms = s.list()
	}
	for _, name := range first {
		n, _ := Unit{Name: name}.info()
		units = append(units, n)
	}
	for _, n := range named {
		if !slices.Contains(first, n.Name) {
			units = append(units, n)
		}
	}
	return units, forms
}

// Forms lists what figures of the analyte may be expressed as, empty where nothing is
// known of it.
func Forms(analyte string) []string { return substanceOf(analyte).list() }

// list are the forms by their names.
func (s substance) list() (all []string) {
	for _, f := range s.forms {
		all = append(all, f.as)
	}
	return all
}

func isPH(analyte string) bool { return strings.EqualFold(strings.TrimSpace(analyte), "pH") }

func isConductivity(analyte string) bool {
	return strings.Contains(strings.ToLower(analyte), "conductiv")
}
