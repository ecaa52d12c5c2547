package agreement

import (
	"math"

	"padband/charts"
)

// Relation is what two readings of one sample have in common. It decides which
// of their errors make them differ.
type Relation string

// Relations.
const (
	// SamePhoto: strip, chart and light are shared; only where the marks were put,
	// and the noise in them, makes the readings differ.
	SamePhoto Relation = "same photo"
	// OneStrip: different photos of one strip; the strip's own error is shared.
	OneStrip Relation = "different photos of one strip"
	// TwoStrips: nothing is shared but the water.
	TwoStrips Relation = "different strips"
	// ByReference: a reading and a value from another method with its uncertainty.
	ByReference Relation = "another method"
)

// Span is an interval that covers 95 in 100; an open end is infinite.
type Span struct{ Low, High float64 }

// Single is one reading of one sample, or a value of another method.
type Single struct {
	Name              string // the file, or the value as it was written
	Analyte, Unit, As string
	Value             float64 // NaN where there is none
	Past              string  // "below" or "above" where it is past an end of its chart
	Band, Water       Span
	Own               float64 // standard deviation of marks and noise, in steps; NaN when not known
	Reliability       string
	Photo             string   // its SHA-256
	File              string   // the photo's name, where the file is of several photos of one strip
	Photos            []string // the SHA-256 of all photos of the file: of one strip
	Unchecked         bool     // whether it rests on outlines that nobody has looked at
	Swatches          []float64
}

// Gap is how far two readings of one sample lie apart.
type Gap struct {
	A, B     Single
	Relation Relation
	// Difference is A minus B in A's unit; Steps the same in swatch steps, NaN
	// where A's chart is not known.
	Difference, Steps float64
	// Reach is what the difference may be, 95 times in 100, when nothing but the
	// errors counted makes it: its expanded uncertainty, in A's unit, of the same
	// photo in steps.
	Reach float64
	// Score is the difference over Reach: at 1 and more, on either side, the
	// readings differ. For independent readings it is the E_n number of ISO 13528.
	Score float64
	Why   string // why there is no score
}

// Why two readings have no score.
const (
	whyNoValue  = "not defined: a reading without a value has no difference"
	whyBothPast = "not defined: both are past the same end of the chart, where nothing tells them apart"
	whyOpenSide = "not defined: the side of a band that faces the other reading is open"
	whyNoOwn    = "not defined: a reading does not say what marks and noise add"
	whyNoSteps  = "not defined: the readings name no swatches to count steps by"
	whyNoWidth  = "not defined: neither has an uncertainty"
)

// Between compares two readings of one sample in one unit. What counts is
//
//   - of the same photo 1.96 √(u_A² + u_B²), u being each reading's standard
//     deviation by marks and noise, in steps;
//   - of different photos of one strip √(U_A² + U_B²), U being the half of each band that
//     faces the other (an expanded uncertainty, k = 2). What the two photos have
//     in common, the dye against the print, is counted twice, so that the score is
//     rather too small;
//   - of different strips, or of a reading and another method, the same with the
//     water bands: the E_n number, (x - X) / √(U_x² + U_X²) (ISO 13528, 9.7).
func Between(a, b Single, r Relation) Gap {
	g := Gap{A: a, B: b, Relation: r, Difference: a.Value - b.Value, Steps: math.NaN(), Reach: math.NaN(), Score: math.NaN()}
	scale := a.scale()
	if scale != nil {
		g.Steps = scale.StepOf(a.Value) - scale.StepOf(b.Value)
	}
	switch {
	case math.IsNaN(g.Difference):
		g.Why = whyNoValue
	case a.Past != "" && a.Past == b.Past:
		g.Why = whyBothPast
	case r == SamePhoto:
		g.bySteps()
	case r == OneStrip:
		g.byUncertainty(a.Band, b.Band)
	default:
		g.byUncertainty(a.Water, b.Water)
	}
	return g
}

// scale is the chart's as far as the reading tells it.
func (s Single) scale() *charts.Analyte {
	if len(s.Swatches) < 2 {
		return nil
	}
	a := charts.Analyte{Name: s.Analyte, Unit: s.Unit, As: s.As, Kind: charts.KindScale, Spacing: charts.SpacingAuto}
	for _, v := range s.Swatches {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: v})
	}
	return &a
}

func (g *Gap) bySteps() {
	switch {
	case math.IsNaN(g.Steps):
		g.Why = whyNoSteps
		return
	case math.IsNaN(g.A.Own + g.B.Own):
		g.Why = whyNoOwn
		return
	}
	g.scored(g.Steps, Factor*math.Hypot(g.A.Own, g.B.Own))
}

func (g *Gap) byUncertainty(a, b Span) {
	reach := math.Hypot(a.facing(g.A.Value, g.B.Value), b.facing(g.B.Value, g.A.Value))
	if math.IsInf(reach, 0) || math.IsNaN(reach) {
		g.Why = whyOpenSide
		return
	}
	g.scored(g.Difference, reach)
}

func (g *Gap) scored(d, reach float64) {
	g.Reach = reach
	if !(reach > 0) {
		g.Why = whyNoWidth
		return
	}
	g.Score = d / reach
}

// facing is the half of a band that faces another value; the wider where both
// values are the same.
func (s Span) facing(value, other float64) float64 {
	switch {
	case other < value:
		return value - s.Low
	case other > value:
		return s.High - value
	}
	return math.Max(value-s.Low, s.High-value)
}

// Differ reports whether the readings differ by more than their errors allow,
// and whether that can be said.
func (g Gap) Differ() (differ, known bool) {
	return math.Abs(g.Score) >= 1, !math.IsNaN(g.Score)
}
