package history

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/reading"
	"padband/charts/limits"
	"padband/cmd/padband/internal/record"
)

// trended are the series made of these records.
func trended(t testing.TB, g Gathering, of ...record.Summary) ([]Series, *Gathering) {
	t.Helper()
	for i, r := range of {
		if r.Photo == "" {
			r.Photo = fmt.Sprint("photo ", i)
		}
		g.Add(r)
	}
	all, err := g.All(len(of))
	require.NoError(t, err)
	return all, &g
}

// at is a reading of Mill Lane 7 at a time, in a unit.
func at(taken string, value float64, unit, as string) record.Summary {
	r := kept(value, value-1, value+1, "within")
	r.Taken, r.Readings[0].Unit, r.Readings[0].As = taken, unit, as
	r.Readings[0].Band = spanned(value-0.5, value+0.5)
	return r
}

func limitNamed(t *testing.T, text string) *limits.LimitChoice {
	t.Helper()
	l, err := limits.ParseLimit(text)
	require.NoError(t, err)
	return &l
}

func values(s Series) (out []float64) {
	for _, r := range s.Rows {
		out = append(out, r.Value)
	}
	return out
}

// By their instants where they have an offset; a time without one has that of
// the record nearest on the clock.
func TestRecordsAreInOrderOfTime(t *testing.T) {
	all, _ := trended(t, Gathering{},
		at("2026-03-03T13:20:00 (no offset)", 3, "mg/L", "N"), at("2026-03-03T11:00:00-08:00", 4, "mg/L", "N"),
		at("2026-03-03T13:30:00+01:00", 1, "mg/L", "N"), at("2026-03-03T12:25:00Z", 2, "mg/L", "N"), at("", 9, "mg/L", "N"))
	require.Len(t, all, 1)
	// 13:20 is nearest to the clock of 13:30+01:00, so it is 12:20 UTC.
	assert.Equal(t, []float64{3, 2, 1, 4}, values(all[0]))
	assert.Equal(t, []string{"1 time without an offset from UTC, taken as the place's clock.",
		"1 record without a time of the photo left out."}, all[0].Notes)
	assert.Equal(t, "13:30", all[0].Rows[2].Time.Format("15:04"), "shown on the place's clock")
}

func TestSeriesByPlacePointAndAnalyte(t *testing.T) {
	a, b, c, d := at("2026-01-01", 1, "mg/L", "N"), at("2026-01-02", 2, "mg/L", "N"), at("2026-01-03", 3, "mg/L", "N"),
		at("2026-01-04", 4, "mg/L", "N")
	b.Place, c.Point, d.Readings[0].Analyte = " mill  LANE 7", "tap", "nitrite"
	all, _ := trended(t, Gathering{}, a, b, c, d)
	require.Len(t, all, 3)
	assert.Equal(t, []float64{1, 2}, values(all[0]), "capitals and spaces do not tell places apart")
	assert.Equal(t, "Mill Lane 7, tap", all[2].Where)
	all, _ = trended(t, Gathering{Choice: Choice{Point: "tap"}}, a, b, c, d)
	require.Len(t, all, 1)
}

// 4.4268 is NO3 over N by the atomic masses of IUPAC 2021 (from memory).
func TestMixedUnits(t *testing.T) {
	ion := at("2026-01-03", 44.268, "mg/L", "NO3")
	ion.Readings[0].WaterBand = spanned(4.4268, math.Inf(1))
	bare, other := at("2026-01-04", 5, "mg/L", ""), at("2026-01-05", 5, "drops", "")
	all, _ := trended(t, Gathering{Limit: limitNamed(t, "50 mg/L as NO3")}, at("2026-01-01", 1, "mg/L", "N"),
		at("2026-01-02", 2, "mg/l", "N"), ion, bare, other)
	s := all[0]
	assert.Equal(t, "mg/L as N", s.Unit)
	require.InDeltaSlice(t, []float64{1, 2, 10}, values(s), 1e-3)
	assert.InDelta(t, 1, s.Rows[2].Water.Low.Value, 1e-3)
	assert.True(t, s.Rows[2].Water.High.Open)
	assert.Equal(t, "mg/L as NO3", s.Rows[2].Converted)
	assert.Contains(t, s.Notes, "1 record converted from mg/L as NO3.")
	assert.Contains(t, s.Notes, "1 record in mg/L left out: that cannot be converted into mg/L as N of the others.")
	assert.Contains(t, s.Notes, "1 record in drops left out: that cannot be converted into mg/L as N of the others.")
	assert.InDelta(t, 50/4.4268, s.Limit.High, 1e-2)
	assert.Equal(t, []int{0, 1}, []int{s.Limit.Past, s.Limit.MayBe})
}

