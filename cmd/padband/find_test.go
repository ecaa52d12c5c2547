package main

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/reading"
	"padband/cmd/padband/internal/record"
)

// kept is a summary with one nitrate reading, its water band from low to high.
func kept(value, low, high float64, in string) record.Summary {
	return record.Summary{Path: "rec", Place: "Mill Lane 7", Point: "raw", Taken: "2026-11-14T08:41:10-05:00", Lot: "L1",
		Readings: []reading.Reading{{Analyte: "nitrate", Unit: "mg/L", As: "N", Value: reading.Figure(value), Range: calib.Range(in), Reliability: calib.Good,
			Band: spanned(low, high), WaterBand: spanned(low, high)}}}
}

func spanned(low, high float64) *reading.Band {
	return &reading.Band{Low: reading.Figure(low), High: reading.Figure(high), Coverage: 0.95}
}

// searched is what the options find in one record, and the tally of it.
func searched(t *testing.T, o findOptions, r record.Summary) (string, tally) {
	t.Helper()
	s, err := o.search()
	require.NoError(t, err)
	n := tally{units: map[string]int{}}
	hits := s.in(r, &n)
	if len(hits) == 0 {
		return "not found", n
	}
	return hits[0].found, n
}

func TestOverAndMayBeOver(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		value, low, high  float64
		in                string
		over, under, want string
	}{
		{9.7, 6, 14, "within", "10", "", "may be over"},
		{10.1, 6, 14, "within", "10", "", "over"},
		{10, 6, 14, "within", "10", "", "may be over"}, // at the amount is not over it
		{5, 3, 10, "within", "10", "", "not found"},    // nor is a band that ends there
		{25, 20, inf, "above", "10", "", "over"},
		{25, 20, inf, "above", "25", "", "may be over"},
		{25, 20, inf, "above", "30", "", "may be over"},
		{25, 20, inf, "above", "", "26", "may be under"}, // it may be 25.5
		{25, 20, inf, "above", "", "25", "may be under"}, // the band begins at 20
		{25, 20, inf, "above", "", "20", "not found"},
		{1, -inf, 1.5, "below", "0.5", "", "may be over"}, // "at most 1" is no sign of over 0.5
		{1, -inf, 1.5, "below", "2", "", "not found"},
		{1, -inf, 1.5, "below", "", "2", "under"},
		{1, -inf, 1.5, "below", "", "0.2", "may be under"},
		{9.7, 6, 14, "within", "", "10", "may be under"}, // its band reaches over
		{7, 5, 9, "within", "", "10", "under"},
		{9.7, 6, 14, "within", "9", "10", "may be over and under"},
		{9.7, 6, 14, "within", "9", "9.5", "may be over and under"},
		{9.7, 6, 14, "within", "15", "20", "not found"},
		{math.NaN(), 6, 14, "within", "10", "", "may be over"},
		{math.NaN(), -inf, inf, "within", "10", "", "may be over"},
	} {
		o := findOptions{}
		for text, to := range map[*string]string{&o.over: c.over, &o.under: c.under} {
			if to != "" {
				*text = to + " mg/L as N"
			}
		}
		got, _ := searched(t, o, kept(c.value, c.low, c.high, c.in))
		assert.Equal(t, c.want, got, "%v", c)
	}
}

