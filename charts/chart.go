// Package charts holds the printed side of a test: charts, the marks that say
// where pads, swatches and white areas lie in one photo, and the bundled charts.
package charts

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Kind says how a pad is read.
type Kind string

// Spacing says how values run between two swatches.
type Spacing string

// Kinds and spacings.
const (
	KindScale    Kind = "scale"
	KindPresence Kind = "presence"

	SpacingAuto   Spacing = "auto"
	SpacingLinear Spacing = "linear"
	SpacingLog    Spacing = "log"
)

// Chart is one printed chart.
type Chart struct {
	Format      int
	Name        string
	Version     string
	Title       string
	Note        string
	Handling    []string
	KitLifeDays int // 0 when the chart does not say
	Analytes    []Analyte
	Layout      []Mark // swatch cells (and white cells) in the unit square of the chart's corners; empty without a layout
}

// Analyte is one scale of a chart. Swatches are sorted by value.
type Analyte struct {
	Name       string
	Unit       string
	As         string
	RespondsTo []string
	Kind       Kind
	Spacing    Spacing
	Parts      int
	ReadWindow *[2]float64 // seconds after dipping
	KitError   *KitError   // nil when the chart has none
	Swatches   []Swatch
}

// KitError is the strip's own error, 95 %, in swatch steps.
type KitError struct {
	Steps  float64
	Source string
}

// Swatch is one printed value.
type Swatch struct {
	Value float64
	Label string
}

// Analyte returns the analyte of that name.
func (c Chart) Analyte(name string) (Analyte, bool) {
	for _, a := range c.Analytes {
		if a.Name == name {
			return a, true
		}
	}
	return Analyte{}, false
}

// swatch returns the index of the swatch with the value, or -1.
func (a Analyte) swatch(value float64) int {
	for i, s := range a.Swatches {
		if sameValue(s.Value, value) {
			return i
		}
	}
	return -1
}

// expressed are the analytes whose concentration is printed as one thing or
// another: nitrate as nitrogen or as the ion, which differ 4.43 times, hardness
// as calcium carbonate or as degrees.
var expressed = []string{"nitrate", "nitrite", "ammoni", "phosph", "hardness", "alkalinity", "chlorine"}

// lacksAs reports whether the analyte's unit leaves open what it is expressed as.
func (a Analyte) lacksAs() bool {
	if a.As != "" || a.Kind == KindPresence {
		return false
	}
	name := strings.ToLower(a.Name)
	return slices.ContainsFunc(expressed, func(e string) bool { return strings.Contains(name, e) }) &&
		slices.Contains([]string{"mg/l", "ug/l", "ppm", "ppb", "mg/dm3", "g/m3"}, strings.ToLower(a.Unit))
}

// sameValue reports whether two printed values are one: equal to within a
// billionth, so that 0.3 and the sum of 0.1 and 0.2 are one swatch.
func sameValue(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b))
}

// Caps on what a chart may hold.
const (
	maxAnalytes = 64
	maxSwatches = 64
	maxParts    = 16
	maxCells    = 2048
)

// ParseChart reads a chart file (format 1). Swatches come back sorted by value,
// whatever the file's order; kind, spacing and parts that are absent are
// scale, auto and 1. It is strict: a field that is unknown or there twice, a
// number that is none, two swatches of one value and the like are each a
// [*FileError] that names the field. Other files give no other errors.
func ParseChart(data []byte) (Chart, error) {
	root, err := readJSON(data)
	if err != nil {
		return Chart{}, err
	}
	d := &decoder{}
	c := readChart(d, root)
	if d.err != nil {
		return Chart{}, d.err
	}
	return c, nil
}

func readChart(d *decoder, v *value) Chart {
	f, format := d.file(v, "chart", "version", "title", "note", "handling", "kit_life_days", "analytes", "layout")
	c := Chart{
		Format:      format,
		Name:        f.fileName("chart"),
		Version:     f.label("version"),
		Title:       f.line("title"),
		Note:        f.prose("note"),
		KitLifeDays: f.whole("kit_life_days", 1, 36500, 0),
	}
	for _, item := range f.list("handling", 64) {
		c.Handling = append(c.Handling, d.text(item, maxLine))
	}
	if v := f.need("analytes"); v != nil {
		c.Analytes = readAnalytes(d, v)
	}
	if v := f.by["layout"]; v != nil && d.err == nil {
		c.Layout = readLayout(d, v, c)
	}
	return c
}