// A figure that does not say what it is expressed as is only put beside those of
// the very same chart.
func TestUnitsThatLackTheirForm(t *testing.T) {
	a, b, c := at("2026-01-01", 1, "mg/L", ""), at("2026-01-02", 2, "mg/L", ""), at("2026-01-03", 3, "mg/L", "")
	a.Chart.SHA256, b.Chart.SHA256, c.Chart.SHA256 = "one", "two", "two"
	all, _ := trended(t, Gathering{Limit: limitNamed(t, "10 mg/L as N")}, a, b, c)
	assert.Equal(t, []float64{2, 3}, values(all[0]))
	assert.Nil(t, all[0].Limit)
	require.Len(t, all[0].Notes, 2)
	assert.Contains(t, all[0].Notes[1], "1 record in mg/L left out")
}

func TestOneDipCountsOnce(t *testing.T) {
	a, b, c, d := at("2026-01-01", 1, "mg/L", "N"), at("2026-01-02", 2, "mg/L", "N"), at("2026-01-03", 3, "mg/L", "N"),
		at("2026-01-04", 4, "mg/L", "N")
	a.Photo, b.Photo = "same", "same"
	c.Dipped, d.Dipped = "2026-01-03T08:00", "2026-01-03T08:00"
	all, _ := trended(t, Gathering{}, a, b, c, d)
	assert.Equal(t, []float64{1, 3}, values(all[0]))
	assert.Equal(t, "1 record of a photo that another record has, left out.", all[0].Notes[1])
	assert.Equal(t, "1 record of a dip that another record has, left out.", all[0].Notes[2])
}

func TestWhatIsTested(t *testing.T) {
	var of []record.Summary
	for i := range 7 {
		r := at(fmt.Sprintf("2026-01-%02d", i+1), float64(2*i), "mg/L", "N")
		r.Lot = []string{"A", "a", "A", "A", "A", "B", ""}[i]
		r.Chart = reading.Chart{Name: "c", Version: "1", SHA256: []string{"x", "x", "x", "x", "y", "y", "y"}[i]}
		of = append(of, r)
	}
	of[1].Readings[0].Reliability = "unreliable"
	of[2].Readings = append(of[2].Readings, reading.Reading{Analyte: "lead", Presence: reading.Optional{Given: true}})
	all, g := trended(t, Gathering{}, of...)
	s := all[0]
	assert.Equal(t, []int{6, 4}, []int{s.Result.Records, s.Result.Sources}, "A on x, A on y, B on y, not known")
	assert.Contains(t, s.Notes, "1 reading not to be used: in the table and not in the test.")
	assert.Contains(t, s.Notes, "1 record in the test without a kit lot, which counts only where the ranges of the water do not "+
		"overlap: a new bottle looks like a change.")
	var marks []string
	for _, r := range s.Rows {
		marks = append(marks, fmt.Sprint(r.NewLot, r.NewChart))
	}
	assert.Equal(t, "false false,false false,false false,false false,false true,true false,true false", strings.Join(marks, ","))
	assert.Equal(t, []string{"left out: 1 reading of present or not, which has no trend"}, g.Lines())
}

func TestLimitOfASeries(t *testing.T) {
	ph := at("2026-01-01", 8, "pH", "")
	ph.Readings[0].Analyte = "pH"
	all, _ := trended(t, Gathering{Limit: limitNamed(t, "6.5-8.5")}, ph, at("2026-01-01", 8, "mg/L", "N"))
	require.Len(t, all, 2)
	assert.Nil(t, all[0].Limit, "a limit for pH is none for nitrate")
	assert.Equal(t, SeriesLimit{Text: "pH 6.5 to 8.5", Low: 6.5, High: 8.5, MayBe: 1}, *all[1].Limit)
	all, _ = trended(t, Gathering{Limit: limitNamed(t, "us-epa")}, at("2026-01-01", 12, "mg/L", "N"))
	assert.Equal(t, 1, all[0].Limit.Past)
}

func TestNoSeries(t *testing.T) {
	one := at("2026-01-01", 1, "mg/L", "N")
	g := Gathering{Choice: Choice{Analyte: "iron"}}
	g.Add(one)
	_, err := g.All(1)
	assert.EqualError(t, err, `no record holds "iron"; they hold nitrate`)

	g = Gathering{Choice: Choice{Place: "elsewhere"}}
	g.Add(one)
	_, err = g.All(2)
	assert.EqualError(t, err, "none of 2 records is chosen")

	present := one
	present.Readings = []reading.Reading{{Analyte: "lead", Presence: reading.Optional{Given: true}}}
	g = Gathering{}
	g.Add(present)
	_, err = g.All(1)
	assert.ErrorIs(t, err, ErrPresence)

	g = Gathering{}
	for range mostInSeries + 1 {
		g.Add(one)
	}
	_, err = g.All(1)
	assert.EqualError(t, err, "nitrate of Mill Lane 7, raw has over 3000 records")
	var long *LongError
	assert.ErrorAs(t, err, &long)

	g = Gathering{readings: mostGathered}
	g.Add(one)
	_, err = g.All(1)
	assert.ErrorIs(t, err, ErrMany)
}
