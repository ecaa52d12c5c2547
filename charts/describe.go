package charts

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"padband/charts/strict"
)

// Typed is a chart as a person types it into a form; every field is text.
type Typed struct {
	Title       string         `json:"title"`
	Name        string         `json:"name"` // made from the title when empty
	Version     string         `json:"version"`
	Handling    string         `json:"handling"` // one rule a line
	KitLifeDays string         `json:"kit_life_days"`
	Analytes    []TypedAnalyte `json:"analytes"`
}

// TypedAnalyte is one row of a typed chart.
type TypedAnalyte struct {
	Name       string `json:"name"`
	Unit       string `json:"unit"`
	As         string `json:"as"`
	Values     string `json:"values"` // "0, 1, 3, 7 (6-9), 12"
	Parts      string `json:"parts"`
	ReadWindow string `json:"read_window"` // "45-75", seconds
	KitError   string `json:"kit_error"`   // steps
	Kind       string `json:"kind"`
	Spacing    string `json:"spacing"`
}

// TypedError is a field of a typed chart that cannot be taken.
type TypedError struct {
	Field string // such as "analytes.0.values"
	What  string // what is wrong and what to do
}

func (e *TypedError) Error() string { return e.What }

// Describe makes a chart of what a person typed. It keeps to all that
// [ParseChart] asks of a file. The error is a [*TypedError].
func Describe(t Typed) (Chart, error) {
	c := Chart{Format: 1, Name: strings.TrimSpace(t.Name), Title: strings.TrimSpace(t.Title), Version: strings.TrimSpace(t.Version)}
	if c.Title == "" {
		return c, &TypedError{"title", "give the chart a name"}
	}
	if c.Name == "" {
		c.Name = plainName(c.Title)
	}
	for line := range strings.Lines(t.Handling) {
		if line = strings.TrimSpace(line); line != "" {
			c.Handling = append(c.Handling, line)
		}
	}
	if s := strings.TrimSpace(t.KitLifeDays); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 || n > 36500 {
			return c, &TypedError{"kit_life_days", "the days a bottle keeps must be a whole number from 1 to 36500, or nothing"}
		}
		c.KitLifeDays = n
	}
	for i, ta := range t.Analytes {
		a, err := ta.analyte(fmt.Sprintf("analytes.%d.", i))
		if err != nil {
			return c, err
		}
		c.Analytes = append(c.Analytes, a)
	}
	return c.proved()
}

// proved passes the chart through its file, so that both ways ask the same.
func (c Chart) proved() (Chart, error) {
	data, err := c.Encode()
	var out Chart
	if err == nil {
		out, err = ParseChart(data)
	}
	var fault *strict.FileError
	switch {
	case errors.As(err, &fault):
		return c, &TypedError{typedField(fault.Path), strings.TrimSuffix(fault.What+"; "+fault.Do, "; ")}
	case err != nil:
		return c, &TypedError{"", err.Error()}
	}
	return out, nil
}

var (
	inAnalyte = regexp.MustCompile(`^analytes\[(\d+)\]\.?(\w*)`)
	typedAs   = map[string]string{"swatches": "values", "read_window_s": "read_window", "": "name"}
)

// typedField is the form's field for a path of the file.
func typedField(path string) string {
	m := inAnalyte.FindStringSubmatch(path)
	switch {
	case m == nil && path == "chart":
		return "title"
	case m == nil:
		return path
	}
	if f, ok := typedAs[m[2]]; ok {
		m[2] = f
	}
	return "analytes." + m[1] + "." + m[2]
}

// plainName makes a chart's name, which may become a file's, from its title.
func plainName(title string) string {
	words := strings.FieldsFunc(strings.ToLower(title), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	})
	name := strings.Join(words, "-")
	if len(name) > 40 {
		name = strings.TrimRight(name[:40], "-")
	}
	if name == "" {
		return "my-chart"
	}
	return name
}

func (t TypedAnalyte) analyte(at string) (Analyte, error) {
	a := Analyte{Name: strings.TrimSpace(t.Name), Unit: strings.TrimSpace(t.Unit), As: strings.TrimSpace(t.As), Parts: 1}
	a.Kind, a.Spacing = Kind(strings.TrimSpace(t.Kind)), Spacing(strings.TrimSpace(t.Spacing))
	a.unitAs()
	if a.Name == "" {
		return a, &TypedError{at + "name", "say what this row measures, such as nitrate"}
	}
	for _, read := range []func(*Analyte, string) error{t.values, t.parts, t.window, t.kitError} {
		if err := read(&a, at); err != nil {
			return a, err
		}
	}
	return a, nil
}

