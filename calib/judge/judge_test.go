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

// readingAt is a reading of an analyte with a normal posterior about a step,
// as the photo's part of a reading would leave it: a step beyond each end, but
// nothing under a chart that starts at 0.
func readingAt(a charts.Analyte, step, spread float64) calib.Reading {
	top := float64(len(a.Swatches) - 1)
	p := calib.Posterior{Top: top}
	if a.Swatches[0].Value > 0 {
		p.First = -1
	}
	p.Mass = make([]float64, int(math.Round((top+1-p.First)*calib.PerStep))+1)
	p.Mass[int(math.Round((step-p.First)*calib.PerStep))] = 1
	return calib.FromPosterior(a, p.Blur(constant(spread)))
}

// assumedKit is the strip's own error, 95 % and in steps, where the chart states none.
const assumedKit = 0.5

// nitrate is a pad of six swatches with the strip's own error stated, or with
// none stated for 0.
func nitrate(kit float64) charts.Analyte {
	a := charts.Analyte{Name: "nitrate", Unit: "mg/L", As: "N", RespondsTo: []string{"nitrate"}, Kind: charts.KindScale,
		Spacing: charts.SpacingAuto, Parts: 1}
	for _, v := range []float64{0, 1, 3, 7, 12, 25} {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: v})
	}
	if kit > 0 {
		a.KitError = &charts.KitError{Steps: kit, Source: "invented"}
	}
	return a
}

