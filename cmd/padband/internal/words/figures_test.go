package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/cmd/padband/internal/report/reporttest"
)

// An eighth of the band shows, and no more.
func TestDigitsFollowTheBand(t *testing.T) {
	for _, k := range []struct {
		low, high float64
		want      int
	}{{0, 100, 0}, {100, 108, 0}, {7, 12, 1}, {7, 7.8, 1}, {7, 7.79, 2}, {0.01, 0.05, 3}, {0.0001, 0.0002, 5}, {1, 1 + 1e-9, 6}} {
		r := reporttest.Nitrate()
		r.Band.Low.Value, r.Band.High.Value = k.low, k.high
		assert.Equal(t, k.want, Digits(r), "%v", k)
	}
	r := reporttest.Nitrate()
	r.Band.High.Open = true
	assert.Equal(t, 1, Digits(r), "an open band: by the bracket, 3 to 7")
	r.Bracket = [2]float64{7, 7}
	assert.Equal(t, 1, Digits(r))
}

func TestBandText(t *testing.T) {
	at := func(v float64) calib.Bound { return calib.Bound{Value: v} }
	open := func(v float64) calib.Bound { return calib.Bound{Value: v, Open: true} }
	for _, k := range []struct {
		low, high calib.Bound
		decimals  int
		want      string
	}{
		{at(5.1), at(9), 1, "colour read as 5.1 to 9.0"},
		{at(0), at(0.4), 1, "colour read as 0 to 0.4"},
		{at(9), open(11), 1, "colour read as 9.0 or more"},
		{open(0), at(1), 1, "colour read as 1.0 or less"},
		{open(0), at(0.03), 1, "colour read as 0.03 or less"},
		// The ends keep to the reading's decimals, unless all would be zero.
		{at(0.007), at(9), 0, "colour read as under 1 to 9"},
		{at(0.0004), at(0.04), 2, "colour read as under 0.01 to 0.04"},
		{at(0.0004), at(0.0007), 2, "colour read as 0.0004 to 0.0007"},
		{at(0), at(0.0007), 2, "colour read as 0 to 0.0007"},
		// What leaves nothing out is the whole chart: 0 to 11.
		{open(0), open(11), 1, "the colour fits the whole chart"},
		{open(5), open(5), 1, "the colour fits the whole chart"}, // an open end's value does not count
		{at(0), open(11), 1, "the colour fits the whole chart"},
		{at(0.0004), open(11), 1, "the colour fits the whole chart"},
		{open(0), at(11), 1, "the colour fits the whole chart"},
		{at(0.04), at(10.9), 1, "the colour fits the whole chart"},
		{at(0.06), open(11), 1, "colour read as 0.1 or more"},
		{at(0.4), open(11), 0, "colour read as 0.4 or more"},
		{at(0), at(10.7), 1, "colour read as 0 to 10.7"},
	} {
		b := calib.Band{Low: k.low, High: k.high}
		assert.Equal(t, k.want, ReadAs(reporttest.Nitrate(), b, k.decimals), "%v", k)
	}
}

func TestWaterText(t *testing.T) {
	at, open := func(v float64) calib.Bound { return calib.Bound{Value: v} }, calib.Bound{Value: 11, Open: true}
	for want, b := range map[string]calib.Band{
		"may be 5.1 to 9.0":                            {Low: at(5.1), High: at(9)},
		"may be 9.0 or more":                           {Low: at(9), High: open},
		"may be anything on the chart":                 {Low: at(0), High: at(11)},
		"may be anything on the chart or past its end": {Low: at(0), High: open},
	} {
		assert.Equal(t, want, MayBe(reporttest.Nitrate(), b, 1))
	}
}

func TestUnit(t *testing.T) {
	r := reporttest.Nitrate()
	assert.Equal(t, "mg/L as N", Unit(r))
	r.Analyte.As = ""
	assert.Equal(t, "mg/L", Unit(r))
}