// unitAs takes "mg/L as N" apart, and knows that pH is its own unit.
func (a *Analyte) unitAs() {
	if unit, as, ok := strings.Cut(a.Unit, " as "); ok && a.As == "" {
		a.Unit, a.As = strings.TrimSpace(unit), strings.TrimSpace(as)
	}
	if a.Unit == "" && strings.EqualFold(a.Name, "pH") {
		a.Unit = "pH"
	}
}

var oneValue = regexp.MustCompile(`^([-+]?[0-9.]+)\s*(\S.*)?$`)

// values reads the typed list. A value may carry the text printed beside it.
func (t TypedAnalyte) values(a *Analyte, at string) error {
	for _, item := range splitList(t.Values) {
		m := oneValue.FindStringSubmatch(item)
		if m == nil {
			return &TypedError{
				at + "values",
				fmt.Sprintf("%s: %q is no number; type the printed values with a comma between them, such as 0, 1, 3, 7, 12", a.Name, item),
			}
		}
		v, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			return &TypedError{at + "values", fmt.Sprintf("%s: %q is no number", a.Name, m[1])}
		}
		s := Swatch{Value: v}
		if m[2] != "" {
			s.Label = item
		}
		if slices.ContainsFunc(a.Swatches, func(o Swatch) bool { return sameValue(o.Value, v) }) {
			return &TypedError{at + "values", fmt.Sprintf("%s: %s stands there twice", a.Name, strict.Figure(v))}
		}
		a.Swatches = append(a.Swatches, s)
	}
	if len(a.Swatches) < 2 {
		return &TypedError{at + "values", a.Name + ": type the values printed beside the swatches, two or more, such as 0, 1, 3, 7, 12"}
	}
	return nil
}

// splitList splits at commas outside brackets, at semicolons, or at spaces
// when there is neither.
func splitList(s string) (out []string) {
	depth := 0
	parts := strings.FieldsFunc(s, func(r rune) bool {
		switch r {
		case '(':
			depth++
		case ')':
			depth--
		case ',', ';', '\n':
			return depth <= 0
		}
		return false
	})
	if len(parts) == 1 && !strings.Contains(s, "(") {
		parts = strings.Fields(s)
	}
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}

func (t TypedAnalyte) parts(a *Analyte, at string) error {
	s := strings.TrimSpace(t.Parts)
	if s == "" {
		return nil
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > maxParts {
		return &TypedError{at + "parts", fmt.Sprintf("%s: the pads read together must be a whole number from 1 to %d", a.Name, maxParts)}
	}
	a.Parts = n
	return nil
}

var window = regexp.MustCompile(`^([0-9.]+)\s*(?:-|–|to)\s*([0-9.]+)\s*(?:s|sec|seconds)?$`)

func (t TypedAnalyte) window(a *Analyte, at string) error {
	s := strings.TrimSpace(t.ReadWindow)
	if s == "" {
		return nil
	}
	m := window.FindStringSubmatch(s)
	if m == nil {
		return &TypedError{at + "read_window", a.Name + ": type the time to read as seconds from and to, such as 45-75"}
	}
	lo, err1 := strconv.ParseFloat(m[1], 64)
	hi, err2 := strconv.ParseFloat(m[2], 64)
	if err1 != nil || err2 != nil || !(lo < hi) {
		return &TypedError{at + "read_window", a.Name + ": the time to read must end after it begins, such as 45-75"}
	}
	a.ReadWindow = &[2]float64{lo, hi}
	return nil
}

func (t TypedAnalyte) kitError(a *Analyte, at string) error {
	s := strings.TrimSpace(t.KitError)
	if s == "" {
		return nil
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || !(v > 0) {
		return &TypedError{at + "kit_error", a.Name + ": the strip's own error must be a number of swatch steps above 0, such as 0.5"}
	}
	a.KitError = &KitError{Steps: v, Source: "typed"}
	return nil
}
