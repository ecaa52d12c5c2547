package strip

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry/photo"
)

// The demo's chart reads nitrate at 45 to 75 s, so that the middle is 60 s, and total
// hardness and pH at 30 to 60 s, so that it is 45 s.
const (
	nitrate = iota
	hardness
	acidity
)

var dip = time.Date(2026, 11, 14, 8, 40, 0, 0, time.FixedZone("", -5*3600))

// shot is the kitchen's photo as if it had been taken so many seconds after the dip,
// with a file of its own and what is changed of its marks.
func shot(t *testing.T, seconds float64, change func(*charts.Marks)) *Result {
	t.Helper()
	one := readDemo(t, "kitchen.jpg")
	p, m := *one.Photo, one.Marks
	at := dip.Add(time.Duration(seconds * float64(time.Second)))
	p.Facts.SHA256 = fmt.Sprintf("%064x", 1_000_000_000-int64(seconds*1000)) // a later photo's comes first
	p.Facts.Taken, p.Facts.TakenTime, p.Facts.TakenHasOffset = at.Format(time.RFC3339), at, true
	m.Photo, m.Regions = charts.PhotoRef{}, slices.Clone(m.Regions)
	m.Sample.Dipped = dip.Format(time.RFC3339)
	if change != nil {
		change(&m)
	}
	r, err := ReadPhoto(&p, one.Chart, m, Ask{})
	require.NoError(t, err)
	return r
}

// joined joins photos taken so many seconds after the dip.
func joined(t *testing.T, seconds ...float64) *Joined {
	t.Helper()
	var all []*Result
	for _, s := range seconds {
		all = append(all, shot(t, s, nil))
	}
	j, err := OneStrip(all, Ask{})
	require.NoError(t, err)
	require.Len(t, j.Readings, 3)
	require.Len(t, j.Picks, 3)
	require.Len(t, j.Meanings, 3)
	return j
}

// without takes the pad of an analyte from the marks.
func without(analyte string) func(*charts.Marks) {
	return func(m *charts.Marks) {
		m.Regions = slices.DeleteFunc(m.Regions, func(r charts.Mark) bool { return r.Role == charts.RolePad && r.Analyte == analyte })
	}
}

// Expected is what is reckoned by hand from the windows above.
func TestEachPadIsReadFromItsPhoto(t *testing.T) {
	type pick struct {
		seconds float64
		in      bool
	}
	for _, c := range []struct {
		taken             []float64
		nitrate, hardness pick
	}{
		{[]float64{40, 58, 90}, pick{58, true}, pick{40, true}},
		{[]float64{36, 50, 72}, pick{50, true}, pick{50, true}}, // 10 s against 12, 5 s against 9
		{[]float64{50, 70}, pick{50, true}, pick{50, true}},     // 10 s both: the earlier
		{[]float64{30, 75}, pick{75, true}, pick{30, true}},     // the ends belong to the window
		{[]float64{29.9, 75.1}, pick{75.1, false}, pick{29.9, false}},
		{[]float64{5, 80}, pick{80, false}, pick{80, false}},   // 40 s early or 5 late, 25 early or 20 late
		{[]float64{44, 3600}, pick{44, false}, pick{44, true}}, // 1 s early or an hour late
		{[]float64{61, 61.5}, pick{61, true}, pick{61, false}},
	} {
		j := joined(t, c.taken...)
		for i, want := range []pick{c.nitrate, c.hardness, c.hardness} {
			p := j.Picks[i]
			assert.Equal(t, want, pick{j.Photos[p.Photo].Seconds, p.InTime}, "%v %s", c.taken, j.Readings[i].Analyte.Name)
			assert.Empty(t, p.Passed)
			outside := slices.ContainsFunc(codesOf(j.Readings[i]), func(c string) bool { return c == "early" || c == "late" })
			assert.Equal(t, !want.in, outside, "%v %s", c.taken, j.Readings[i].Analyte.Name)
		}
	}
}

