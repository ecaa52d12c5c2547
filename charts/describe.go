package charts

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"padband/charts/figures"
	"padband/charts/strict"
	"padband/charts/units"
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

// TypedError is a field of a typed chart that cannot be taken.
type TypedError struct {
	Field   string           // such as "analytes.0.values"
	What    string           // what is wrong and what to do
	Answers []figures.Answer // what may have been meant: texts for this field
}

func (e *TypedError) Error() string { return e.What }

// Understood is what a typed chart was taken for.
type Understood struct {
	Rows   []Row
	Faults []*TypedError
}

// Row is what one typed row was taken for.
type Row struct {
	Text  string        // such as "3 swatches: 0 | 0.5 | 1 mg/L as N"; empty where the values are not understood
	Notes []string      // what was taken for granted, and what else was understood
	Units []units.Named // what this may be counted in, the likeliest first
	Forms []string      // what this may be expressed as, the likeliest first
}

// Describe makes a chart of what a person typed. It keeps to all that
// [ParseChart] asks of a file. The error is a [*TypedError].
func Describe(t Typed) (Chart, error) {
	c, u := t.read()
	if len(u.Faults) > 0 {
		return c, u.Faults[0]
	}
	return c.proved()
}

// Understand tells what [Describe] would make of what was typed so far, and all that
// hinders it.
func Understand(t Typed) Understood {
	c, u := t.read()
	if len(u.Faults) > 0 {
		return u
	}
	var fault *TypedError
	if _, err := c.proved(); errors.As(err, &fault) {
		u.Faults = append(u.Faults, fault)
	}
	return u
}

// read reads all that was typed.
func (t Typed) read() (Chart, Understood) {
	var u Understood
	c := Chart{Format: 1, Name: strings.TrimSpace(t.Name), Title: strings.TrimSpace(t.Title), Version: strings.TrimSpace(t.Version)}
	if c.Title == "" {
		u.Faults = append(u.Faults, &TypedError{Field: "title", What: "give the chart a name"})
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
			const what = "the days a bottle keeps must be a whole number from 1 to 36500, or nothing"
			u.Faults = append(u.Faults, &TypedError{Field: "kit_life_days", What: what})
		}
		c.KitLifeDays = n
	}
	for i, ta := range t.Analytes {
		r := reader{at: fmt.Sprintf("analytes.%d.", i)}
		a := r.analyte(ta)
		c.Analytes = append(c.Analytes, a)
		u.Rows = append(u.Rows, r.row)
		u.Faults = append(u.Faults, r.faults...)
	}
	return c, u
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
		return c, &TypedError{Field: typedField(fault.Path), What: strings.TrimSuffix(fault.What+"; "+fault.Do, "; ")}
	case err != nil:
		return c, &TypedError{What: err.Error()}
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