func TestRecordsChosen(t *testing.T) {
	r := kept(9.7, 6, 14, "within")
	for _, c := range []struct {
		o    findOptions
		want bool
	}{
		{findOptions{}, true},
		{findOptions{chosen: chosen{place: "mill"}}, true}, {findOptions{chosen: chosen{place: "orchard"}}, false},
		{findOptions{chosen: chosen{point: "RAW"}}, true}, {findOptions{chosen: chosen{point: "tap"}}, false},
		{findOptions{chosen: chosen{lot: "l1"}}, true}, {findOptions{chosen: chosen{lot: "L"}}, false},
		{findOptions{chosen: chosen{analyte: "Nitrate"}}, true}, {findOptions{chosen: chosen{analyte: "nitrite"}}, false},
		{findOptions{chosen: chosen{from: "2026-11-14"}}, true}, {findOptions{chosen: chosen{from: "2026-11-15"}}, false},
		{findOptions{chosen: chosen{until: "2026-11-14"}}, true}, {findOptions{chosen: chosen{until: "2026-11-13"}}, false},
		{findOptions{reliability: []string{"good", "caution"}}, true}, {findOptions{reliability: []string{"unreliable"}}, false},
	} {
		got, _ := searched(t, c.o, r)
		assert.Equal(t, c.want, got != "not found", "%+v", c.o)
	}
	for _, o := range []findOptions{
		{over: "ten mg/L"}, {over: "NaN mg/L"}, {under: "mg/L"}, {chosen: chosen{from: "14.11.2026"}}, {reliability: []string{"bad"}},
		{chosen: chosen{from: "2026-11-15", until: "2026-11-14"}},
	} {
		_, err := o.search()
		assert.Error(t, err, "%+v", o)
	}
}

// What is not compared is counted and said.
func TestNothingIsLeftOutInSilence(t *testing.T) {
	r := kept(9.7, 6, 14, "within")
	r.Readings = append(r.Readings, reading.Reading{Analyte: "lead", Presence: reading.Optional{Given: true}, Range: calib.Within})
	got, n := searched(t, findOptions{over: "10 mg/L"}, r)
	assert.Equal(t, "not found", got)
	assert.Equal(t, []string{"0 readings found in 1 record", "not compared: 1 reading in mg/L as N, which cannot be converted",
		"not compared: 1 reading read as present or not", "not read: 2 records, named above"}, n.lines(search{}, 1, 2))

	r.Taken = "one morning"
	got, n = searched(t, findOptions{chosen: chosen{from: "2026-01-01"}}, r)
	assert.Equal(t, "not found", got)
	assert.Contains(t, n.lines(search{}, 1, 0), "left out by --from or --until: 1 record without a time")
	_, n = searched(t, findOptions{}, r)
	assert.Contains(t, n.lines(search{choice: choice{analyte: "iron"}}, 1, 0), `no record holds "iron"; they hold nitrate, lead`)
	for i := range 3 * mostNamed {
		n.unit(strings.Repeat("x", i))
		n.saw(strings.Repeat("x", i))
	}
	assert.LessOrEqual(t, len(n.units), mostNamed+1)
	assert.Len(t, n.analytes, mostNamed)
}

// Rounding never puts a figure on the other side of the amount.
func TestFiguresFoundKeepTheirSide(t *testing.T) {
	for v, want := range map[float64]string{10.04: "10.04", 9.996: "9.996", 10: "10", 12.34: "12.3", 0.000123456: "0.000123", 123456: "123000"} {
		assert.Equal(t, want, hit{limits: []float64{10}}.short(v))
	}
}

func TestFoundLines(t *testing.T) {
	h := hit{Summary: kept(25, 18.52, math.Inf(1), "above"), found: "over"}
	h.Reading = h.Readings[0]
	assert.Equal(t, "2026-11-14  nitrate at least 25 mg/L as N (at least 18.5), over\n            Mill Lane 7, raw  rec\n", h.text())
	h.Place, h.Point, h.Taken, h.Reliability, h.Path = "\x1b[2Jx", "", "", "unreliable", strings.Repeat("p", 70)
	assert.Equal(t, "no date     nitrate at least 25 mg/L as N (at least 18.5), over, unreliable\n            [2Jx\n            "+h.Path+"\n", h.text())
	assert.JSONEq(t, `{"path":"`+h.Path+`","taken":"","place":"\u001b[2Jx","point":"","tester":"","lot":"L1","expires":"",
		"chart":{"name":"","version":"","sha256":""},"analyte":"nitrate","unit":"mg/L","as":"N","value":25,
		"band":{"low":18.52,"high":null},"water_band":{"low":18.52,"high":null},"range":"above","reliability":"unreliable","warnings":[],"found":"over"}`, h.json())
}