// A reading is what its photo alone gives for the pad, and the results stay as they were.
func TestAReadingIsThatOfItsPhoto(t *testing.T) {
	early, late := shot(t, 40, nil), shot(t, 200, nil)
	before := slices.Clone(late.Readings[nitrate].Warnings)
	j, err := OneStrip([]*Result{late, early}, Ask{})
	require.NoError(t, err)
	assert.Equal(t, early.Readings, j.Readings)
	assert.Equal(t, early.Day(), j.Photos[0].Day())
	assert.Equal(t, before, late.Readings[nitrate].Warnings)
}

func TestOrderOfPhotosMakesNoDifference(t *testing.T) {
	a, b, c := shot(t, 40, nil), shot(t, 58, nil), shot(t, 90, nil)
	want, err := OneStrip([]*Result{a, b, c}, Ask{})
	require.NoError(t, err)
	for _, order := range [][]*Result{{a, c, b}, {b, a, c}, {b, c, a}, {c, a, b}, {c, b, a}} {
		got, err := OneStrip(order, Ask{})
		require.NoError(t, err)
		assert.Equal(t, want.Readings, got.Readings)
		assert.Equal(t, want.Picks, got.Picks)
		for i, p := range got.Photos {
			assert.Equal(t, want.Photos[i].Photo.Facts.SHA256, p.Photo.Facts.SHA256)
			assert.Same(t, order[p.Index].Photo, p.Photo)
		}
	}
}

// An unreliable photo comes after the others that are in time, and is named; where it
// is the only one in time it stays.
func TestUnreliablePhotoInTimeIsPassedOver(t *testing.T) {
	for _, c := range []struct {
		taken []float64
		want  Pick
	}{
		{[]float64{48, 60, 100}, Pick{Photo: 0, InTime: true, Passed: []int{1}}},
		{[]float64{20, 60, 100}, Pick{Photo: 1, InTime: true}},
	} {
		j := joined(t, c.taken...)
		j.Photos[1].lone("nitrate").Reliability = calib.Unreliable
		again := &Joined{Chart: j.Chart, Photos: j.Photos}
		require.NoError(t, again.join(Ask{}))
		assert.Equal(t, c.want, again.Picks[nitrate], c.taken)
	}
}

// Pads testify about each other by the readings that were picked: how a pad looked in a
// photo that was not picked for it counts for nothing.
func TestPickedPadsTestifyAboutEachOther(t *testing.T) {
	for _, c := range []struct {
		high float64 // what the hardness pad shows in one photo, and 250 in the other
		in   int
		want bool
	}{{400, 0, true}, {400, 1, false}, {250, 0, false}} {
		j := joined(t, 40, 60) // hardness is picked from the first, nitrate from the second
		require.Equal(t, []int{1, 0}, []int{j.Picks[nitrate].Photo, j.Picks[hardness].Photo})
		for i := range j.Photos {
			j.Photos[i].lone("total hardness").WaterBand.High = calib.Bound{Value: 250}
			j.Photos[i].lone("nitrate").Analyte.SpoiledBy = []charts.Spoiler{{Analyte: "total hardness", Over: 300, How: "hides", Source: "invented"}}
		}
		j.Photos[c.in].lone("total hardness").WaterBand.High.Value = c.high
		again := &Joined{Chart: j.Chart, Photos: j.Photos}
		require.NoError(t, again.join(Ask{}))
		if c.want {
			assert.Contains(t, codesOf(again.Readings[nitrate]), string(calib.CodeSpoiledBy), c)
		} else {
			assert.NotContains(t, codesOf(again.Readings[nitrate]), string(calib.CodeSpoiledBy), c)
		}
	}
}

