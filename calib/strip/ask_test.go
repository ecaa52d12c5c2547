package strip

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/judge"
	"padband/charts"
	"padband/charts/limits"
	"padband/charts/units"
)

func limit(t *testing.T, text string) limits.LimitChoice {
	t.Helper()
	c, err := limits.ParseLimit(text)
	require.NoError(t, err)
	return c
}

// answered reads a photo again with another question.
func answered(t *testing.T, r *Result, ask Ask) *Result {
	t.Helper()
	out, err := ReadPhoto(r.Photo, r.Chart, r.Marks, ask)
	require.NoError(t, err)
	return out
}

// refusal is why a question is refused.
func refusal(r *Result, ask Ask) error {
	_, err := ReadPhoto(r.Photo, r.Chart, r.Marks, ask)
	return err
}

// The kitchen's nitrate is truly 8.6 mg/L as N and reads near 10, so that 10
// cannot be told and 3 or 40 can; figures of the limits are the authorities'.
func TestMeanings(t *testing.T) {
	r := readDemo(t, "kitchen.jpg")
	r = answered(t, r, Ask{Limits: []limits.LimitChoice{limit(t, "us-epa"), limit(t, "who"), limit(t, "nitrate 3 mg/L as N")}})
	js := r.Meanings[0].Judgements
	require.Len(t, js, 3)
	assert.Equal(t, judge.VerdictCannotTell, js[0].Verdict)
	assert.Equal(t, "US EPA", js[0].Limit.Authority)
	assert.Equal(t, 50.0, js[1].Limit.Value)
	assert.Contains(t, js[1].Words, "In that unit the strip reads 44 mg/L as NO3.")
	assert.Equal(t, judge.VerdictAbove, js[2].Verdict)
	assert.Empty(t, r.Meanings[1].Judgements, "neither limits hardness")
	require.Len(t, r.Meanings[2].Judgements, 1)
	assert.Equal(t, judge.VerdictWithin, r.Meanings[2].Judgements[0].Verdict)
	assert.Empty(t, r.Sums, "there is no nitrite pad")

	assert.ErrorContains(t, refusal(r, Ask{Limits: []limits.LimitChoice{limit(t, "lead 10 ug/L as Pb")}}), "lead")
	assert.ErrorContains(t, refusal(r, Ask{Units: []units.Unit{{Name: "uS/cm"}}}), "no analyte of the chart can be given in uS/cm")
	assert.ErrorContains(t, refusal(r, Ask{Units: []units.Unit{{Name: "ppm"}}}), "does not say what it is expressed as")
}

// A limit counts on the day of the photo: the EPA's action level of lead is
// 0.015 mg/L until 2027-10-31 and 0.010 after (89 FR 86418).
func TestLimitOfTheDay(t *testing.T) {
	a := charts.Analyte{Name: "lead", Unit: "mg/L", As: "Pb", Swatches: []charts.Swatch{{Value: 0}, {Value: 1}}}
	ask := Ask{Limits: []limits.LimitChoice{limit(t, "us-epa")}}
	for day, want := range map[string]float64{"2026-11-14": 0.015, "2027-10-31": 0.015, "2027-11-01": 0.010} {
		on, err := time.Parse(time.DateOnly, day)
		require.NoError(t, err)
		js := ask.Of(calib.Reading{Analyte: a, Reliability: calib.Unreliable}, on).Judgements
		require.Len(t, js, 1, day)
		assert.Equal(t, want, js[0].Limit.Value, day)
	}
}

func TestDilutedStrip(t *testing.T) {
	r := readDemo(t, "kitchen.jpg")
	pad := r.Readings[0].Value
	r.Marks.Sample.Dilution = "1+1"
	r = answered(t, r, Ask{Limits: []limits.LimitChoice{limit(t, "us-epa")}, Units: []units.Unit{{Name: "mg/L", As: "NO3"}}})
	m := r.Meanings[0]
	require.NotNil(t, m.Undiluted)
	assert.InDelta(t, 2*pad, m.Undiluted.Value, 1e-9)
	assert.Equal(t, pad, r.Readings[0].Value, "the pad's own reading stays")
	assert.InDelta(t, 2*pad*62.004/14.007, m.Converted[0].Value, 1e-6, "IUPAC 2021 atomic masses")
	assert.Equal(t, judge.VerdictAbove, m.Judgements[0].Verdict, "of the water before it was mixed")
	ph := r.Meanings[2]
	assert.Nil(t, ph.Undiluted)
	assert.Contains(t, ph.Refused, "pH is not divided by diluting")
	assert.Empty(t, ph.Judgements)

	// A strip of the water itself that reads the same as the diluted one.
	r = readDemo(t, "kitchen.jpg")
	d, err := units.ParseDilution("1+3")
	require.NoError(t, err)
	r = answered(t, r, Ask{Dilution: &d, Pure: readDemo(t, "kitchen.jpg").Readings})
	assert.Contains(t, codesOf(r.Readings[0]), "dilution-disagrees")
	r = answered(t, r, Ask{Dilution: &d, Pure: readDemo(t, "kitchen.jpg").Readings,
		Limits: []limits.LimitChoice{limit(t, "nitrate 100 mg/L as N")}})
	j := r.Meanings[0].Judgements[0]
	assert.Equal(t, judge.VerdictCannotTell, j.Verdict, "one of the two strips is wrong")
	assert.Contains(t, j.Reason, "disagree")
	assert.Contains(t, j.Next[0], "Do not use this water for baby formula")
	assert.True(t, r.Meanings[1].NoLimit, "the limit is for nitrate alone")

	r.Marks.Sample.Dilution = "half"
	assert.ErrorContains(t, refusal(r, Ask{}), "sample.dilution")
}

