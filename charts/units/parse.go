package units

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"padband/charts/strict"
)

// forms are the ways to write what a figure is expressed as, in small letters
// without signs of charge.
var forms = map[string]string{
	"n": "N", "nitrogen": "N", "no3-n": "N", "no2-n": "N", "nh4-n": "N", "nh3-n": "N",
	"no3": "NO3", "nitrate": "NO3", "nitrate ion": "NO3", "no3 ion": "NO3",
	"no2": "NO2", "nitrite": "NO2", "nitrite ion": "NO2", "no2 ion": "NO2",
	"nh4": "NH4", "ammonium": "NH4", "nh3": "NH3", "ammonia": "NH3",
	"p": "P", "phosphorus": "P", "po4-p": "P", "po4": "PO4", "phosphate": "PO4", "p2o5": "P2O5",
	"s": "S", "so4-s": "S", "so4": "SO4", "sulfate": "SO4", "sulphate": "SO4",
	"caco3": "CaCO3", "calcium carbonate": "CaCO3", "cao": "CaO", "ca": "Ca", "mg": "Mg", "hco3": "HCO3",
	"cl2": "Cl2", "chlorine": "Cl2", "cl": "Cl", "br2": "Br2", "sio2": "SiO2", "si": "Si",
	"fe": "Fe", "mn": "Mn", "cu": "Cu", "pb": "Pb", "as": "As", "f": "F", "zn": "Zn", "al": "Al",
	"ag": "Ag", "cd": "Cd", "sb": "Sb", "b": "B", "na": "Na", "k": "K",
}

// chargeSigns are left out of what a figure is expressed as: NO3⁻, NH4+.
var chargeSigns = strings.NewReplacer("⁻", "", "⁺", "", "²", "", "³", "", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "+", "")

// brackets are left out: mg/L (as Cl2).
var brackets = strings.NewReplacer("(", "", ")", "")

// parseAs returns how what a figure is expressed as is printed.
func parseAs(text string) (string, bool) {
	key := strings.ToLower(chargeSigns.Replace(strings.TrimSpace(text)))
	if as, ok := forms[key]; ok {
		return as, true
	}
	as, ok := forms[strings.TrimRight(key, "-")]
	return as, ok
}

// unitSigns are the letters that one unit is written with in several ways.
var unitSigns = strings.NewReplacer("µ", "u", "μ", "u", "³", "3", "º", "°", "deg ", "°", "° ", "°")

// unitName returns the printed name of a unit however it is written; capitals
// do not matter.
func unitName(text string) (string, bool) {
	text = unitSigns.Replace(strings.Join(strings.Fields(text), " "))
	for _, n := range named {
		if strings.EqualFold(n.Name, text) {
			return n.Name, true
		}
		for _, w := range n.Written {
			if strings.EqualFold(w, text) {
				return n.Name, true
			}
		}
	}
	return "", false
}

// wordAs parts a unit from what it is expressed as.
var wordAs = regexp.MustCompile(`(?i)\s+as\s+`)

// Parse reads a unit with or without what it is expressed as: "mg/L as N",
// "mg/L NO3", "µg/L", "ppm as CaCO3", "gpg", "°dH", "pH". The error is a
// [*Error].
func Parse(text string) (Unit, error) {
	text = strings.TrimSpace(brackets.Replace(text))
	if name, ok := unitName(text); ok {
		return Unit{Name: name}, nil
	}
	unit, as := text, ""
	if at := wordAs.FindStringIndex(text); at != nil {
		unit, as = text[:at[0]], text[at[1]:]
	} else if i := strings.LastIndex(text, " "); i >= 0 {
		unit, as = text[:i], text[i+1:]
	}
	name, ok := unitName(unit)
	if !ok {
		return Unit{}, &Error{
			Text: strict.Quote(text),
			What: "is no unit known here",
			Do:   "write one such as mg/L as N, ug/L, ppm, gr/gal, °dH, mmol/L or pH",
		}
	}
	form, ok := parseAs(as)
	switch {
	case !ok:
		return Unit{}, &Error{
			Text: strict.Quote(text),
			What: "does not say what it is expressed as in a way known here",
			Do:   "write it such as " + name + " as N, as NO3 or as CaCO3",
		}
	case name == "pH" || name == "uS/cm" || name == "mS/cm":
		return Unit{}, &Error{Text: strict.Quote(text), What: "is expressed as nothing", Do: "write " + name + " alone"}
	case degrees[name] == form, degrees[name] != "" && form == "CaCO3":
		return Unit{Name: name}, nil // a degree says it already
	}
	return Unit{Name: name, As: form}, nil
}

var oneFigure = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?|\.[0-9]+)\s*(.*)$`)

// ParseQuantity reads a figure of 0 or more with its unit: "10 mg/L as N",
// "0.3 ppm", "5 °dH", "7.2 pH" or "pH 7.2". A decimal comma is refused: 1,000
// could be either. The error is a [*Error].
func ParseQuantity(text string) (Quantity, error) {
	text = strings.TrimSpace(text)
	rest := text
	if len(text) > 2 && strings.EqualFold(text[:2], "pH") {
		rest = strings.TrimSpace(text[2:]) + " pH"
	}
	m := oneFigure.FindStringSubmatch(rest)
	if m == nil {
		return Quantity{}, &Error{Text: strict.Quote(text), What: "does not begin with a figure", Do: "write it such as 10 mg/L as N"}
	}
	if strings.HasPrefix(m[2], ",") {
		return Quantity{}, &Error{Text: strict.Quote(text), What: "has a comma in its figure", Do: "write a point, and nothing between thousands"}
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil || !(math.Abs(v) <= strict.MaxNumber) {
		return Quantity{}, &Error{Text: strict.Quote(text), What: "is beyond " + strict.Figure(strict.MaxNumber), Do: "write it right"}
	}
	if m[2] == "" {
		return Quantity{}, &Error{Text: strict.Quote(text), What: "has no unit", Do: "write it such as " + m[1] + " mg/L as N"}
	}
	u, err := Parse(m[2])
	if err != nil {
		return Quantity{}, err
	}
	return Quantity{Value: v, Unit: u}, nil
}