// What one photo's marks say of the strip holds for all.
func TestWhatIsSaidOnceHoldsForAll(t *testing.T) {
	bare := func(m *charts.Marks) { m.Sample = charts.SampleInfo{} }
	said := func(m *charts.Marks) {
		m.Sample.Kit = charts.Kit{Expires: "2026-10", Opened: "2026-01-01", Lot: "a"}
		m.Sample.Water = charts.WaterClear
	}
	j, err := OneStrip([]*Result{shot(t, 40, bare), shot(t, 60, said)}, Ask{})
	require.NoError(t, err)
	for _, r := range j.Readings {
		assert.Equal(t, []string{"expired", "open-too-long"}, codesOf(r), r.Analyte.Name)
	}
	for _, p := range j.Photos {
		assert.Equal(t, charts.WaterClear, p.Marks.Sample.Water)
	}
}

func TestPadThatNotAllPhotosShow(t *testing.T) {
	j, err := OneStrip([]*Result{shot(t, 60, without("nitrate")), shot(t, 200, nil)}, Ask{})
	require.NoError(t, err)
	assert.Equal(t, Pick{Photo: 1}, j.Picks[nitrate])
	assert.Contains(t, codesOf(j.Readings[nitrate]), "late")
	assert.Empty(t, j.Notes)

	j, err = OneStrip([]*Result{shot(t, 60, without("nitrate")), shot(t, 200, without("nitrate"))}, Ask{})
	require.NoError(t, err)
	require.Len(t, j.Readings, 2)
	assert.Equal(t, "total hardness", j.Readings[0].Analyte.Name)
	require.Len(t, j.Notes, 1)
	assert.Equal(t, charts.NoteNoPad, j.Notes[0].Code)
}

// Without a window no photo is out of time, and pads go on changing.
func TestPadWithoutAWindowIsReadFromTheFirst(t *testing.T) {
	var all []*Result
	for _, s := range []float64{300, 90} {
		r := shot(t, s, nil)
		chart := r.Chart
		chart.Analytes = slices.Clone(chart.Analytes)
		chart.Analytes[acidity].ReadWindow = nil
		r, err := ReadPhoto(r.Photo, chart, r.Marks, Ask{})
		require.NoError(t, err)
		all = append(all, r)
	}
	j, err := OneStrip(all, Ask{})
	require.NoError(t, err)
	assert.Equal(t, Pick{Photo: 0, InTime: true}, j.Picks[acidity])
	assert.Equal(t, 1, j.Photos[0].Index)
}

func TestPhotosThatAreNotOfOneStrip(t *testing.T) {
	sample := func(change func(*charts.SampleInfo)) *Result {
		return shot(t, 60, func(m *charts.Marks) { change(&m.Sample) })
	}
	first := shot(t, 40, nil)
	bare := func(s float64) *Result { return shot(t, s, func(m *charts.Marks) { m.Sample.Dipped = "" }) }
	other := *shot(t, 60, nil)
	other.Chart.Version = "4"
	untimed := bare(60)
	untimed.Photo.Facts.Taken, untimed.Marks.Sample.Taken = "", ""
	two := []int{0, 1}
	for _, c := range []struct {
		second *Result
		want   OneStripError
	}{
		{shot(t, 40, nil), OneStripError{Fault: SamePhoto, Photos: two}},
		{&other, OneStripError{Fault: OtherChart, Photos: two, Values: [2]string{"orchard-well 3", "orchard-well 4"}}},
		{sample(func(s *charts.SampleInfo) { s.Dipped = "2026-11-14T08:40:01-05:00" }),
			OneStripError{Fault: OtherSaid, Photos: two, Said: "dipped", Values: [2]string{"2026-11-14T08:40:00-05:00", "2026-11-14T08:40:01-05:00"}}},
		{sample(func(s *charts.SampleInfo) { s.Kit.Lot = "OW-1" }),
			OneStripError{Fault: OtherSaid, Photos: two, Said: "kit.lot", Values: [2]string{"OW-2418", "OW-1"}}},
		{sample(func(s *charts.SampleInfo) { s.Kit.Expires = "2027-05-30" }),
			OneStripError{Fault: OtherSaid, Photos: two, Said: "kit.expires", Values: [2]string{"2027-05", "2027-05-30"}}},
		{untimed, OneStripError{Fault: NotTimed, Photos: []int{1}}},
		{shot(t, -20, nil), OneStripError{Fault: BeforeDip, Photos: []int{1}, Seconds: -20}},
	} {
		_, err := OneStrip([]*Result{first, c.second}, Ask{})
		var e *OneStripError
		if assert.ErrorAs(t, err, &e, c.want) {
			assert.Equal(t, c.want, *e)
		}
	}
	_, err := OneStrip([]*Result{bare(40), bare(60)}, Ask{})
	assert.ErrorContains(t, err, string(NotDipped))
	_, err = OneStrip([]*Result{first}, Ask{})
	assert.ErrorContains(t, err, string(TooFew))
	for _, same := range []func(*charts.SampleInfo){
		func(s *charts.SampleInfo) { s.Dipped = "2026-11-14T13:40:00Z" },
		func(s *charts.SampleInfo) { s.Kit.Expires = "2027-05-31" }, // a month's last day
		func(s *charts.SampleInfo) { s.Kit = charts.Kit{} },
	} {
		_, err := OneStrip([]*Result{first, sample(same)}, Ask{})
		assert.NoError(t, err)
	}
}

