package judge

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/charts/limits"
)

// nitrite is a pad in even steps of 0.5 mg/L as N up to 4.
func nitrite(kit float64) charts.Analyte {
	a := charts.Analyte{Name: "nitrite", Unit: "mg/L", As: "N", RespondsTo: []string{"nitrite"}, Kind: charts.KindScale,
		Spacing: charts.SpacingLinear, Parts: 1}
	for i := range 9 {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: 0.5 * float64(i)})
	}
	if kit > 0 {
		a.KitError = &charts.KitError{Steps: kit, Source: "invented"}
	}
	return a
}

// evenNitrate is a pad in even steps of 2 mg/L as N up to 20.
func evenNitrate(kit float64) charts.Analyte {
	a := nitrite(kit)
	a.Name, a.RespondsTo, a.Swatches = "nitrate", []string{"nitrate"}, nil
	for i := range 11 {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: 2 * float64(i)})
	}
	return a
}

func sumOf(t *testing.T, set string) limits.Limit {
	t.Helper()
	s, ok := limits.FindLimitSet(set)
	require.True(t, ok)
	sums := s.Sums(time.Time{})
	require.Len(t, sums, 1)
	return sums[0]
}

// The sum of two normal figures is normal, its variance the sum of theirs
// (JCGM 100:2008, 5.1.2): nitrate 8 and nitrite 2 mg/L as N against 10, and the
// WHO's sum of ratios, with the ions' masses of water_units.csv.
func TestSumOfTwoReadings(t *testing.T) {
	const kit = 0.5
	sd := math.Hypot(0.3, kit/1.96) // steps
	for _, c := range []struct {
		set              string
		nitrate, nitrite float64 // steps
	}{
		{"us-epa", 4, 4}, {"us-epa", 3, 4}, {"us-epa", 4, 5}, {"who", 3, 3}, {"who", 2.5, 2},
	} {
		perNitrate, perNitrite, limit := 2.0, 0.5, 10.0
		if c.set == "who" {
			perNitrate, perNitrite, limit = 2*4.426644/50, 0.5*3.284429/3, 1
		}
		sum := perNitrate*c.nitrate + perNitrite*c.nitrite
		u := math.Hypot(perNitrate*sd, perNitrite*sd)
		j := Sum([]calib.Reading{readingAt(nitrite(kit), c.nitrite, 0.3), readingAt(evenNitrate(kit), c.nitrate, 0.3)}, sumOf(t, c.set), 0)
		within(t, 0.5*math.Erfc((limit-sum)/u/math.Sqrt2), j.Probability, 0.002, c.set)
		within(t, sum, j.Value, 0.02*sum, "value")
		within(t, sum-1.96*u, j.Low.Value, 0.03*sum, "low end")
		within(t, sum+1.96*u, j.High.Value, 0.03*sum, "high end")
		assert.Equal(t, "water bands, the pads' errors taken as independent, kit error as the chart gives it", j.RestsOn)
	}
}

func TestSumInWords(t *testing.T) {
	rs := []calib.Reading{readingAt(evenNitrate(0), 4, 0.3), readingAt(nitrite(0.5), 4, 0.3)}
	j := Sum(rs, sumOf(t, "who"), 0)
	assert.Equal(t, VerdictAbove, j.Verdict)
	assert.Equal(t, "Above 1 for nitrate / 50 mg/L as NO3 + nitrite / 3 mg/L as NO2 (WHO, GDWQ 4th ed incl. addenda 2022, ch.12 "+
		"nitrate and nitrite): over 99 % that the water is over it.", j.Words[0])
	j = Sum([]calib.Reading{readingAt(evenNitrate(0), 1, 0.3), readingAt(nitrite(0.5), 1, 0.3)}, sumOf(t, "us-epa"), 0)
	assert.True(t, j.ReadsBelow, "one strip error is assumed")
	assert.Contains(t, strings.Join(j.Words, " "), "Reads below 10 mg/L as N for nitrate + nitrite")
}

