// Package charts holds the printed side of a test: charts, the marks that say
// where pads, swatches and white areas lie in one photo, and the bundled charts.
package charts

import (
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
