package strip

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
)

// millReading is a reading of one analyte of a bundled chart, its band and water band
// from low to high.
func millReading(t *testing.T, name string, low, high float64) calib.Reading {
	t.Helper()
	c, ok := charts.Find("mill-spring")
	require.True(t, ok)
	a, ok := c.Analyte(name)
	require.True(t, ok)
	band := calib.Band{Low: calib.Bound{Value: low}, High: calib.Bound{Value: high}, Coverage: calib.Coverage}
	return calib.Reading{Analyte: a, Value: (low + high) / 2, Band: band, WaterBand: band, Reliability: calib.Good}
}

// testified is what the pads of one photo say of each other.
func testified(t *testing.T, sample charts.SampleInfo, ask Ask, rs ...calib.Reading) map[string]calib.Reading {
	t.Helper()
	r := &Result{Readings: rs, Marks: charts.Marks{Sample: sample}}
	require.NoError(t, r.addSpoilers(ask))
	out := map[string]calib.Reading{}
	for _, x := range r.Readings {
		out[x.Analyte.Name] = x
	}
	return out
}

// The bundled chart says that more than 5 mg/L of free chlorine bleaches its pH pad.
func TestAnotherPadSpoilsAReading(t *testing.T) {
	open := millReading(t, "free chlorine", 2, 9)
	open.WaterBand.High.Open = true
	unsure := millReading(t, "free chlorine", 1, 3)
	unsure.Reliability = calib.Unreliable
	for name, c := range map[string]struct {
		chlorine calib.Reading
		want     calib.Reliability
		says     string
	}{
		"under":               {millReading(t, "free chlorine", 1, 5), calib.Good, ""},
		"the upper end over":  {millReading(t, "free chlorine", 2, 5.1), calib.Unreliable, "may hold up to 5.1 mg/L as Cl2 of free chlorine; over 5 mg/L as Cl2"},
		"past the chart":      {open, calib.Unreliable, "9 mg/L as Cl2 or more"},
		"its own pad unknown": {unsure, calib.Caution, "How much free chlorine the water holds is not known"},
		"nothing or a lot":    {millReading(t, "free chlorine", 0, 0.3), calib.Unreliable, "shows either none or very much"},
	} {
		t.Run(name, func(t *testing.T) {
			got := testified(t, charts.SampleInfo{}, Ask{}, c.chlorine, millReading(t, "pH", 7, 7.4), millReading(t, "nitrite", 0, 0))
			assert.Equal(t, c.want, got["pH"].Reliability)
			if c.says == "" {
				assert.Empty(t, got["pH"].Warnings)
			} else if assert.Len(t, got["pH"].Warnings, 1) {
				w := got["pH"].Warnings[0]
				assert.Equal(t, calib.CodeSpoiledBy, w.Code)
				assert.Contains(t, w.Seen, c.says)
				assert.Contains(t, w.Seen, "it bleaches this pad (invented for the demonstration).")
			}
			assert.Empty(t, got["nitrite"].Warnings, "the chart names nothing that spoils it")
		})
	}
}

func TestPadThatIsNotMarkedSaysNothing(t *testing.T) {
	assert.Empty(t, testified(t, charts.SampleInfo{}, Ask{}, millReading(t, "pH", 7, 7.4))["pH"].Warnings)
}

// A pad that bleaches cannot tell zero from very much, until the person rules it out or
// a strip of well diluted water agrees with one of the water itself.
func TestPadWithoutColourCannotTellNothingFromVeryMuch(t *testing.T) {
	none := millReading(t, "free chlorine", 0, 0.3)
	some := millReading(t, "free chlorine", 0.3, 0.8)
	bad := none
	bad.Warnings = []calib.Warning{{Code: calib.CodeGlare, Weight: calib.Unreliable}}
	bleached := none
	bleached.Reliability = calib.Unreliable
	bleached.Warnings = []calib.Warning{{Code: calib.CodeSpoiledBy, Weight: calib.Unreliable}}
	tenTimes, twice := &units.Dilution{Sample: 1, Water: 9}, &units.Dilution{Sample: 1, Water: 1}
	for name, c := range map[string]struct {
		sample charts.SampleInfo
		ask    Ask
		shown  calib.Reading
		want   calib.Reliability
	}{
		"no colour":                 {charts.SampleInfo{}, Ask{}, none, calib.Unreliable},
		"some colour":               {charts.SampleInfo{}, Ask{}, some, calib.Good},
		"ruled out":                 {charts.SampleInfo{BleachRuledOut: true}, Ask{}, none, calib.Good},
		"diluted alone":             {charts.SampleInfo{}, Ask{Dilution: tenTimes}, none, calib.Unreliable},
		"a diluted strip agrees":    {charts.SampleInfo{}, Ask{Dilution: tenTimes, Pure: []calib.Reading{bleached}}, none, calib.Good},
		"by the marks' dilution":    {charts.SampleInfo{Dilution: "1+9"}, Ask{Pure: []calib.Reading{bleached}}, none, calib.Good},
		"hardly diluted":            {charts.SampleInfo{}, Ask{Dilution: twice, Pure: []calib.Reading{bleached}}, none, calib.Unreliable},
		"the strips are far apart":  {charts.SampleInfo{}, Ask{Dilution: tenTimes, Pure: []calib.Reading{some}}, none, calib.Unreliable},
		"the other photo is no use": {charts.SampleInfo{}, Ask{Dilution: tenTimes, Pure: []calib.Reading{bad}}, none, calib.Unreliable},
		"not diluted":               {charts.SampleInfo{}, Ask{Pure: []calib.Reading{bleached}}, none, calib.Unreliable},
	} {
		got := testified(t, c.sample, c.ask, c.shown, millReading(t, "pH", 7, 7.4))
		assert.Equal(t, c.want, got["free chlorine"].Reliability, name)
		assert.Equal(t, c.want, got["pH"].Reliability, "%s: the pH pad would be bleached too", name)
		if c.want == calib.Unreliable {
			assert.Contains(t, got["free chlorine"].Warnings[0].Text(), "shows either no free chlorine or very much of it")
			assert.Contains(t, got["free chlorine"].Warnings[0].Text(), "nothing smells of chlorine")
		}
	}
}

// Ruling chlorine out says nothing against a pad that shows it.
func TestRuledOutDoesNotClearWhatAPadShows(t *testing.T) {
	got := testified(t, charts.SampleInfo{BleachRuledOut: true}, Ask{}, millReading(t, "free chlorine", 4, 9), millReading(t, "pH", 7, 7.4))
	assert.Equal(t, calib.Unreliable, got["pH"].Reliability)
}

// Through the whole answer: the kitchen's nitrate, truly 8.6 mg/L as N, spoils what a
// chart says that it spoils, and the judgement is never below.
func TestSpoiledReadingIsNotJudgedBelow(t *testing.T) {
	r := readDemo(t, "kitchen.jpg")
	chart := r.Chart
	chart.Analytes = append([]charts.Analyte(nil), chart.Analytes...)
	for over, want := range map[float64]string{5: "cannot tell", 25: "within"} {
		chart.Analytes[2].SpoiledBy = []charts.Spoiler{{Analyte: "nitrate", Over: over, How: charts.SpoilDisturbs, Source: "invented"}}
		out, err := ReadPhoto(r.Photo, chart, r.Marks, Ask{Limits: []limits.LimitChoice{limit(t, "us-epa")}})
		require.NoError(t, err)
		require.NotEmpty(t, out.Meanings[2].Judgements)
		assert.Equal(t, want, string(out.Meanings[2].Judgements[0].Verdict), over)
	}
}