// Marks that nobody has looked at are told of at the pads that are read by them.
func TestUncheckedMarksOfOnePhotoOfTheStrip(t *testing.T) {
	j, err := OneStrip([]*Result{shot(t, 40, nil), shot(t, 60, func(m *charts.Marks) { m.Unchecked = true })}, Ask{})
	require.NoError(t, err)
	assert.Contains(t, codesOf(j.Readings[nitrate]), string(calib.CodeMarksUnchecked))
	assert.Equal(t, calib.Caution, j.Readings[nitrate].Reliability)
	assert.NotContains(t, codesOf(j.Readings[hardness]), string(calib.CodeMarksUnchecked))
}

// A photo whose own file holds no time has that of its marks.
func TestPhotoOfTheStripTimedByItsMarks(t *testing.T) {
	r := shot(t, 60, func(m *charts.Marks) { m.Sample.Taken = dip.Add(61 * time.Second).Format(time.RFC3339) })
	r.Photo.Facts = photo.Facts{SHA256: r.Photo.Facts.SHA256}
	j, err := OneStrip([]*Result{r, shot(t, 40, nil)}, Ask{})
	require.NoError(t, err)
	assert.InDelta(t, 61, j.Photos[1].Seconds, 1e-9)
}

// Whether photos can be of one strip is known before any of them is read.
func TestOnenessNeedsNoReading(t *testing.T) {
	bare := func(seconds float64, change func(*charts.Marks)) *Result {
		r := shot(t, seconds, change)
		return &Result{Photo: r.Photo, Chart: r.Chart, Marks: r.Marks}
	}
	undipped := func(m *charts.Marks) { m.Sample.Dipped = "" }
	seconds, err := Oneness([]*Result{bare(64, undipped), bare(42, nil)})
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{64, 42}, seconds, 1e-9)
	other := bare(64, nil)
	other.Chart.Analytes = slices.Clone(other.Chart.Analytes)
	other.Chart.Analytes[0].ReadWindow = &[2]float64{1, 2}
	for want, all := range map[StripFault][]*Result{
		TooFew: {bare(42, nil)}, SamePhoto: {bare(42, nil), bare(42, nil)}, OtherChart: {bare(42, nil), other},
		BeforeDip: {bare(42, nil), bare(-18, nil)}, NotDipped: {bare(42, undipped), bare(64, undipped)},
	} {
		_, err := Oneness(all)
		var fault *OneStripError
		require.ErrorAs(t, err, &fault)
		assert.Equal(t, want, fault.Fault)
	}
}

func TestInTime(t *testing.T) {
	a := charts.Analyte{ReadWindow: &[2]float64{45, 75}}
	assert.Equal(t, []bool{false, true, true, false}, []bool{InTime(a, 44.9), InTime(a, 45), InTime(a, 75), InTime(a, 75.1)})
	assert.True(t, InTime(charts.Analyte{}, 900), "the chart gives no window")
}
