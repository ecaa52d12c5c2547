package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
)

func TestFigure(t *testing.T) {
	for _, k := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{6.84, 1, "6.8"}, {6.86, 1, "6.9"}, {9.96, 1, "10.0"}, {0.4999, 2, "0.50"}, {123.4, 0, "123"},
		// Not zero never prints as zero, and never with an exponent.
		{0.04, 1, "0.04"}, {0.06, 1, "0.1"}, {0.000034, 2, "0.00003"}, {0.0000096, 3, "0.00001"}, {0.3, 0, "0.3"},
		{0, 0, "0"}, {0, 3, "0"},
	} {
		assert.Equal(t, k.want, figure(k.v, k.decimals), "%v with %d", k.v, k.decimals)
	}
}

// An eighth of the band shows, and no more.
func TestDigitsFollowTheBand(t *testing.T) {
	for _, k := range []struct {
		low, high float64
		want      int
	}{{0, 100, 0}, {100, 108, 0}, {7, 12, 1}, {7, 7.8, 1}, {7, 7.79, 2}, {0.01, 0.05, 3}, {0.0001, 0.0002, 5}, {1, 1 + 1e-9, 6}} {
		r := nitrate()
		r.Band.Low.Value, r.Band.High.Value = k.low, k.high
		assert.Equal(t, k.want, digits(r), "%v", k)
	}
	r := nitrate()
	r.Band.High.Open = true
	assert.Equal(t, 1, digits(r), "an open band: by the bracket, 3 to 7")
	r.Bracket = [2]float64{7, 7}
	assert.Equal(t, 1, digits(r))
}

func TestSpan(t *testing.T) {
	at := func(v float64, open bool) calib.Bound { return calib.Bound{Value: v, Open: open} }
	for want, b := range map[string]calib.Band{
		"5.1 to 9.0":             {Low: at(5.1, false), High: at(9, false)},
		"0 to 0.4":               {Low: at(0, false), High: at(0.4, false)},
		"at least 9.0":           {Low: at(9, false), High: at(25, true)},
		"at most 1.0":            {Low: at(0, true), High: at(1, false)},
		"anything on this chart": {Low: at(0, true), High: at(25, true)},
	} {
		assert.Equal(t, want, span(b, 1))
	}
}

func TestUnit(t *testing.T) {
	r := nitrate()
	assert.Equal(t, "mg/L as N", unit(r))
	r.Analyte.As = ""
	assert.Equal(t, "mg/L", unit(r))
	assert.Equal(t, "0.00025", plain(0.00025))
	assert.Equal(t, "1000000", plain(1e6))
}
