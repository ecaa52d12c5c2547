// Package charts holds the printed side of a test: charts, the marks that say where
// pads, swatches and white areas lie in one photo, and the bundled charts. Start at
// [ParseChart] and [ParseMarks], then call [Marks.Place]. How values run
// between two swatches, linear or by their logarithm, is in spacing.go. The package
// sees no pixels and opens no files.
package charts

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"padband/charts/strict"
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
	Strip       []string       // the order of the strip's pads; empty where the chart does not say, see [Chart.Pads]
	Layout      []Mark         // swatch cells (and white cells) in the unit square of the chart's corners; empty without a layout
	Remembered  []PrintColours // how its swatches looked, lot by lot; empty where nothing is remembered
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
	Palest     Palest      // which end of the row is pale, so that a row marked the other way round is seen
	SpoiledBy  []Spoiler
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
	root, err := strict.Parse(data)
	if err != nil {
		return Chart{}, err
	}
	d := &strict.Decoder{}
	c := readChart(d, root)
	if d.Err != nil {
		return Chart{}, d.Err
	}
	return c, nil
}

func readChart(d *strict.Decoder, v *strict.Value) Chart {
	f, format := d.File(v, "chart", "version", "title", "note", "handling", "kit_life_days", "analytes", "strip", "layout", memoryField)
	c := Chart{
		Format:      format,
		Name:        f.FileName("chart"),
		Version:     f.Label("version"),
		Title:       f.Line("title"),
		Note:        f.Prose("note"),
		KitLifeDays: f.Whole("kit_life_days", 1, 36500, 0),
	}
	for _, item := range f.List("handling", 64) {
		c.Handling = append(c.Handling, d.Text(item, strict.MaxLine))
	}
	if v := f.Need("analytes"); v != nil {
		c.Analytes = readAnalytes(d, v)
	}
	if v := f.By["strip"]; v != nil && d.Err == nil {
		c.Strip = readStrip(d, v, c)
	}
	if v := f.By["layout"]; v != nil && d.Err == nil {
		c.Layout = readLayout(d, v, c)
	}
	if v := f.By[memoryField]; v != nil && d.Err == nil {
		c.Remembered = readMemory(d, v, c)
	}
	return c
}

func readAnalytes(d *strict.Decoder, v *strict.Value) []Analyte {
	var all []Analyte
	seen := map[string]int{}
	for i, item := range d.Items(v, maxAnalytes) {
		a := readAnalyte(d, item)
		if first, twice := seen[a.Name]; twice && d.Err == nil {
			d.Fail(item.Path()+".name", "give each its own name", "is %s, as is analytes[%d]", strict.Quote(a.Name), first)
		}
		seen[a.Name] = i
		all = append(all, a)
	}
	if len(all) == 0 {
		d.Fail(v.Path(), "add one", "holds no analyte")
	}
	checkSpoilers(d, v, all)
	return all
}

func readAnalyte(d *strict.Decoder, v *strict.Value) Analyte {
	f := d.Object(v, "name", "unit", "as", "responds_to", "kind", "spacing", "parts", "read_window_s", "kit_error", "palest", "spoiled_by",
		"swatches")
	a := Analyte{
		Name:    d.Name(f.Need("name")),
		As:      f.Label("as"),
		Kind:    Kind(f.Choice("kind", string(KindScale), string(KindScale), string(KindPresence))),
		Spacing: Spacing(f.Choice("spacing", string(SpacingAuto), string(SpacingAuto), string(SpacingLinear), string(SpacingLog))),
		Parts:   f.Whole("parts", 1, maxParts, 1),
		Palest:  readPalest(f),
	}
	if u := f.By["unit"]; u != nil || a.Kind == KindScale {
		a.Unit = d.Name(f.Need("unit"))
		if unit, as, both := strings.Cut(a.Unit, " as "); both {
			d.Fail(
				f.By["unit"].Path(),
				fmt.Sprintf(`write "unit": %s, "as": %s`, strict.Quote(unit), strict.Quote(as)),
				"is %s, two things in one",
				strict.Quote(a.Unit),
			)
		}
	}
	for _, item := range f.List("responds_to", 32) {
		a.RespondsTo = append(a.RespondsTo, d.Name(item))
	}
	if w := f.By["read_window_s"]; w != nil {
		a.ReadWindow = readWindow(d, w)
	}
	if k := f.By["kit_error"]; k != nil {
		a.KitError = readKitError(d, k)
	}
	a.SpoiledBy = readSpoilers(f)
	if s := f.Need("swatches"); s != nil {
		a.Swatches = readSwatches(d, s, a.Kind)
	}
	return a
}

// readWindow reads the seconds after dipping between which the pad is read.
func readWindow(d *strict.Decoder, v *strict.Value) *[2]float64 {
	items := d.Items(v, 2)
	if len(items) != 2 {
		d.Fail(v.Path(), "write two, such as [45, 75]", "holds %d numbers, not two", len(items))
		return nil
	}
	w := [2]float64{d.Number(items[0]), d.Number(items[1])}
	for i, s := range w {
		if s < 0 || s > 86400 {
			d.Fail(items[i].Path(), "write seconds from 0 to 86400", "is %s", strict.Figure(s))
		}
	}
	if w[1] < w[0] {
		d.Fail(v.Path(), "write the earlier first", "ends at %s s before it begins at %s s", strict.Figure(w[1]), strict.Figure(w[0]))
	}
	return &w
}

func readKitError(d *strict.Decoder, v *strict.Value) *KitError {
	f := d.Object(v, "steps", "source")
	k := &KitError{Steps: d.Number(f.Need("steps")), Source: f.Line("source")}
	if s := f.By["steps"]; s != nil && (k.Steps <= 0 || k.Steps > 100) {
		d.Fail(s.Path(), "write the strip's error in swatch steps, over 0 and at most 100", "is %s", strict.Figure(k.Steps))
	}
	return k
}

// readSwatches reads an analyte's swatches and sorts them by value.
func readSwatches(d *strict.Decoder, v *strict.Value, k Kind) []Swatch {
	items := d.Items(v, maxSwatches)
	if k == KindPresence && len(items) != 2 {
		d.Fail(v.Path(), "give the swatch for no and the one for yes", "holds %s, and a presence pad has two", swatchCount(len(items)))
	}
	if len(items) < 2 {
		d.Fail(v.Path(), "add the chart's other swatches", "holds %s, and a scale needs two or more", swatchCount(len(items)))
	}
	all := make([]Swatch, 0, len(items))
	for _, item := range items {
		f := d.Object(item, "value", "label")
		s := Swatch{Value: readConcentration(f, "value"), Label: f.Label("label")}
		for j, other := range all {
			if sameValue(other.Value, s.Value) {
				d.Fail(item.Path()+".value", "remove one or mend its value", "is %s, as is %s[%d]", strict.Figure(s.Value), v.Path(), j)
			}
		}
		all = append(all, s)
	}
	sort.Slice(all, func(i, j int) bool { return all[i].Value < all[j].Value })
	return all
}

// readConcentration reads a swatch's value, which the field must have: 0 or more.
func readConcentration(f strict.Fields, name string) float64 {
	v := f.Need(name)
	x := f.Number(v)
	if x < 0 {
		f.Fail(v.Path(), "write 0 or more", "is %s", strict.Figure(x))
	}
	return x
}
