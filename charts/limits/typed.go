package limits

import (
	"errors"
	"regexp"
	"strings"
	"time"

	"padband/charts"
	"padband/charts/strict"
	"padband/charts/units"
)

// LimitChoice is what readings are to be judged by: a set of limits, or one
// limit that a person typed.
type LimitChoice struct {
	Set   LimitSet // with no limits where one is typed
	Typed Limit    // its Analyte is empty when none was named
}

var (
	typedLimit = regexp.MustCompile(`^(?:([A-Za-z][A-Za-z +]*?)[: ]\s*)?(\.?[0-9].*)$`)
	typedRange = regexp.MustCompile(`^([0-9]*\.?[0-9]+)\s*(?:-|–|to)\s*([0-9]*\.?[0-9]+)\s*(.*)$`)
)

// ParseLimit reads what a person asks to be judged by: the name of a set
// ("us-epa"), a limit ("10 mg/L as N", "nitrate 10 mg/L as N") or a range to
// stay in ("6.5-8.5" for pH, "80-120 mg/L as CaCO3"). The error is a [*Error].
func ParseLimit(text string) (LimitChoice, error) {
	text = strings.TrimSpace(text)
	if s, ok := FindLimitSet(strings.ToLower(text)); ok {
		return LimitChoice{Set: s}, nil
	}
	m := typedLimit.FindStringSubmatch(text)
	if m == nil {
		return LimitChoice{}, &units.Error{Text: strict.Quote(text), What: "is no set of limits and no limit",
			Do: "write one of " + strings.Join(setOrder, ", ") + ", or a limit such as 10 mg/L as N or 6.5-8.5"}
	}
	l := Limit{Authority: "the limit given", Analyte: m[1], Kind: LimitGiven, Basis: BasisSample}
	var err error
	if r := typedRange.FindStringSubmatch(m[2]); r != nil {
		err = l.between(text, r)
	} else {
		err = l.under(text, m[2])
	}
	if err != nil {
		return LimitChoice{}, err
	}
	return LimitChoice{Typed: l}, nil
}

// under reads one figure that is not to be passed.
func (l *Limit) under(whole, text string) error {
	q, err := units.ParseQuantity(text)
	if strings.EqualFold(l.Analyte, "pH") || q.Unit.Name == "pH" {
		return &units.Error{Text: strict.Quote(whole), What: "has one end", Do: "write both ends of the pH to stay in, such as 6.5-8.5"}
	}
	if err != nil {
		return err
	}
	if q.Value == 0 {
		return &units.Error{Text: strict.Quote(whole), What: "is a limit of 0, which no strip can show", Do: "write a limit over 0"}
	}
	l.Value, l.Unit = q.Value, q.Unit
	return nil
}

// between reads two figures and their unit, pH when there is none.
func (l *Limit) between(whole string, r []string) error {
	if r[3] == "" {
		r[3] = "pH"
	}
	low, err := units.ParseQuantity(r[1] + " " + r[3])
	if err != nil {
		return err
	}
	high, err := units.ParseQuantity(r[2] + " " + r[3])
	if err != nil {
		return err
	}
	if !(low.Value > 0 && low.Value < high.Value) {
		return &units.Error{Text: strict.Quote(whole), What: "does not run from a lower figure to a higher one", Do: "write it such as 6.5-8.5"}
	}
	l.Low, l.High, l.Unit = low.Value, high.Value, low.Unit
	if l.Unit.Name == "pH" {
		l.Analyte = "pH"
	}
	return nil
}

// For returns the limits that an analyte is to be judged by on the day given,
// the first for health where there is one. A typed limit counts as one for
// health where an authority has a health limit for that analyte.
func (c LimitChoice) For(a charts.Analyte, on time.Time) []Limit {
	if len(c.Set.Limits) > 0 {
		return c.Set.Find(a.Name, on)
	}
	if !c.fits(a) {
		return nil
	}
	l := c.Typed
	l.Analyte = a.Name
	if healthMatters(a.Name) {
		l.Kind = LimitHealth
	}
	return []Limit{l}
}

// fits reports whether a typed limit is meant for the analyte: it names it, or
// names none and can be converted. An analyte that lacks its "as" fits, so that
// it is said to lack it.
func (c LimitChoice) fits(a charts.Analyte) bool {
	if c.Typed.Analyte != "" && !strings.EqualFold(c.Typed.Analyte, a.Name) {
		return false
	}
	_, err := units.Factor(a.Name, a.Measure(), c.Typed.Unit)
	var lacks *units.Error
	return err == nil || errors.As(err, &lacks) && lacks.NeedsAs
}

// Check refuses a typed limit that fits none of the analytes, or several of
// them without naming one.
func (c LimitChoice) Check(all []charts.Analyte) error {
	if len(c.Set.Limits) > 0 {
		return nil
	}
	var fit, names []string
	for _, a := range all {
		names = append(names, a.Name)
		if c.fits(a) {
			fit = append(fit, a.Name)
		}
	}
	text := "the limit " + c.Typed.Text()
	switch {
	case len(fit) == 0 && c.Typed.Analyte != "":
		return &units.Error{
			Text: text,
			What: "is for " + strict.Quote(c.Typed.Analyte) + ", and the chart has " + strict.Some(names),
			Do:   "name one of them, with a unit that it can have",
		}
	case len(fit) == 0 && strings.TrimSpace(strings.Join(names, "")) == "":
		return &units.Error{
			Text: text,
			What: "has a unit, and nothing says what was measured or in which",
			Do:   "name analyte and unit, or write the bare figure",
		}
	case len(fit) == 0:
		return &units.Error{Text: text, What: "fits none of " + strict.Some(names), Do: "write it in a unit that one of them can have"}
	case len(fit) > 1:
		return &units.Error{Text: text, What: "fits " + strict.Some(fit), Do: "put the name before it, such as " + fit[0] + " " + c.Typed.Text()}
	}
	return nil
}