func readAnalytes(d *decoder, v *value) []Analyte {
	var all []Analyte
	seen := map[string]int{}
	for i, item := range d.items(v, maxAnalytes) {
		a := readAnalyte(d, item)
		if first, twice := seen[a.Name]; twice && d.err == nil {
			d.fail(item.path()+".name", "give each its own name", "is %s, as is analytes[%d]", quote(a.Name), first)
		}
		seen[a.Name] = i
		all = append(all, a)
	}
	if len(all) == 0 {
		d.fail(v.path(), "add one", "holds no analyte")
	}
	return all
}

func readAnalyte(d *decoder, v *value) Analyte {
	f := d.object(v, "name", "unit", "as", "responds_to", "kind", "spacing", "parts", "read_window_s", "kit_error", "swatches")
	a := Analyte{
		Name:    d.name(f.need("name")),
		As:      f.label("as"),
		Kind:    Kind(f.choice("kind", string(KindScale), string(KindScale), string(KindPresence))),
		Spacing: Spacing(f.choice("spacing", string(SpacingAuto), string(SpacingAuto), string(SpacingLinear), string(SpacingLog))),
		Parts:   f.whole("parts", 1, maxParts, 1),
	}
	if u := f.by["unit"]; u != nil || a.Kind == KindScale {
		a.Unit = d.name(f.need("unit"))
		if unit, as, both := strings.Cut(a.Unit, " as "); both {
			d.fail(f.by["unit"].path(), fmt.Sprintf(`write "unit": %s, "as": %s`, quote(unit), quote(as)), "is %s, two things in one", quote(a.Unit))
		}
	}
	for _, item := range f.list("responds_to", 32) {
		a.RespondsTo = append(a.RespondsTo, d.name(item))
	}
	if w := f.by["read_window_s"]; w != nil {
		a.ReadWindow = readWindow(d, w)
	}
	if k := f.by["kit_error"]; k != nil {
		a.KitError = readKitError(d, k)
	}
	if s := f.need("swatches"); s != nil {
		a.Swatches = readSwatches(d, s, a.Kind)
	}
	return a
}

// readWindow reads the seconds after dipping between which the pad is read.
func readWindow(d *decoder, v *value) *[2]float64 {
	items := d.items(v, 2)
	if len(items) != 2 {
		d.fail(v.path(), "write two, such as [45, 75]", "holds %d numbers, not two", len(items))
		return nil
	}
	w := [2]float64{d.number(items[0]), d.number(items[1])}
	for i, s := range w {
		if s < 0 || s > 86400 {
			d.fail(items[i].path(), "write seconds from 0 to 86400", "is %s", figure(s))
		}
	}
	if w[1] < w[0] {
		d.fail(v.path(), "write the earlier first", "ends at %s s before it begins at %s s", figure(w[1]), figure(w[0]))
	}
	return &w
}

func readKitError(d *decoder, v *value) *KitError {
	f := d.object(v, "steps", "source")
	k := &KitError{Steps: d.number(f.need("steps")), Source: f.line("source")}
	if s := f.by["steps"]; s != nil && (k.Steps <= 0 || k.Steps > 100) {
		d.fail(s.path(), "write the strip's error in swatch steps, over 0 and at most 100", "is %s", figure(k.Steps))
	}
	return k
}

// readSwatches reads an analyte's swatches and sorts them by value.
func readSwatches(d *decoder, v *value, k Kind) []Swatch {
	items := d.items(v, maxSwatches)
	if k == KindPresence && len(items) != 2 {
		d.fail(v.path(), "give the swatch for no and the one for yes", "holds %s, and a presence pad has two", swatchCount(len(items)))
	}
	if len(items) < 2 {
		d.fail(v.path(), "add the chart's other swatches", "holds %s, and a scale needs two or more", swatchCount(len(items)))
	}
	all := make([]Swatch, 0, len(items))
	for _, item := range items {
		f := d.object(item, "value", "label")
		s := Swatch{Value: readConcentration(f, "value"), Label: f.label("label")}
		for j, other := range all {
			if sameValue(other.Value, s.Value) {
				d.fail(item.path()+".value", "remove one or mend its value", "is %s, as is %s[%d]", figure(s.Value), v.path(), j)
			}
		}
		all = append(all, s)
	}
	slices.SortFunc(all, func(a, b Swatch) int { return cmp.Compare(a.Value, b.Value) })
	return all
}

// readConcentration reads a swatch's value, which the field must have: 0 or more.
func readConcentration(f fields, name string) float64 {
	v := f.need(name)
	x := f.number(v)
	if x < 0 {
		f.fail(v.path(), "write 0 or more", "is %s", figure(x))
	}
	return x
}
