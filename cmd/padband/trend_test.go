package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/reading"
	"padband/cmd/padband/internal/history"
	"padband/cmd/padband/internal/record"
)

// trended are the series made of these records.
func trended(t testing.TB, o trendOptions, of ...record.Summary) ([]history.Series, *gathering) {
	t.Helper()
	g, err := o.gathering()
	require.NoError(t, err)
	for i, r := range of {
		if r.Photo == "" {
			r.Photo = fmt.Sprint("photo ", i)
		}
		g.add(r)
	}
	all, err := g.all(len(of))
	require.NoError(t, err)
	return all, g
}

// at is a reading of Mill Lane 7 at a time, in a unit.
func at(taken string, value float64, unit, as string) record.Summary {
	r := kept(value, value-1, value+1, "within")
	r.Taken, r.Readings[0].Unit, r.Readings[0].As = taken, unit, as
	r.Readings[0].Band = spanned(value-0.5, value+0.5)
	return r
}

func values(s history.Series) (out []float64) {
	for _, r := range s.Rows {
		out = append(out, r.Value)
	}
	return out
}

// By their instants where they have an offset; a time without one has that of
// the record nearest on the clock.
func TestRecordsAreInOrderOfTime(t *testing.T) {
	all, _ := trended(t, trendOptions{},
		at("2026-03-03T13:20:00 (no offset)", 3, "mg/L", "N"), at("2026-03-03T11:00:00-08:00", 4, "mg/L", "N"),
		at("2026-03-03T13:30:00+01:00", 1, "mg/L", "N"), at("2026-03-03T12:25:00Z", 2, "mg/L", "N"), at("", 9, "mg/L", "N"))
	require.Len(t, all, 1)
	// 13:20 is nearest to the clock of 13:30+01:00, so it is 12:20 UTC.
	assert.Equal(t, []float64{3, 2, 1, 4}, values(all[0]))
	assert.Equal(t, []string{"1 time without an offset from UTC, taken as the place's clock.", "1 record without a time of the photo left out."}, all[0].Notes)
	assert.Equal(t, "13:30", all[0].Rows[2].Time.Format("15:04"), "shown on the place's clock")
}

func TestSeriesByPlacePointAndAnalyte(t *testing.T) {
	a, b, c, d := at("2026-01-01", 1, "mg/L", "N"), at("2026-01-02", 2, "mg/L", "N"), at("2026-01-03", 3, "mg/L", "N"), at("2026-01-04", 4, "mg/L", "N")
	b.Place, c.Point, d.Readings[0].Analyte = " mill  LANE 7", "tap", "nitrite"
	all, _ := trended(t, trendOptions{}, a, b, c, d)
	require.Len(t, all, 3)
	assert.Equal(t, []float64{1, 2}, values(all[0]), "capitals and spaces do not tell places apart")
	assert.Equal(t, "Mill Lane 7, tap", all[2].Where)
	all, _ = trended(t, trendOptions{chosen: chosen{point: "tap"}}, a, b, c, d)
	require.Len(t, all, 1)
}

// 4.4268 is NO3 over N by the atomic masses of IUPAC 2021 (from memory).
func TestMixedUnits(t *testing.T) {
	ion := at("2026-01-03", 44.268, "mg/L", "NO3")
	ion.Readings[0].WaterBand = spanned(4.4268, math.Inf(1))
	bare, other := at("2026-01-04", 5, "mg/L", ""), at("2026-01-05", 5, "drops", "")
	all, _ := trended(t, trendOptions{limit: "50 mg/L as NO3"}, at("2026-01-01", 1, "mg/L", "N"), at("2026-01-02", 2, "mg/l", "N"), ion, bare, other)
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
	all, _ := trended(t, trendOptions{limit: "10 mg/L as N"}, a, b, c)
	assert.Equal(t, []float64{2, 3}, values(all[0]))
	assert.Nil(t, all[0].Limit)
	require.Len(t, all[0].Notes, 2)
	assert.Contains(t, all[0].Notes[1], "1 record in mg/L left out")
}

func TestOneDipCountsOnce(t *testing.T) {
	a, b, c, d := at("2026-01-01", 1, "mg/L", "N"), at("2026-01-02", 2, "mg/L", "N"), at("2026-01-03", 3, "mg/L", "N"), at("2026-01-04", 4, "mg/L", "N")
	a.Photo, b.Photo = "same", "same"
	c.Dipped, d.Dipped = "2026-01-03T08:00", "2026-01-03T08:00"
	all, _ := trended(t, trendOptions{}, a, b, c, d)
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
	all, g := trended(t, trendOptions{}, of...)
	s := all[0]
	assert.Equal(t, []int{6, 4}, []int{s.Result.Records, s.Result.Sources}, "A on x, A on y, B on y, not known")
	assert.Contains(t, s.Notes, "1 unreliable reading in the table and not in the test.")
	assert.Contains(t, s.Notes, "1 record in the test without a kit lot, which counts only where water bands do not overlap: a new bottle looks like a change.")
	var marks []string
	for _, r := range s.Rows {
		marks = append(marks, fmt.Sprint(r.NewLot, r.NewChart))
	}
	assert.Equal(t, "false false,false false,false false,false false,false true,true false,true false", strings.Join(marks, ","))
	assert.Equal(t, []string{"left out: 1 reading of present or not, which has no trend", "not read: 2 records, named above"}, g.lines(2))
}

