package units

import (
	"cmp"
	"fmt"
)

// Convert returns a quantity of an analyte in another unit. The analyte's name
// decides which ways of expressing it are one: nitrate as N and as NO3, hardness
// as CaCO3 and in degrees. The error is a [*Error]: pH is never converted,
// and a figure that does not say what it is expressed as, and has to, is not
// converted either, not even into itself.
func Convert(analyte string, q Quantity, to Unit) (Quantity, error) {
	f, err := Factor(analyte, q.Unit, to)
	if err != nil {
		return Quantity{}, err
	}
	return Quantity{Value: f.Of(q.Value), Unit: to}, nil
}

// Ratio is a factor, kept as two numbers, so that 0.3 mg/L is 300 ug/L and not
// nearly so.
type Ratio struct{ over, under float64 }

// Of returns a figure times the factor.
func (f Ratio) Of(v float64) float64 { return v * f.over / f.under }

// Factor returns what a figure of the analyte in one unit is multiplied with to
// give it in another; exact but for the atomic masses. Errors as [Convert].
func Factor(analyte string, from, to Unit) (Ratio, error) {
	s := substanceOf(analyte)
	for _, u := range []Unit{from, to} {
		if u.lacksAs(s) {
			return Ratio{}, &Error{Text: analyte + " in " + u.Name, NeedsAs: true,
				What: "does not say what it is expressed as", Do: "write " + u.Name + " as " + s.known()}
		}
	}
	if from == to {
		return Ratio{1, 1}, nil
	}
	a, okA := from.info()
	b, okB := to.info()
	if !okA || !okB {
		return Ratio{}, cannot(analyte, from, to, "only units known here are converted")
	}
	if a.measure == acidity || b.measure == acidity {
		return Ratio{}, cannot(analyte, from, to, "pH is a scale of its own")
	}
	if a.measure == b.measure && s.same(from, to) {
		return Ratio{a.per.over * b.per.under, a.per.under * b.per.over}, nil
	}
	x, whyX := s.counted(from, a)
	y, whyY := s.counted(to, b)
	if whyX != "" || whyY != "" {
		return Ratio{}, cannot(analyte, from, to, cmp.Or(whyX, whyY))
	}
	return Ratio{x.over * y.under, x.under * y.over}, nil
}

// cannot is the error of a conversion that there is not.
func cannot(analyte string, from, to Unit, why string) *Error {
	return &Error{Text: analyte, What: fmt.Sprintf("cannot be converted from %s to %s", from, to), Do: why}
}

// LacksAs reports whether a figure of the analyte in this unit leaves open what
// it is expressed as, and between what: "N or NO3".
func (u Unit) LacksAs(analyte string) (forms string, lacks bool) {
	s := substanceOf(analyte)
	return s.known(), u.lacksAs(s)
}

// lacksAs reports whether a figure in this unit leaves open what it is expressed as.
func (u Unit) lacksAs(s substance) bool {
	n, ok := u.info()
	return ok && s.needs && u.As == "" && n.measure == mass && degrees[u.Name] == ""
}

// same reports whether both units express the substance as one thing.
func (s substance) same(a, b Unit) bool { return s.as(a) == s.as(b) }

// as is what a figure in the unit is expressed as, said or understood.
func (s substance) as(u Unit) string {
	if u.As != "" {
		return u.As
	}
	if d := degrees[u.Name]; d != "" {
		return d
	}
	if n, ok := u.info(); ok && n.measure == mass && len(s.forms) > 0 {
		return s.forms[0].as
	}
	return ""
}

// counted is the factor from the unit to mmol/L of what the substance counts,
// or why there is none.
func (s substance) counted(u Unit, n Named) (r Ratio, why string) {
	f, known := s.form(s.as(u))
	switch {
	case len(s.forms) == 0:
		return Ratio{}, "nothing is known here of how it is expressed"
	case !known:
		return Ratio{}, "it is expressed as " + s.known()
	case degrees[u.Name] != "" && u.Name != "gr/gal" && !s.degrees:
		return Ratio{}, "degrees are of hardness and alkalinity"
	case n.measure == amount && s.asOnly && u.As == "":
		return Ratio{}, "say of what a mole is, such as mmol/L as HCO3"
	case n.measure == amount:
		return Ratio{n.per.over * f.count, n.per.under}, ""
	case n.measure == charge && s.charges > 0:
		return Ratio{n.per.over, n.per.under * s.charges}, ""
	case n.measure == mass && molarMass(f.as) > 0:
		return Ratio{n.per.over * f.count, n.per.under * molarMass(f.as)}, ""
	}
	return Ratio{}, "these two measure different things of it"
}
