package charts

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"padband/charts/figures"
	"padband/charts/strict"
	"padband/charts/units"
)

// TypedAnalyte is one row of a typed chart.
type TypedAnalyte struct {
	Name       string `json:"name"`
	Unit       string `json:"unit"`
	As         string `json:"as"`
	Values     string `json:"values"` // "0, 1, 3, 7 (6-9), 12"
	Parts      string `json:"parts"`
	ReadWindow string `json:"read_window"` // "45-75", "1-2 min"
	KitError   string `json:"kit_error"`   // steps
	Kind       string `json:"kind"`
	Spacing    string `json:"spacing"`
}

// reader reads one typed row; it gathers what is wrong and what was understood.
type reader struct {
	at     string // the row's place in the form
	row    Row
	faults []*TypedError
}

// fail notes what is wrong with a field.
func (r *reader) fail(field, what string, answers ...figures.Answer) {
	r.faults = append(r.faults, &TypedError{Field: r.at + field, What: what, Answers: answers})
}

// failed notes an error of a field, with the answers that it offers.
func (r *reader) failed(field string, err error) {
	var f *figures.Fault
	if errors.As(err, &f) {
		r.fail(field, f.What, f.Answers...)
		return
	}
	r.fail(field, err.Error())
}

func (r *reader) note(text string) { r.row.Notes = append(r.row.Notes, text) }

func (r *reader) analyte(t TypedAnalyte) Analyte {
	a := Analyte{Name: strings.TrimSpace(t.Name), Parts: 1}
	a.Kind, a.Spacing = Kind(strings.TrimSpace(t.Kind)), Spacing(strings.TrimSpace(t.Spacing))
	r.row.Units, r.row.Forms = units.Offered(a.Name)
	if a.Name == "" {
		r.fail("name", "say what this row measures, such as nitrate")
	}
	items, err := figures.Values(t.Values, isUnit)
	if err != nil {
		r.failed("values", err)
	}
	r.counted(&a, t, items)
	for _, i := range items {
		s := Swatch{Value: i.Value}
		if i.Unit == "" {
			s.Label = i.Text
		}
		a.Swatches = append(a.Swatches, s)
	}
	r.told(a, items)
	r.parts(&a, t.Parts)
	r.window(&a, t.ReadWindow)
	r.kitError(&a, t.KitError)
	return a
}

// isUnit reports whether words behind a number are a unit.
func isUnit(text string) bool {
	_, err := units.Parse(text)
	return err == nil
}

// told says which swatches were understood.
func (r *reader) told(a Analyte, items []figures.Item) {
	if len(items) == 0 {
		return
	}
	r.row.Text = strings.TrimSpace(fmt.Sprintf("%s: %s %s", swatchCount(len(items)), figures.Row(items), units.Unit{Name: a.Unit, As: a.As}))
	if items[0].Value > items[1].Value {
		r.note("the values fall, as they were typed")
	}
}

func (r *reader) parts(a *Analyte, text string) {
	s := strings.TrimSpace(text)
	if s == "" {
		return
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > maxParts {
		r.fail("parts", fmt.Sprintf("the pads read together must be a whole number from 1 to %d", maxParts))
		return
	}
	a.Parts = n
	if n > 1 {
		r.note(fmt.Sprintf("%d pads are read together", n))
	}
}

func (r *reader) window(a *Analyte, text string) {
	if strings.TrimSpace(text) == "" {
		return
	}
	from, to, err := figures.Span(text)
	if err != nil {
		r.failed("read_window", err)
		return
	}
	a.ReadWindow = &[2]float64{from, to}
	r.note(fmt.Sprintf("read %s to %s seconds after the dip", strict.Figure(from), strict.Figure(to)))
}

func (r *reader) kitError(a *Analyte, text string) {
	if strings.TrimSpace(text) == "" {
		return
	}
	v, err := figures.Number(text)
	switch {
	case err != nil:
		r.failed("kit_error", err)
	case !(v > 0 && v <= 100):
		r.fail("kit_error", "the strip's own error must be a number of swatch steps above 0 and at most 100, such as 0.5")
	default:
		a.KitError = &KitError{Steps: v, Source: "typed"}
		r.note(fmt.Sprintf("the strip's own error is %s of a swatch step", strict.Figure(v)))
	}
}
