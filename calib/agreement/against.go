package agreement

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"padband/charts"
	"padband/charts/units"
)

// Against is a value of another method with its expanded uncertainty (95 %).
type Against struct {
	Text    string
	Analyte string // empty when none is named
	Value   float64
	Plus    float64 // the uncertainty, over 0
	Unit    units.Unit
}

var againstText = regexp.MustCompile(`^(?:([A-Za-z][A-Za-z +]*?)[: ]\s*)?([0-9]*\.?[0-9]+)\s*(?:\+-|\+/-|±)\s*([0-9]*\.?[0-9]+)\s*(\S.*)$`)

// ParseAgainst reads "12 +- 1 gr/gal", "total hardness 205 ± 10 mg/L as CaCO3":
// a value, what it may be off by 95 times in 100, its unit, and before it the
// analyte where the unit leaves that open.
func ParseAgainst(text string) (Against, error) {
	m := againstText.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return Against{}, fmt.Errorf("%q is no value with its uncertainty and unit; write it such as 12 +- 1 gr/gal", clip(text))
	}
	a := Against{Text: strings.TrimSpace(text), Analyte: strings.TrimSpace(m[1])}
	var err1, err2, err3 error
	a.Value, err1 = strconv.ParseFloat(m[2], 64)
	a.Plus, err2 = strconv.ParseFloat(m[3], 64)
	a.Unit, err3 = units.Parse(m[4])
	switch {
	case err3 != nil:
		return a, err3
	case err1 != nil || err2 != nil || math.IsInf(a.Value+a.Plus, 0):
		return a, fmt.Errorf("%q is no number", clip(text))
	case !(a.Plus > 0):
		return a, errors.New("the uncertainty of another method's value is over 0; a titration's is at least half a drop's worth")
	}
	return a, nil
}

// For returns the value as a [Single] in the unit of a reading, or an error when
// it is of another analyte or cannot be converted.
func (a Against) For(s Single) (Single, error) {
	if a.Analyte != "" && !strings.EqualFold(a.Analyte, s.Analyte) {
		return Single{}, fmt.Errorf("%s is for %s, not %s", a.Text, a.Analyte, s.Analyte)
	}
	of := charts.Analyte{Name: s.Analyte, Unit: s.Unit, As: s.As}
	f, err := units.Factor(s.Analyte, a.Unit, of.Measure())
	if err != nil {
		return Single{}, err
	}
	v := f.Of(a.Value)
	span := Span{f.Of(a.Value - a.Plus), f.Of(a.Value + a.Plus)}
	return Single{Name: a.Text, Analyte: s.Analyte, Unit: s.Unit, As: s.As, Value: v, Band: span, Water: span, Own: math.NaN()}, nil
}