func bundledLimit(t *testing.T, set, analyte string) limits.Limit {
	t.Helper()
	l, ok := limits.FindLimit(set, analyte, time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
	require.True(t, ok, "%s %s", set, analyte)
	return l
}

func given(t *testing.T, text string, a charts.Analyte) limits.Limit {
	t.Helper()
	c, err := limits.ParseLimit(text)
	require.NoError(t, err)
	found := c.For(a, time.Time{})
	require.Len(t, found, 1)
	return found[0]
}

// The story of a home owner: a nitrate pad between 7 and 12, limit 10.
func TestBetweenTwoSwatchesCannotTell(t *testing.T) {
	j := Against(readingAt(nitrate(0), 3.5, 0.3), bundledLimit(t, "us-epa", "nitrate"), 0)
	assert.Equal(t, VerdictCannotTell, j.Verdict)
	assert.Equal(t, DefaultGuard, j.Guard)
	sd := math.Hypot(0.3, assumedKit/1.96)
	want := 0.5 * math.Erfc(0.1/sd/math.Sqrt2) // 10 is 0.6 of the way from 7 to 12
	within(t, want, j.Probability, 0.005, "probability")
	assert.Equal(t, "water band, kit error assumed", j.RestsOn)
	require.NotEmpty(t, j.Words)
	assert.Equal(t, "Cannot tell: 40 % that the water is over 10 mg/L as N (US EPA, 40 CFR 141.62(b)(7)).", j.Words[0])
	text := strings.Join(j.Words, " ")
	for _, part := range []string{"A certified laboratory settles it.", "A second strip of the same bottle does not settle it",
		"Diluting the water does not settle it either", "yardstick",
		"the strip's own error as half a step, which is only assumed"} {
		assert.Contains(t, text, part)
	}
}

func TestClearVerdicts(t *testing.T) {
	l := bundledLimit(t, "us-epa", "nitrate")
	j := Against(readingAt(nitrate(0.5), 4.5, 0.2), l, 0.95)
	assert.Equal(t, VerdictAbove, j.Verdict)
	assert.Equal(t, "Above 10 mg/L as N (US EPA, 40 CFR 141.62(b)(7)): over 99 % that the water is over it.", j.Words[0])
	j = Against(readingAt(nitrate(0.5), 1, 0.2), l, 0.95)
	assert.Equal(t, VerdictBelow, j.Verdict, "the strip's own error is stated")
	assert.Equal(t, "water band, kit error as the chart gives it", j.RestsOn)
	j = Against(readingAt(nitrate(0), 4.7, 0.2), l, 0.95)
	assert.Equal(t, VerdictAbove, j.Verdict, "above needs no stated error")
}

// With the strip's own error only assumed a health limit is never "below".
func TestAssumedKitErrorClearsNoWater(t *testing.T) {
	j := Against(readingAt(nitrate(0), 1, 0.2), bundledLimit(t, "us-epa", "nitrate"), 0.95)
	assert.Equal(t, VerdictCannotTell, j.Verdict)
	assert.True(t, j.ReadsBelow)
	text := strings.Join(j.Words, " ")
	assert.Contains(t, text, "Reads below 10 mg/L as N")
	assert.Contains(t, text, "this strip alone is no reason to drink the water")
	j = Against(readingAt(nitrate(0), 1, 0.2), given(t, "10 mg/L as N", nitrate(0)), 0.95)
	assert.Equal(t, VerdictCannotTell, j.Verdict, "a typed limit for nitrate is one for health")

	hard := charts.Analyte{Name: "total hardness", Unit: "mg/L", As: "CaCO3", Kind: charts.KindScale, Spacing: charts.SpacingAuto, Parts: 1}
	for _, v := range []float64{0, 40, 90, 160, 260, 420} {
		hard.Swatches = append(hard.Swatches, charts.Swatch{Value: v})
	}
	j = Against(readingAt(hard, 1, 0.2), given(t, "180 mg/L as CaCO3", hard), 0.95)
	assert.Equal(t, VerdictBelow, j.Verdict, "not a health limit")
}

// A person's own two-sided limit for health is held to the same.
func TestAssumedKitErrorClearsNoRange(t *testing.T) {
	a := nitrate(0)
	l := limits.Limit{Authority: "invented", Analyte: "nitrate", Low: 2, High: 10, Unit: a.Measure(), Kind: limits.LimitHealth,
		Basis: limits.BasisSample}
	j := Against(readingAt(a, 2.4, 0.1), l, 0)
	assert.Equal(t, VerdictCannotTell, j.Verdict)
	assert.True(t, j.ReadsBelow)
	assert.Contains(t, j.Words[0], "Reads within 2 to 10 mg/L as N")
	assert.False(t, Against(readingAt(a, 0, 0.1), l, 0).ReadsBelow, "under the range is out of it")
}

// A pad that counts something else in says so.
func TestWhatThePadCountsIn(t *testing.T) {
	a := nitrate(0.5)
	l := bundledLimit(t, "eu", "nitrate")
	text := func() string { return strings.Join(Against(readingAt(a, 2, 0.2), l, 0).Words, " ") }
	assert.NotContains(t, text(), "answers to")
	a.RespondsTo = []string{"nitrate", "nitrite"}
	assert.Contains(t, text(), "The pad answers to nitrite too and counts it in.")
	a.RespondsTo = []string{"calcium", "magnesium"} // as a hardness pad's
	assert.NotContains(t, text(), "answers to")
}

// The limit is met in its own unit: 44.3 mg/L as NO3 is 10 mg/L as N.
func TestLimitInAnotherUnit(t *testing.T) {
	r := readingAt(nitrate(0.5), 3.5, 0.3)
	asN := Against(r, given(t, "10 mg/L as N", r.Analyte), 0)
	asNO3 := Against(r, given(t, "44.26644 mg/L as NO3", r.Analyte), 0) // water_units.csv: 4.426644
	within(t, asN.Probability, asNO3.Probability, 1e-5, "probability")
	within(t, asN.Value*4.426644, asNO3.Value, 1e-4, "value")
	within(t, r.WaterBand.Low.Value*4.426644, asNO3.Low.Value, 1e-4, "low end")
	grains := Against(readingAt(nitrate(0.5), 3.5, 0.3), given(t, "10000 ug/L as N", r.Analyte), 0)
	within(t, asN.Probability, grains.Probability, 1e-12, "thousandths")
}

func TestNotJudged(t *testing.T) {
	r := readingAt(nitrate(0.5), 3.5, 0.3)
	bare := r
	bare.Analyte.As = ""
	yes := r
	yes.Analyte.Kind = charts.KindPresence
	who, _ := limits.FindLimitSet("who")
	for _, c := range []struct {
		r    calib.Reading
		l    limits.Limit
		want string
	}{
		{bare, bundledLimit(t, "us-epa", "nitrate"), "Not judged: nitrate in mg/L does not say what it is expressed as; write mg/L as " +
			"N or NO3."},
		{r, bundledLimit(t, "us-epa", "pH"), "Not judged: nitrate cannot be converted from mg/L as N to pH; pH is a scale of its own."},
		{yes, bundledLimit(t, "us-epa", "nitrate"), "A yes-or-no pad gives no figure to set against a limit."},
		{r, who.Sums(time.Time{})[0], "The rule is about several analytes together."},
	} {
		j := Against(c.r, c.l, 0)
		assert.Equal(t, VerdictNone, j.Verdict)
		assert.Equal(t, c.want, j.Reason)
		assert.True(t, math.IsNaN(j.Probability))
		assert.Equal(t, []string{c.want}, j.Words)
		assert.Contains(t, strings.Join(j.Next, " "), "do not rely on a strip")
	}
}

// A limit past an end of the chart is judged only as far as that end allows.
func TestLimitPastTheChart(t *testing.T) {
	a := nitrate(0.5)
	far := given(t, "nitrate 40 mg/L as N", a)
	j := Against(readingAt(a, 2, 0.2), far, 0)
	assert.Equal(t, VerdictBelow, j.Verdict)
	assert.Contains(t, strings.Join(j.Words, " "), "The chart ends at 25 mg/L as N, which is less than the limit")
	j = Against(readingAt(a, 5.5, 0.2), far, 0)
	assert.Equal(t, VerdictCannotTell, j.Verdict, "past the top nothing is known of 40")
	assert.True(t, math.IsNaN(j.Probability))
	assert.Equal(t, 0.0, j.Over.AtLeast)
	assert.Greater(t, j.Over.AtMost, 0.5)
	assert.Contains(t, j.Words[0], "at most")

	high := a
	high.Swatches = high.Swatches[2:] // begins at 3
	low := given(t, "nitrate 1 mg/L as N", a)
	j = Against(readingAt(high, 2, 0.2), low, 0)
	assert.Equal(t, VerdictAbove, j.Verdict)
	j = Against(readingAt(high, 0, 0.2), low, 0)
	assert.Equal(t, VerdictCannotTell, j.Verdict)
	assert.Equal(t, 1.0, j.Over.AtMost)
	assert.Contains(t, strings.Join(j.Words, " "), "The chart begins at 3 mg/L as N, which is more than the limit")

	atTop := Against(readingAt(a, 5.9, 0.05), given(t, "nitrate 25 mg/L as N", a), 0)
	assert.Equal(t, VerdictAbove, atTop.Verdict, "past the top is over the top")
}

func phAnalyte() charts.Analyte {
	a := charts.Analyte{Name: "pH", Unit: "pH", Kind: charts.KindScale, Spacing: charts.SpacingAuto, Parts: 1}
	for _, v := range []float64{5.8, 6.4, 7, 7.6, 8.2, 8.8} {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: v})
	}
	return a
}

