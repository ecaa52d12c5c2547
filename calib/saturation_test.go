package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/charts"
)

// bound is a scale along one line of colour whose colours go as a dye does that is bound
// by one place with the constant k: the share v/(v + k) of all places holds dye at the
// value v (law of mass action).
func bound(k float64, values ...float64) Scale {
	s := Scale{parts: 1}
	for _, v := range values {
		s.analyte.Swatches = append(s.analyte.Swatches, charts.Swatch{Value: v})
		s.nodes = append(s.nodes, colourAt{lab: []float64{90 - 60*v/(v+k), 0, 0}})
	}
	s.chord = chords(s.nodes)
	return s
}

// The saturation that the chart shows is that of the law it was made by, and with it a
// pad's colour between zero and the first value lies where the law puts it.
func TestSaturationIsReadFromTheChart(t *testing.T) {
	for _, k := range []float64{0.5, 2, 10, 100} {
		s := bound(k, 0, 1, 3, 7)
		within(t, 1/k, s.saturation()-colourSaturation, 1e-9, "first value over the constant")
	}
	// What is added makes 1/2 of the constant 2 to 1: the law's share at 0.5 over that at 1.
	within(t, (0.5/(0.5+1))/(1.0/(1+1)), bound(2, 0, 1, 3, 7).ahead(0, 0.5), 1e-9, "half way in value")
	within(t, mostSaturation+colourSaturation, bound(0.01, 0, 1, 3).saturation(), 1e-12, "no more than the bound")
}

// Past the first step, on charts that start elsewhere, on pH and with two swatches alone,
// colour runs evenly between swatches.
func TestOnlyTheFirstStepAboveZeroSaturates(t *testing.T) {
	s := bound(2, 0, 1, 3, 7)
	assert.InDelta(t, 0.4, s.ahead(1, 0.4), 1e-12)
	assert.Greater(t, s.ahead(0, 0.4), 0.4)
	ph := s
	ph.analyte.Unit = "pH"
	several := s
	several.parts = 4
	for what, even := range map[string]Scale{"pH": ph, "several parts": several, "two swatches": bound(2, 0, 1), "no zero": bound(2, 1, 3, 7)} {
		assert.InDelta(t, 0.4, even.ahead(0, 0.4), 1e-12, what)
		assert.InDelta(t, 1, even.speed(0.4), 1e-12, what)
	}
}

// The speed is the slope of the way, by finite differences.
func TestSpeedIsTheSlopeOfTheWay(t *testing.T) {
	s := bound(1, 0, 1, 3)
	const h = 1e-6
	for _, f := range []float64{0.01, 0.3, 0.9} {
		within(t, (s.ahead(0, f+h)-s.ahead(0, f-h))/(2*h), s.speed(f), 1e-6, "slope")
	}
	within(t, 1, s.ahead(0, 1), 1e-12, "at the swatch")
	within(t, 1, s.speed(1.5), 1e-12, "past the first step")
}