func TestLimitOfASeries(t *testing.T) {
	ph := at("2026-01-01", 8, "pH", "")
	ph.Readings[0].Analyte = "pH"
	all, _ := trended(t, trendOptions{limit: "6.5-8.5"}, ph, at("2026-01-01", 8, "mg/L", "N"))
	require.Len(t, all, 2)
	assert.Nil(t, all[0].Limit, "a limit for pH is none for nitrate")
	assert.Equal(t, history.Limit{Text: "pH 6.5 to 8.5", Low: 6.5, High: 8.5, MayBe: 1}, *all[1].Limit)
	all, _ = trended(t, trendOptions{limit: "us-epa"}, at("2026-01-01", 12, "mg/L", "N"))
	assert.Equal(t, 1, all[0].Limit.Past)
}

func TestTrendRefuses(t *testing.T) {
	for _, o := range []trendOptions{{limit: "lots"}, {plot: "a.bmp"}, {chosen: chosen{from: "x"}}} {
		_, err := o.gathering()
		assert.Error(t, err, "%+v", o)
	}
	g, err := trendOptions{chosen: chosen{analyte: "iron"}}.gathering()
	require.NoError(t, err)
	g.add(at("2026-01-01", 1, "mg/L", "N"))
	_, err = g.all(1)
	assert.EqualError(t, err, `no record holds "iron"; they hold nitrate`)
	g, _ = trendOptions{}.gathering()
	for range mostInSeries + 1 {
		g.add(at("2026-01-01", 1, "mg/L", "N"))
	}
	_, err = g.all(1)
	assert.ErrorContains(t, err, "has over 3000 records")
}

// keptMany writes n records with a small photo each: of 50 places, every one
// tested over the years, two analytes each.
func keptMany(tb testing.TB, n int) string {
	tb.Helper()
	root := tb.TempDir()
	day := time.Date(2020, 1, 1, 8, 0, 0, 0, time.UTC)
	for i := range n {
		v := 3 + float64(i/50)/10
		reading, err := json.Marshal(map[string]any{"format": 1, "photo": map[string]any{"sha256": fmt.Sprint(i)}, "chart": map[string]any{"name": "orchard-well", "version": "2"},
			"readings": []any{oneOf("nitrate", "mg/L", "N", v), oneOf("pH", "pH", "", 7)}})
		require.NoError(tb, err)
		files, err := record.Make(record.Content{PhotoName: "p.jpg", Photo: make([]byte, 4000), Chart: []byte("{}"), Marks: []byte("{}"), Reading: reading, Day: "2026-01-01",
			Facts: []record.Fact{{Label: "Place", Value: fmt.Sprint("Mill Lane ", i%50)}, {Label: "Sampling-Point", Value: "raw"},
				{Label: "Photo-Taken", Value: day.AddDate(0, 0, i).Format(time.RFC3339)}, {Label: "Kit-Lot", Value: fmt.Sprint("L", i/500)}}}, nil)
		require.NoError(tb, err)
		for _, f := range files {
			name := filepath.Join(root, fmt.Sprint(i/100), fmt.Sprintf("rec%05d", i), filepath.FromSlash(f.Name))
			require.NoError(tb, os.MkdirAll(filepath.Dir(name), 0o755))
			require.NoError(tb, os.WriteFile(name, f.Data, 0o644))
		}
	}
	return root
}

func oneOf(analyte, unit, as string, v float64) map[string]any {
	return map[string]any{"analyte": analyte, "unit": unit, "as": as, "value": v, "range": "within", "reliability": "good", "warnings": []any{},
		"band": map[string]any{"low": v - 0.3, "high": v + 0.3}, "water_band": map[string]any{"low": v - 1, "high": v + 1},
		"padding": strings.Split(strings.Repeat("as long as a reading is. ", 100), " ")}
}

func TestTrendOfManyPlaces(t *testing.T) {
	code, out, errOut := call("trend", keptMany(t, 100))
	require.Equal(t, 0, code, errOut)
	assert.Equal(t, 50, strings.Count("\n"+out, "\nNitrate, mg/L as N: Mill Lane "))
	assert.Equal(t, 100, strings.Count(out, "Too few records to show a change: 2 records of 1 kit lot and chart."))
	for l := range strings.Lines(out) {
		assert.LessOrEqual(t, len([]rune(l)), 81, l)
	}
	for name, says := range map[string]string{"trend": "within lots and orders of whole lots", "find": "\"at least 25\" is over 10 and may be over 30"} {
		_, out, _ := call("help", name)
		assert.Contains(t, out, says)
		for l := range strings.Lines(out) {
			assert.LessOrEqual(t, len([]rune(l)), 81, l)
		}
	}
}

func BenchmarkFind2000(b *testing.B) {
	root := keptMany(b, 2000)
	b.ReportAllocs()
	for b.Loop() {
		code, out, _ := call("find", root, "--analyte", "nitrate", "--over", "5 mg/L as N")
		if code != 0 || !strings.Contains(out, "found in 2000 records") {
			b.Fatal(code, out)
		}
	}
}

func BenchmarkTrend2000(b *testing.B) {
	root := keptMany(b, 2000)
	b.ReportAllocs()
	for b.Loop() {
		if code, out, _ := call("trend", root); code != 0 || strings.Count(out, "Mann-Kendall") != 100 {
			b.Fatal(code, out)
		}
	}
}
