package charts

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

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
	c := d.chart(root)
	if d.err != nil {
		return Chart{}, d.err
	}
	return c, nil
}

func (d *decoder) chart(v *value) Chart {
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
		c.Analytes = d.analytes(v)
	}
	if v := f.by["layout"]; v != nil && d.err == nil {
		c.Layout = d.layout(v, c)
	}
	return c
}

// fileName returns the chart's name, which may become a file's.
func (f fields) fileName(field string) string {
	v := f.need(field)
	text := f.name(v)
	for i, r := range text {
		if r == '/' || r == '\\' || (r == '.' && i == 0) {
			f.fail(v.path(), "choose a name that a file can have", "is %s, with a %q", quote(text), r)
		}
	}
	return text
}

func (d *decoder) analytes(v *value) []Analyte {
	var all []Analyte
	seen := map[string]int{}
	for i, item := range d.items(v, maxAnalytes) {
		a := d.analyte(item)
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

func (d *decoder) analyte(v *value) Analyte {
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
		a.ReadWindow = d.window(w)
	}
	if k := f.by["kit_error"]; k != nil {
		a.KitError = d.kitError(k)
	}
	if s := f.need("swatches"); s != nil {
		a.Swatches = d.swatches(s, a.Kind)
	}
	return a
}

// window reads the seconds after dipping between which the pad is read.
func (d *decoder) window(v *value) *[2]float64 {
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

func (d *decoder) kitError(v *value) *KitError {
	f := d.object(v, "steps", "source")
	k := &KitError{Steps: d.number(f.need("steps")), Source: f.line("source")}
	if s := f.by["steps"]; s != nil && (k.Steps <= 0 || k.Steps > 100) {
		d.fail(s.path(), "write the strip's error in swatch steps, over 0 and at most 100", "is %s", figure(k.Steps))
	}
	return k
}

// swatches reads an analyte's swatches and sorts them by value.
func (d *decoder) swatches(v *value, k Kind) []Swatch {
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
		s := Swatch{Value: f.concentration("value"), Label: f.label("label")}
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

// concentration reads a swatch's value, which the field must have: 0 or more.
func (f fields) concentration(name string) float64 {
	v := f.need(name)
	x := f.number(v)
	if x < 0 {
		f.fail(v.path(), "write 0 or more", "is %s", figure(x))
	}
	return x
}
