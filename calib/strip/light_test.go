package strip

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry/photo"
)

// Exposure values at ISO 100 of the table in common use: f/16 and 1/100 s in full
// sunlight are about 15 (the "sunny 16" rule, from memory), and f/1 and 1 s are 0 by
// definition.
func TestExposureValue(t *testing.T) {
	for _, c := range []struct {
		n, t float64
		iso  int
		want float64
	}{
		{1, 1, 100, 0}, {16, 1.0 / 100, 100, 14.64}, {1.4, 1, 100, 1}, {2, 1.0 / 4, 100, 4}, {2, 1.0 / 4, 800, 1}, {1.8, 1.0 / 60, 100, 7.6},
	} {
		ev, ok := ev100(photo.Facts{FNumber: c.n, ExposureSeconds: c.t, ISO: c.iso})
		assert.True(t, ok)
		assert.InDelta(t, c.want, ev, 0.05, c)
	}
	for _, f := range []photo.Facts{{}, {FNumber: 2, ISO: 100}, {FNumber: 2, ExposureSeconds: 1}, {ExposureSeconds: 1, ISO: 100}} {
		_, ok := ev100(f)
		assert.False(t, ok)
	}
}

// The photo's facts take a word away; none gives a light but the flash that fired.
func TestLightThatThePhotoContradicts(t *testing.T) {
	dim := photo.Facts{FNumber: 2, ExposureSeconds: 1.0 / 4, ISO: 400}     // 2
	night := photo.Facts{FNumber: 2, ExposureSeconds: 1.0 / 4, ISO: 100}   // 4
	window := photo.Facts{FNumber: 2, ExposureSeconds: 1.0 / 100, ISO: 50} // 9.6
	flash, none := photo.Facts{Flash: true}, photo.Facts{}
	as := func(n int) photo.Facts { return photo.Facts{LightSource: photo.LightSource(n)} }
	for i, c := range []struct {
		said  charts.Lamp
		facts photo.Facts
		want  charts.Lamp
		doubt bool
	}{
		{"", none, "", false}, {"", flash, "flash", false}, {"", as(2), "", false}, {"", dim, "", false}, {"", as(4), "", false},
		{"flash", flash, "flash", false}, {"flash", none, "flash", false}, {"flash", dim, "flash", false},
		{"daylight", flash, "", true}, {"tube", flash, "", true}, {"lamp", flash, "", true},
		{"daylight", as(2), "", true}, {"daylight", as(13), "", true}, {"lamp", as(14), "", true}, {"tube", as(2), "tube", false},
		{"daylight", as(3), "", true}, {"tube", as(17), "", true}, {"lamp", as(24), "lamp", false},
		{"daylight", as(1), "daylight", false}, {"tube", as(21), "tube", false}, {"daylight", as(255), "daylight", false},
		{"daylight", as(11), "daylight", false},
		{"daylight", dim, "", true}, {"lamp", dim, "lamp", false}, {"tube", dim, "tube", false},
		{"daylight", night, "daylight", false}, {"daylight", window, "daylight", false}, {"daylight", none, "daylight", false},
	} {
		lamp, doubt := lampOf(c.said, c.facts)
		assert.Equal(t, c.want, lamp, "%d: %+v", i, c)
		assert.Equal(t, c.doubt, len(doubt) == 1, "%d: %+v", i, c)
	}
}

// A word that is not used is told once, with what to do, and leaves the reading as it is
// without the word.
func TestWordThatIsNotUsedIsTold(t *testing.T) {
	r := readDemo(t, "kitchen.jpg")
	p := *r.Photo
	p.Facts.LightSource = 2
	read := func(l charts.Lamp) *Result {
		m := r.Marks
		m.Sample.Light = l
		out, err := ReadPhoto(&p, r.Chart, m, Ask{})
		require.NoError(t, err)
		return out
	}
	told := func(r *Result) (out []calib.Warning) {
		for _, w := range r.Light.Warnings {
			if w.Code == calib.CodeLightSaid {
				out = append(out, w)
			}
		}
		return out
	}
	unsaid, said := read(charts.LampUnsaid), read(charts.LampDaylight)
	assert.Empty(t, told(unsaid))
	require.Len(t, told(said), 1)
	assert.Equal(t, "The light was said to be daylight, but the photo says that the camera took it for a fluorescent tube. "+
		"The word is not used. Say which light was on strip and chart, or take the photo again under one light alone.", told(said)[0].Text())
	assert.Equal(t, unsaid.Readings, said.Readings)
	assert.Equal(t, unsaid.Light.Reliability, said.Light.Reliability)
	assert.Equal(t, charts.LampDaylight, said.Marks.Sample.Light, "what was said stays written")
}

// No word fits two kinds of light: the cellar's is mixed, and is read as if nothing were
// said, which is told.
func TestNoWordFitsMixedLight(t *testing.T) {
	plain := readDemo(t, "cellar.jpg")
	require.True(t, mixed(plain.Light))
	m := plain.Marks
	m.Sample.Light = charts.LampTube
	said, err := ReadPhoto(plain.Photo, plain.Chart, m, Ask{})
	require.NoError(t, err)
	assert.Equal(t, plain.Readings, said.Readings)
	last := said.Light.Warnings[len(said.Light.Warnings)-1]
	assert.Equal(t, calib.CodeLightSaid, last.Code)
	assert.Contains(t, last.Text(), "two kinds of light. The word is not used.")
}