func TestCheckStandard(t *testing.T) {
	for text, holds := range map[string]bool{"nitrate 10 mg/L as N": true, "44 mg/L as NO3": true, "4 mg/L as N": false,
		"0 mg/L as N": false} {
		r := readDemo(t, "kitchen.jpg")
		name, known, err := ParseStandard(text)
		require.NoError(t, err, text)
		before := r.Readings[0].Value
		r = answered(t, r, Ask{Standards: []Standard{{Photo: "std.jpg", Analyte: name, Known: known,
			Readings: readDemo(t, "kitchen.jpg").Readings}}})
		require.Len(t, r.Meanings[0].Standards, 1, text)
		assert.Equal(t, holds, r.Meanings[0].Standards[0].Holds, text)
		assert.Equal(t, before, r.Readings[0].Value, "nothing is corrected")
		assert.Empty(t, r.Meanings[1].Standards)
		if holds {
			assert.NotContains(t, codesOf(r.Readings[0]), "standard-off")
			continue
		}
		assert.Contains(t, codesOf(r.Readings[0]), "standard-off")
		assert.Equal(t, calib.Caution, r.Readings[0].Reliability)
	}
	r := readDemo(t, "kitchen.jpg")
	for text, want := range map[string]string{"10 mg/L as Pb": "fits no analyte", "lead 10 mg/L as N": "fits no analyte"} {
		name, known, err := ParseStandard(text)
		require.NoError(t, err, text)
		assert.ErrorContains(t, refusal(r, Ask{Standards: []Standard{{Analyte: name, Known: known}}}), want, text)
	}
	_, _, err := ParseStandard("much")
	assert.Error(t, err)
}

// A chart's figure for the strip's own error does not hold for an expired kit, a
// photo too late or a standard that reads wrong: then water is never cleared.
func TestSpoiltKitClearsNothing(t *testing.T) {
	ask := Ask{Limits: []limits.LimitChoice{limit(t, "nitrate 24 mg/L as N")}}
	r := readDemo(t, "kitchen.jpg")
	r = answered(t, r, ask)
	assert.Equal(t, judge.VerdictBelow, r.Meanings[0].Judgements[0].Verdict, "a kit that is as it should be")
	for want, change := range map[string]func(*charts.SampleInfo){
		"The kit's date is not known, so the strip's own error is not known": func(s *charts.SampleInfo) {
			s.Kit.Expires = ""
		},
		"The time from dip to photo is not known, so the strip's own error is not known": func(s *charts.SampleInfo) {
			s.Dipped = ""
		},
		"The kit was past its date, so the strip's own error is not known": func(s *charts.SampleInfo) {
			s.Kit.Expires = "2026-10"
		},
		"The kit had been open too long, so the strip's own error is not known": func(s *charts.SampleInfo) {
			s.Kit.Opened = "2026-01-01"
		},
		"The photo was not taken within the time for reading the pad, so the strip's own error": func(s *charts.SampleInfo) {
			s.Dipped = "2026-11-14T08:39:10-05:00"
		},
	} {
		r := demoAt(t, change)
		r = answered(t, r, ask)
		j := r.Meanings[0].Judgements[0]
		assert.Equal(t, judge.VerdictCannotTell, j.Verdict, want)
		assert.True(t, j.ReadsBelow)
		assert.Contains(t, j.Words[0], "by its colour alone", "no figure where the error is not known")
		assert.Contains(t, j.Reason, want)
		assert.Contains(t, j.Reason, "this strip alone is no reason to drink the water")
	}
	ask.Standards = []Standard{{Photo: "std.jpg", Analyte: "nitrate", Known: units.Quantity{Value: 2, Unit: units.Unit{Name: "mg/L",
		As: "N"}}, Readings: readDemo(t, "kitchen.jpg").Readings}}
	r = readDemo(t, "kitchen.jpg")
	r = answered(t, r, ask)
	assert.Contains(t, r.Meanings[0].Judgements[0].Reason, "The check standard did not read what it should")
}

// One measured photo can be asked more than once: each answer is whole, and no
// warning of one is in another.
func TestAnswersStandApart(t *testing.T) {
	photo := readDemo(t, "kitchen.jpg")
	m, err := Measure(photo.Photo, photo.Chart, photo.Marks)
	require.NoError(t, err)
	known := units.Quantity{Value: 4, Unit: units.Unit{Name: "mg/L", As: "N"}}
	off, err := m.Answer(photo.Marks.Sample, Ask{Standards: []Standard{{Photo: "std.jpg", Known: known, Readings: photo.Readings}}})
	require.NoError(t, err)
	assert.Contains(t, codesOf(off.Readings[0]), "standard-off")
	again, err := m.Answer(photo.Marks.Sample, Ask{})
	require.NoError(t, err)
	assert.Equal(t, photo.Readings[0].Warnings, again.Readings[0].Warnings)
	assert.Equal(t, photo.Light, again.Light)
	assert.Len(t, again.Meanings, len(again.Readings))
	late := photo.Marks.Sample
	late.Dipped = "2026-11-14T08:30:10-05:00"
	old, err := m.Answer(late, Ask{})
	require.NoError(t, err)
	assert.Contains(t, codesOf(old.Readings[0]), "late")
	assert.Equal(t, late, old.Marks.Sample)
}
