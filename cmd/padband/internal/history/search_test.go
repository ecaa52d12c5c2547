package history

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/reading"
	"padband/charts/units"
	"padband/cmd/padband/internal/record"
)

// kept is a summary with one nitrate reading, its water band from low to high.
func kept(value, low, high float64, in string) record.Summary {
	return record.Summary{Path: "rec", Place: "Mill Lane 7", Point: "raw", Taken: "2026-11-14T08:41:10-05:00", Lot: "L1",
		Readings: []reading.Reading{{Analyte: "nitrate", Unit: "mg/L", As: "N", Value: reading.Figure(value),
			Range: calib.Range(in), Reliability: calib.Good,
			Band: spanned(low, high), WaterBand: spanned(low, high)}}}
}

func spanned(low, high float64) *reading.Band {
	return &reading.Band{Low: reading.Figure(low), High: reading.Figure(high), Coverage: 0.95}
}

// searched is what a search finds in one record, and the tally of it.
func searched(s Search, r record.Summary) (string, Tally) {
	var n Tally
	all := s.In(r, &n)
	if len(all) == 0 {
		return "not found", n
	}
	return all[0].Words, n
}

// amount is an amount written down; nil for none.
func amount(t *testing.T, text string) *units.Quantity {
	t.Helper()
	if text == "" {
		return nil
	}
	q, err := units.ParseQuantity(text)
	require.NoError(t, err)
	return &q
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
		var s Search
		for to, value := range map[**units.Quantity]string{&s.Over: c.over, &s.Under: c.under} {
			if value != "" {
				*to = amount(t, value+" mg/L as N")
			}
		}
		got, _ := searched(s, kept(c.value, c.low, c.high, c.in))
		assert.Equal(t, c.want, got, "%v", c)
	}
}

func TestRecordsChosen(t *testing.T) {
	r := kept(9.7, 6, 14, "within")
	for _, c := range []struct {
		s    Search
		want bool
	}{
		{Search{}, true},
		{Search{Choice: Choice{Place: "mill"}}, true}, {Search{Choice: Choice{Place: "orchard"}}, false},
		{Search{Choice: Choice{Point: "RAW"}}, true}, {Search{Choice: Choice{Point: "tap"}}, false},
		{Search{Choice: Choice{Lot: "l1"}}, true}, {Search{Choice: Choice{Lot: "L"}}, false},
		{Search{Choice: Choice{Analyte: "Nitrate"}}, true}, {Search{Choice: Choice{Analyte: "nitrite"}}, false},
		{Search{Choice: Choice{From: "2026-11-14"}}, true}, {Search{Choice: Choice{From: "2026-11-15"}}, false},
		{Search{Choice: Choice{Until: "2026-11-14"}}, true}, {Search{Choice: Choice{Until: "2026-11-13"}}, false},
		{Search{Reliability: []string{"good", "caution"}}, true}, {Search{Reliability: []string{"unreliable"}}, false},
	} {
		got, _ := searched(c.s, r)
		assert.Equal(t, c.want, got != "not found", "%+v", c.s)
	}
}

// What is not compared is counted and said.
func TestNothingIsLeftOutInSilence(t *testing.T) {
	r := kept(9.7, 6, 14, "within")
	r.Readings = append(r.Readings, reading.Reading{Analyte: "lead", Presence: reading.Optional{Given: true}, Range: calib.Within})
	got, n := searched(Search{Over: amount(t, "10 mg/L")}, r)
	assert.Equal(t, "not found", got)
	assert.Equal(t, []string{"0 readings found in 1 record", "not compared: 1 reading in mg/L as N, which cannot be converted",
		"not compared: 1 reading read as present or not"}, n.Lines(Search{}, 1))

	r.Taken = "one morning"
	got, n = searched(Search{Choice: Choice{From: "2026-01-01"}}, r)
	assert.Equal(t, "not found", got)
	assert.Equal(t, 1, n.Undated)
	_, n = searched(Search{}, r)
	assert.Contains(t, n.Lines(Search{Choice: Choice{Analyte: "iron"}}, 1), `no record holds "iron"; they hold nitrate, lead`)
	for i := range 3 * mostNamed {
		n.unit(strings.Repeat("x", i))
		n.analytes.saw(strings.Repeat("x", i))
	}
	assert.LessOrEqual(t, len(n.units), mostNamed+1)
	assert.Len(t, n.analytes, mostNamed)
}

// Rounding never puts a figure on the other side of the amount.
func TestFiguresFoundKeepTheirSide(t *testing.T) {
	for v, want := range map[float64]string{10.04: "10.04", 9.996: "9.996", 10: "10", 12.34: "12.3",
		0.000123456: "0.000123", 123456: "123000"} {
		assert.Equal(t, want, Found{limits: []float64{10}}.short(v))
	}
}

func TestFoundLines(t *testing.T) {
	h := Found{Summary: kept(25, 18.52, math.Inf(1), "above"), Words: "over"}
	h.Reading = h.Readings[0]
	assert.Equal(t, "2026-11-14  nitrate 25 mg/L as N or more (18.5 or more), over\n            Mill Lane 7, raw  rec\n", h.Text())
	h.Place, h.Point, h.Taken, h.Reliability, h.Path = "\x1b[2Jx", "", "", "unreliable", strings.Repeat("p", 70)
	assert.Equal(t, "no date     nitrate 25 mg/L as N or more (18.5 or more), over, do not use this reading\n            "+
		"[2Jx\n            "+h.Path+"\n", h.Text())
	assert.JSONEq(t, `{"path":"`+h.Path+`","taken":"","place":"\u001b[2Jx","point":"","tester":"","lot":"L1","expires":"",
		"chart":{"name":"","version":"","sha256":""},"analyte":"nitrate","unit":"mg/L","as":"N","value":25,
		"band":{"low":18.52,"high":null},"water_band":{"low":18.52,"high":null},"range":"above","reliability":"unreliable","warnings":[],"found":"over"}`, h.JSON())
}
