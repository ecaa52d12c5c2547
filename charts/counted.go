package charts

import (
	"fmt"
	"slices"
	"strings"

	"padband/charts/figures"
	"padband/charts/strict"
	"padband/charts/units"
)

// unsaid are the ways to say that a chart does not tell what it is expressed as.
var unsaid = []string{"not said", "not printed", "unknown", "?"}

// grains stand for a gallon that is not named.
var grains = []string{"grains", "grain", "gr", "grains of hardness"}

// counted reads what the row is counted in and what it is expressed as, from their
// fields or, where these are empty, from behind the values.
func (r *reader) counted(a *Analyte, t TypedAnalyte, items []figures.Item) {
	unit, as := strings.TrimSpace(t.Unit), strings.TrimSpace(t.As)
	open := slices.ContainsFunc(unsaid, func(w string) bool { return strings.EqualFold(w, as) })
	if open {
		as = ""
	}
	if unit == "" && len(items) > 0 {
		unit = items[0].Unit
	}
	switch {
	case unit == "" && strings.EqualFold(a.Name, "pH"):
		unit = "pH"
	case unit == "" && a.Kind != KindPresence:
		r.fail("unit", "the unit is missing; type what the chart's values are counted in, such as mg/L or ppm")
		return
	case unit == "":
		return
	case slices.ContainsFunc(grains, func(w string) bool { return strings.EqualFold(w, unit) }):
		r.fail("unit", strict.Quote(unit)+" leaves open which gallon is meant; choose one",
			figures.Answer{Says: "grains in a US gallon", Text: "gr/gal"}, figures.Answer{Says: "grains in an imperial gallon", Text: "°e"})
		return
	}
	u, field, err := unitOf(unit, as)
	if err != nil {
		r.failed(field, err)
		return
	}
	a.Unit, a.As = u.Name, u.As
	r.sameUnits(u, items)
	r.expressed(*a, u, open)
}

// unitOf puts a unit and what it is expressed as together. A unit that is not known here
// is taken as it is. The error is about the field that it comes with.
func unitOf(unit, as string) (u units.Unit, field string, err error) {
	u, err = units.Parse(unit)
	if err != nil {
		name, form, both := strings.Cut(unit, " as ")
		if _, known := units.Parse(name); both && known == nil {
			return u, "unit", err // its form is what is not known
		}
		u = units.Unit{Name: unit}
		if both {
			u = units.Unit{Name: strings.TrimSpace(name), As: strings.TrimSpace(form)}
		}
	}
	if as == "" {
		return u, "", nil
	}
	if err != nil {
		if u.As == "" {
			u.As = as
		}
		return u, "", nil
	}
	full, err := units.Parse(u.Name + " as " + as)
	switch {
	case err != nil:
		return u, "as", err
	case u.As != "" && u.As != full.As:
		return u, "as", fmt.Errorf("the unit says as %s and this field says %s; keep one of them", u.As, strict.Quote(as))
	}
	return full, "", nil
}

// sameUnits refuses a unit behind a value that is not the row's.
func (r *reader) sameUnits(u units.Unit, items []figures.Item) {
	for _, i := range items {
		if i.Unit == "" {
			continue
		}
		if v, err := units.Parse(i.Unit); err != nil || v.Name != u.Name || v.As != "" && v.As != u.As {
			r.fail("values", fmt.Sprintf("%s has another unit than the row, which is counted in %s; mend one", strict.Quote(i.Text), u))
			return
		}
	}
}

// expressed asks what the row is expressed as where its unit leaves it open, and notes
// what is not known here.
func (r *reader) expressed(a Analyte, u units.Unit, open bool) {
	if !isUnit(u.Name) {
		r.note(fmt.Sprintf("the unit %s is not known here: it is read, and set against no limit", strict.Quote(u.Name)))
		return
	}
	if n := u.Note(); n != "" {
		r.note(n)
	}
	forms, lacks := u.LacksAs(a.Name)
	switch known := units.Forms(a.Name); {
	case lacks && a.Kind == KindPresence:
	case lacks && open:
		r.note(fmt.Sprintf("without what it is expressed as (%s), it is read, and set against no limit", forms))
	case lacks:
		what := fmt.Sprintf("%s in %s leaves open what it is expressed as; choose what the chart says", a.Name, u.Name)
		r.fail("as", what, formAnswers(known)...)
	case u.As != "" && len(known) > 0 && !slices.Contains(known, u.As):
		usual := strings.Join(known, " or ")
		r.note(fmt.Sprintf("%s is usually expressed as %s; as %s it is read, and set against no limit", a.Name, usual, u.As))
	}
}

func formAnswers(forms []string) (out []figures.Answer) {
	for _, f := range forms {
		out = append(out, figures.Answer{Says: "as " + f, Text: f})
	}
	return append(out, figures.Answer{Says: "the chart does not say", Text: unsaid[0]})
}
