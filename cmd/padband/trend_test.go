package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/history"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
)

func TestFlagsOfManyRecords(t *testing.T) {
	for _, o := range []findOptions{
		{over: "ten mg/L"}, {over: "NaN mg/L"}, {under: "mg/L"}, {chosen: chosen{from: "14.11.2026"}}, {reliability: []string{"bad"}},
		{chosen: chosen{from: "2026-11-15", until: "2026-11-14"}},
	} {
		_, err := o.search()
		assert.Error(t, err, "%+v", o)
	}
	for _, o := range []trendOptions{{limit: "lots"}, {plot: "a.bmp"}, {chosen: chosen{from: "x"}}} {
		_, err := o.gathering()
		assert.Error(t, err, "%+v", o)
	}
	c, err := chosen{"a", "b", "c", "d", "2026-01-01", "2026-01-02"}.choice()
	require.NoError(t, err)
	assert.Equal(t, history.Choice{Analyte: "a", Place: "b", Point: "c", Lot: "d", From: "2026-01-01", Until: "2026-01-02"}, c)
}

func TestLeftOut(t *testing.T) {
	assert.Empty(t, leftOut(0, 0))
	assert.Equal(t, []string{"left out by --from or --until: 1 record without a time", "not read: 2 records, named above"}, leftOut(1, 2))
}

// What there is no trend of is said with the flags that choose something else.
func TestNoTrend(t *testing.T) {
	for err, want := range map[error]string{
		history.ErrMany: "over 200000 readings were found; choose some with --place, --point or --analyte",
		&history.LongError{Analyte: "a", Where: "b"}: "a of b has over 3000 records; choose some with --from, --until or --lot",
		history.ErrPresence:                          "the readings chosen are of present or not, which has no trend; padband find lists them",
		&history.NoneError{Records: 1}:               "none of 1 record is chosen by the flags",
	} {
		assert.EqualError(t, withChoices(err), want)
	}
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
			Facts: []bag.Fact{{Label: "Place", Value: fmt.Sprint("Mill Lane ", i%50)}, {Label: "Sampling-Point", Value: "raw"},
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
	for name, says := range map[string]string{"trend": "within lots and orders of whole lots", "find": "\"25 or more\" is over 10 and may be over 30"} {
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