// A pad at the chart's top leaves a sum open on that side.
func TestSumPastTheTop(t *testing.T) {
	j := Sum([]calib.Reading{readingAt(evenNitrate(0.5), 1, 0.2), readingAt(nitrite(0.5), 8.5, 0.2)}, sumOf(t, "us-epa"), 0)
	assert.Equal(t, VerdictCannotTell, j.Verdict, "2 and at least 4 against 10")
	assert.Less(t, j.Over.AtLeast, 0.05)
	assert.Greater(t, j.Over.AtMost, 0.9)
	assert.True(t, j.High.Open)
	j = Sum([]calib.Reading{readingAt(evenNitrate(0.5), 10.5, 0.2), readingAt(nitrite(0.5), 1, 0.2)}, sumOf(t, "us-epa"), 0)
	assert.Equal(t, VerdictAbove, j.Verdict, "at least 20 against 10")
}

func TestSumsThatAreNot(t *testing.T) {
	epa := sumOf(t, "us-epa")
	no3, no2 := readingAt(evenNitrate(0.5), 4, 0.2), readingAt(nitrite(0.5), 1, 0.2)
	with := func(r calib.Reading, change func(*charts.Analyte)) calib.Reading {
		change(&r.Analyte)
		return r
	}
	for want, rs := range map[string][]calib.Reading{
		"The rule adds nitrate and nitrite, and nitrite was not read.": {no3},
		"The nitrite pad says yes or no only, which cannot be added.": {no3,
			with(no2, func(a *charts.Analyte) { a.Kind = charts.KindPresence })},
		"The nitrate pad answers to both already, so adding would count one twice.": {with(no3,
			func(a *charts.Analyte) { a.RespondsTo = []string{"nitrate", "nitrite"} }), no2},
		"The chart does not say what the nitrate pad answers to, so adding might count one twice.": {with(no3,
			func(a *charts.Analyte) { a.RespondsTo = nil }), no2},
		"Not judged: nitrate in mg/L does not say what it is expressed as; write mg/L as N or NO3.": {with(no3,
			func(a *charts.Analyte) { a.As = "" }), no2},
	} {
		j := Sum(rs, epa, 0)
		assert.Equal(t, VerdictNone, j.Verdict)
		assert.Equal(t, want, j.Reason)
	}
	assert.Equal(t, "The limit is not about a sum of two.", Sum([]calib.Reading{no3, no2}, bundledLimit(t, "us-epa", "nitrate"), 0).Reason)
	no2.Reliability = calib.Unreliable
	j := Sum([]calib.Reading{no3, no2}, epa, 0)
	assert.Equal(t, VerdictCannotTell, j.Verdict)
	assert.True(t, math.IsNaN(j.Probability))
}

func TestNitriteIsAWarningOnTheNitratePad(t *testing.T) {
	none, some := readingAt(nitrite(0.5), 0, 0.2), readingAt(nitrite(0.5), 3, 0.2)
	for text, to := range map[string][]string{
		"so its figure is nitrate and nitrite together": {"nitrate", "nitrite"},
		"besides the nitrate read here":                 {"nitrate"},
		"does not say whether this pad counts it too":   nil,
	} {
		rs := []calib.Reading{readingAt(evenNitrate(0.5), 2, 0.2), some}
		rs[0].Analyte.RespondsTo = to
		require.True(t, CheckNitrite(rs))
		require.Len(t, rs[0].Warnings, 1)
		assert.Equal(t, calib.CodeNitriteFound, rs[0].Warnings[0].Code)
		assert.Contains(t, rs[0].Warnings[0].Text(), text)
		assert.Empty(t, rs[1].Warnings)
	}
	yes := calib.Reading{Analyte: charts.Analyte{Name: "nitrite", Kind: charts.KindPresence}, Yes: 0.97}
	no3 := readingAt(evenNitrate(0.5), 2, 0.2)
	assert.True(t, CheckNitrite([]calib.Reading{yes, no3}))
	yes.Yes = 0.9
	assert.False(t, CheckNitrite([]calib.Reading{yes, no3}))
	assert.False(t, CheckNitrite([]calib.Reading{none, no3}))
	some.Reliability = calib.Unreliable
	assert.False(t, CheckNitrite([]calib.Reading{some, no3}))
}
