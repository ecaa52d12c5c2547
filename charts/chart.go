// Package charts holds the printed side of a test: charts, the marks that say
// where pads, swatches and white areas lie in one photo, and the bundled charts.
package charts

import (
	"errors"

	"padband/colorimetry"
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

// ParseChart reads a chart file. (Stub.)
func ParseChart(data []byte) (Chart, error) { return Chart{}, errors.New("stub") }

// Analyte returns the analyte of that name. (Stub.)
func (c Chart) Analyte(name string) (Analyte, bool) { return Analyte{}, false }

// ValueAt returns the value at a place on the scale in steps: 0 at the lowest
// swatch, 1 at the next; clamped to the ends. (Stub.)
func (a Analyte) ValueAt(step float64) float64 { return 0 }

// StepOf is the inverse of ValueAt. (Stub.)
func (a Analyte) StepOf(value float64) float64 { return 0 }

// Bundled returns the charts that come with the program. (Stub.)
func Bundled() []Chart { return nil }

// Role says what a mark marks.
type Role string

// Roles.
const (
	RolePad    Role = "pad"
	RoleSwatch Role = "swatch"
	RoleWhite  Role = "white"
)

// Mark is one marked region of a photo (or, in a layout, of the unit square).
type Mark struct {
	Role     Role
	Analyte  string
	Part     int // 1 and up; 0 for whites
	Value    float64
	Material string
	Region   colorimetry.Region
}

// Marks is where things are in one photo.
type Marks struct {
	Format  int
	Photo   PhotoRef
	Chart   string
	Corners []colorimetry.Point // four, clockwise from the chart's top left, or none
	Regions []Mark
	Sample  SampleInfo
}

// PhotoRef ties marks to their photo. Zero fields are not checked.
type PhotoRef struct {
	Width, Height int
	SHA256        string
}

// SampleInfo is what the person says of the sample; every field may be empty.
type SampleInfo struct {
	Place, Point, Reader, Taken, Dipped, Strip, Dilution, Note string
	Kit                                                        Kit
}

// Kit is the bottle the strip came from.
type Kit struct{ Lot, Expires, Opened string }

// ParseMarks reads a marks file. (Stub.)
func ParseMarks(data []byte) (Marks, error) { return Marks{}, errors.New("stub") }

// Placed is a photo's marks checked against its chart: what can be read.
type Placed struct {
	Whites []Mark
	Pads   []PlacedAnalyte // in the chart's order
	Notes  []string        // such as an analyte with no pad marked
}

// PlacedAnalyte is one analyte's marks. Pad[k] is part k+1; Swatches[i][k] is
// swatch i (in order of value), part k+1.
type PlacedAnalyte struct {
	Analyte  Analyte
	Pad      []Mark
	Swatches [][]Mark
}

// Place checks the marks against the chart and a photo of the given upright
// size, and puts the layout's cells where the corners say. (Stub.)
func (m Marks) Place(c Chart, width, height int) (Placed, error) {
	return Placed{}, errors.New("stub")
}
