package judge

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/charts"
	"padband/charts/limits"
)

// spoiltBy is a nitrate reading at a place whose strip carries a warning.
func spoiltBy(code calib.Code, place float64) calib.Reading {
	r := readingAt(nitrate(0.5), place, 0.2)
	r.Warnings = append(r.Warnings, calib.Warning{Code: code, Weight: calib.Caution})
	return r
}

// ofKind is a limit of one kind for nitrate, 10 mg/L as N or from 2 to 10.
func ofKind(kind limits.LimitKind, twoSided bool) limits.Limit {
	l := limits.Limit{Authority: "invented", Analyte: "nitrate", Value: 10, Unit: nitrate(0).Measure(), Kind: kind, Basis: limits.BasisSample}
	if twoSided {
		l.Value, l.Low, l.High = 0, 2, 10
	}
	return l
}

// broken are the codes that say that the strip's own error does not hold.
var broken = []calib.Code{calib.CodeExpired, calib.CodeOpenTooLong, calib.CodeLate, calib.CodeStandardOff, calib.CodeSpoiledBy, calib.CodeEarly,
	calib.CodeColouredWater}

// TestSpoiltStripGivesNoPercentage: whatever the limit's kind and wherever the reading
// lies, no figure is given and nothing is said to be below.
func TestSpoiltStripGivesNoPercentage(t *testing.T) {
	for _, code := range broken {
		for _, kind := range []limits.LimitKind{limits.LimitHealth, limits.LimitTreatment, ""} {
			for _, two := range []bool{false, true} {
				for _, place := range []float64{0.2, 2, 2.4, 3.5, 4.7} {
					j := Against(spoiltBy(code, place), ofKind(kind, two), 0)
					text := strings.Join(j.Words, " ")
					assert.NotContains(t, text, "%", "%s %q %v", code, kind, place)
					assert.True(t, math.IsNaN(j.Probability))
					assert.Equal(t, Chance{0, 1}, j.Over)
					assert.NotEqual(t, VerdictWithin, j.Verdict)
					assert.True(t, two || j.Verdict != VerdictBelow, "%s %q %v", code, kind, place)
				}
			}
		}
	}
}

func TestByItsColourAlone(t *testing.T) {
	for _, c := range []struct {
		place   float64
		two     bool
		verdict Verdict
		reads   bool
		words   string
	}{
		{1, false, VerdictCannotTell, true, "Reads below 10 mg/L as N (invented) by its colour alone."},
		{4.7, false, VerdictAbove, false, "Reads above 10 mg/L as N (invented) by its colour alone."},
		{3.5, false, VerdictCannotTell, false, "Cannot tell by its colour against 10 mg/L as N (invented)."},
		{2.4, true, VerdictCannotTell, true, "Reads within 2 to 10 mg/L as N (invented) by its colour alone."},
		{0.2, true, VerdictBelow, false, "Reads below 2 to 10 mg/L as N (invented) by its colour alone."},
		{4.7, true, VerdictAbove, false, "Reads above 2 to 10 mg/L as N (invented) by its colour alone."},
	} {
		j := Against(spoiltBy(calib.CodeExpired, c.place), ofKind(limits.LimitTreatment, c.two), 0)
		assert.Equal(t, c.verdict, j.Verdict, c.words)
		assert.Equal(t, c.reads, j.ReadsBelow, c.words)
		assert.Equal(t, c.words, j.Words[0])
		assert.NotContains(t, strings.Join(j.Words, " "), "for drinking", "not a limit for health")
	}
}

// A colour that was still growing reads low, so that an early photo says neither below
// nor within, of any kind of limit, and does not read so either. Above it may say.
func TestEarlyPhotoIsNeverBelow(t *testing.T) {
	for _, kind := range []limits.LimitKind{limits.LimitHealth, limits.LimitTreatment} {
		for _, c := range []struct {
			two   bool
			place float64
			want  Verdict
		}{{false, 1, VerdictCannotTell}, {true, 2.4, VerdictCannotTell}, {true, 0.2, VerdictCannotTell}, {false, 4.7, VerdictAbove}} {
			j := Against(spoiltBy(calib.CodeEarly, c.place), ofKind(kind, c.two), 0)
			assert.Equal(t, c.want, j.Verdict, "%v", c)
			assert.False(t, j.ReadsBelow)
			if c.want == VerdictCannotTell {
				assert.Contains(t, j.Reason, "so the water may hold more")
			}
		}
	}
}

// What nobody said spoils only what a limit for health says, as before: a plain reading
// keeps its percentages.
func TestUnsaidDatesKeepThePercentages(t *testing.T) {
	for _, code := range []calib.Code{calib.CodeNoKitDate, calib.CodeNoDipTime} {
		j := Against(spoiltBy(code, 1), ofKind(limits.LimitTreatment, false), 0)
		assert.Equal(t, VerdictBelow, j.Verdict)
		assert.Contains(t, j.Words[0], "%")
		assert.False(t, math.IsNaN(j.Probability))
		j = Against(spoiltBy(code, 1), ofKind(limits.LimitHealth, false), 0)
		assert.Equal(t, VerdictCannotTell, j.Verdict)
		assert.True(t, j.ReadsBelow)
	}
}

// Classes are names without their chances.
func TestSpoiltStripNamesClassesWithoutChances(t *testing.T) {
	a := charts.Analyte{Name: "total hardness", Unit: "°dH", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
	for _, v := range []float64{0, 3, 6, 9, 12, 20} {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: v})
	}
	r := readingAt(a, 2.25, 0.05)
	r.Warnings = []calib.Warning{{Code: calib.CodeExpired}}
	j := Against(r, bundledLimit(t, "usgs-hardness", "total hardness"), 0)
	assert.Equal(t, "By its colour alone moderately hard or hard, in the classes of USGS.", j.Words[0])
	for _, c := range j.Classes {
		assert.Equal(t, Chance{0, 1}, c.Chance)
	}
}

// One spoilt pad of two spoils what is said of their sum.
func TestSumWithASpoiltPad(t *testing.T) {
	pads := func(code calib.Code) []calib.Reading {
		a, b := readingAt(nitrite(0.5), 1, 0.2), readingAt(evenNitrate(0.5), 1, 0.2)
		if code != "" {
			b.Warnings = []calib.Warning{{Code: code, Weight: calib.Caution}}
		}
		return []calib.Reading{a, b}
	}
	l := sumOf(t, "us-epa")
	assert.Equal(t, VerdictBelow, Sum(pads(""), l, 0).Verdict, "a strip that is as it should be")
	for _, code := range broken {
		j := Sum(pads(code), l, 0)
		assert.Equal(t, VerdictCannotTell, j.Verdict, code)
		assert.Equal(t, code != calib.CodeEarly, j.ReadsBelow, code)
		assert.NotContains(t, strings.Join(j.Words, " "), "%", code)
		assert.True(t, math.IsNaN(j.Probability), code)
	}
}