func TestLimitWithTwoSides(t *testing.T) {
	l := bundledLimit(t, "us-epa", "pH")
	for _, c := range []struct {
		step float64
		want Verdict
		word string
	}{
		{0, VerdictBelow, "Outside pH 6.5 to 8.5 (US EPA, 40 CFR 143.3), too low: "}, {2.5, VerdictWithin, "Within pH 6.5 to 8.5"},
		{5.5, VerdictAbove, "Outside pH 6.5 to 8.5 (US EPA, 40 CFR 143.3), too high: "}, {1.2, VerdictCannotTell, "Cannot tell: "},
	} {
		j := Against(readingAt(phAnalyte(), c.step, 0.15), l, 0)
		assert.Equal(t, c.want, j.Verdict, c.step)
		assert.True(t, strings.HasPrefix(j.Words[0], c.word), j.Words[0])
		within(t, j.Probability, j.Under.AtLeast+j.Above.AtLeast, 1e-12, "outside")
	}
}

// What is not about one sample gives no verdict, only the comparison.
func TestNotAboutOneSample(t *testing.T) {
	lead := charts.Analyte{Name: "lead", Unit: "ug/L", Kind: charts.KindScale, Spacing: charts.SpacingAuto, Parts: 1,
		Swatches: []charts.Swatch{{Value: 0}, {Value: 5}, {Value: 15}, {Value: 50}}}
	j := Against(readingAt(lead, 2.8, 0.1), bundledLimit(t, "us-epa", "lead"), 0)
	assert.Equal(t, VerdictNone, j.Verdict)
	assert.True(t, math.IsNaN(j.Probability))
	assert.Equal(t, "It is compared with the 90th percentile of many taps, so one sample gives no verdict.", j.Reason)
	within(t, 0.039, j.Value, 0.0005, "mg/L") // 15 (50/15)^0.8
	assert.Equal(t, "Reads 0.039 mg/L as Pb, which is more than 0.015 mg/L as Pb (US EPA, 40 CFR 141.80(c) (before LCRI)).",
		j.Words[0])
}

func TestUnreliableReadingTellsNothing(t *testing.T) {
	r := readingAt(nitrate(0.5), 4.8, 0.1)
	r.Reliability = calib.Unreliable
	j := Against(r, bundledLimit(t, "us-epa", "nitrate"), 0)
	assert.Equal(t, VerdictCannotTell, j.Verdict)
	assert.True(t, math.IsNaN(j.Probability))
	assert.Contains(t, j.Reason, "not to be used")
	assert.Contains(t, strings.Join(j.Words, " "), "not to be used")
	assert.Contains(t, strings.Join(j.Next, " "), "Do not use this water for baby formula", "it may be over")
}

func TestParseGuard(t *testing.T) {
	for text, want := range map[string]float64{"0.95": 0.95, "95": 0.95, "95 %": 0.95, "99.9%": 0.999, " 0.9 ": 0.9} {
		g, err := ParseGuard(text)
		if assert.NoError(t, err, text) {
			within(t, want, g, 1e-12, text)
		}
	}
	for _, text := range []string{"", "0.5", "50 %", "1", "100", "0.95 %", "NaN", "-3", "high", "1e400"} {
		_, err := ParseGuard(text)
		assert.ErrorContains(t, err, "write a percentage over 50 and under 100, such as 95", text)
	}
	assert.Equal(t, DefaultGuard, newJudgement(limits.Limit{}, math.NaN()).Guard)
}

// A rule about a sum that has a unit of its own is one limit for a pad that
// answers to all of it: 25 mg/L as N are over 10, 1 mg/L is not.
func TestSumInAUnitJudgesThePadThatHoldsBoth(t *testing.T) {
	a := nitrate(0.5)
	a.RespondsTo = []string{"nitrate", "nitrite"}
	epa := sumOf(t, "us-epa")
	for step, want := range map[float64]Verdict{4.9: VerdictAbove, 1: VerdictBelow} {
		j := Against(readingAt(a, step, 0.2), epa, 0)
		assert.Equal(t, want, j.Verdict, "%v", j.Words)
		assert.NotContains(t, j.Reason, "several analytes")
	}
}
