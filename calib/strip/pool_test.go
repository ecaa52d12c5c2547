package strip

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry/photo"
)

// several are results as of so many photos of the kitchen's strip, each with a
// change of its own; the first analyte is nitrate, read at 45 to 75 s.
func several(t *testing.T, n int, change func(i int, r *Result)) []*Result {
	t.Helper()
	one := readDemo(t, "kitchen.jpg")
	var out []*Result
	for i := range n {
		r := *one
		facts := one.Photo.Facts
		facts.SHA256 = string(rune('a' + i))
		r.Photo = &photo.Photo{Facts: facts}
		r.Readings = append([]calib.Reading(nil), one.Readings...)
		change(i, &r)
		out = append(out, &r)
	}
	return out
}

// pooledFirst pools and returns the first analyte.
func pooledFirst(t *testing.T, rs []*Result) Pooled {
	t.Helper()
	all, _, err := Pool(rs, calib.OneStrip)
	require.NoError(t, err)
	require.Equal(t, "nitrate", all[0].Analyte.Name)
	return all[0]
}

// An unreliable photo is left out where two others remain, and kept where not.
func TestPoolLeavesUnreliablePhotosOut(t *testing.T) {
	bad := func(which ...int) func(int, *Result) {
		return func(i int, r *Result) {
			for _, w := range which {
				if i == w {
					r.Readings[0].Reliability = calib.Unreliable
				}
			}
		}
	}
	p := pooledFirst(t, several(t, 3, bad(1)))
	assert.Equal(t, []int{0, 2}, p.Photos)
	assert.Equal(t, []LeftOut{{Photo: 1, Why: "its own reading is unreliable"}}, p.LeftOut)
	assert.Equal(t, calib.Good, p.Reliability)

	p = pooledFirst(t, several(t, 2, bad(1)))
	assert.Equal(t, []int{0, 1}, p.Photos)
	assert.Empty(t, p.LeftOut)
	assert.Equal(t, calib.Unreliable, p.Reliability)

	p = pooledFirst(t, several(t, 3, bad()))
	assert.Equal(t, []int{0, 1, 2}, p.Photos)
	assert.Empty(t, p.LeftOut)
	assert.False(t, p.Undated)
}

// The photo was taken at 08:41:10: 30 s after this dip is too early for nitrate.
// The others that remain keep the numbers of their photos.
func TestPoolLeavesPhotosOutOfTimeOut(t *testing.T) {
	rs := several(t, 5, func(i int, r *Result) {
		switch i {
		case 0:
			r.Marks.Sample.Dipped = "2026-11-14T08:40:40-05:00"
		case 3: // three steps away from the rest
			p := &r.Readings[0].Posterior
			moved := make([]float64, len(p.Mass))
			for k, m := range p.Mass {
				moved[min(k+3*calib.PerStep, len(moved)-1)] += m
			}
			p.Mass = moved
		}
	})
	p := pooledFirst(t, rs)
	require.Len(t, p.LeftOut, 1)
	assert.Equal(t, 0, p.LeftOut[0].Photo)
	assert.Equal(t, calib.CodeEarly, p.LeftOut[0].Code)
	assert.Equal(t, "taken 30 s after the dip; the pad is read at 45 to 75 s", p.LeftOut[0].Why)
	assert.Equal(t, []int{1, 2, 3, 4}, p.Photos)
	assert.Equal(t, []int{3}, p.Disagree)
}

func TestPoolSaysThatATimeIsNotKnown(t *testing.T) {
	p := pooledFirst(t, several(t, 2, func(i int, r *Result) {
		if i == 1 {
			r.Marks.Sample.Dipped = ""
		}
	}))
	assert.True(t, p.Undated)
	assert.Equal(t, []int{0, 1}, p.Photos)
}

func TestPoolRefuses(t *testing.T) {
	same := func(int, *Result) {}
	_, _, err := Pool(several(t, 1, same), calib.OneStrip)
	assert.ErrorContains(t, err, "two photos or more")
	_, _, err = Pool(several(t, 2, func(_ int, r *Result) { r.Photo.Facts.SHA256 = "a" }), calib.OneStrip)
	assert.ErrorContains(t, err, "the same file")
	_, _, err = Pool(several(t, 2, func(i int, r *Result) { r.Chart.Version += string(rune('a' + i)) }), calib.OneStrip)
	assert.ErrorContains(t, err, "different charts")
	_, _, err = Pool(several(t, 2, func(i int, r *Result) {
		if i == 1 {
			r.Marks.Sample.Dipped = "2026-11-14T06:40:40-05:00"
		}
	}), calib.OneStrip)
	assert.ErrorContains(t, err, "nothing can be pooled: nitrate: fewer than two photos can be used; left out: photo 2, taken ")
}

// The day is the camera's where the file tells one, else the one typed, each as
// the clock there showed it.
func TestDayOfThePhoto(t *testing.T) {
	camera := photo.Facts{Taken: "2026-11-14T23:50:00", TakenTime: time.Date(2026, 11, 14, 23, 50, 0, 0, time.FixedZone("", -5*3600))}
	typed := charts.SampleInfo{Taken: "2026-11-20T00:10:00+09:00"}
	for _, c := range []struct {
		sample charts.SampleInfo
		facts  photo.Facts
		want   string
	}{
		{typed, camera, "2026-11-14"}, {charts.SampleInfo{}, camera, "2026-11-14"},
		{typed, photo.Facts{}, "2026-11-20"}, {charts.SampleInfo{}, photo.Facts{}, ""},
	} {
		day, ok := takenDay(c.sample, c.facts)
		assert.Equal(t, c.want != "", ok)
		if ok {
			assert.Equal(t, c.want, day.Format(time.DateOnly))
		}
	}
}
