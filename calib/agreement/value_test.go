package agreement

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var inf = math.Inf(1)

func TestParseValue(t *testing.T) {
	for s, want := range map[string]Value{
		"6.8": {6.8, 6.8, false}, " 25 ": {25, 25, false}, "0": {}, "-0": {}, "1e-3": {0.001, 0.001, false}, "+3": {3, 3, false},
		"3-7": {3, 7, false}, "7 - 3": {3, 7, false}, "3 to 7": {3, 7, false}, "3–7": {3, 7, false}, "1e-3-7": {0.001, 7, false},
		"3..7": {3, 7, false},
		"<1":   {-inf, 1, false}, "< 1": {-inf, 1, false}, "<=1": {-inf, 1, true}, "≤1": {-inf, 1, true},
		">25": {25, inf, false}, ">= 25": {25, inf, true}, "≥25": {25, inf, true},
	} {
		got, err := ParseValue(s, false)
		require.NoError(t, err, s)
		assert.Equal(t, want, got, s)
		again, err := ParseValue(got.String(), false)
		require.NoError(t, err, s)
		assert.Equal(t, got, again, "%q is written %q", s, got)
	}
}

func TestParseValueWithADecimalComma(t *testing.T) {
	for s, want := range map[string]Value{"6,8": Number(6.8), "0,125": Number(0.125), "3,5-7": {3.5, 7, false},
		"<0,5": {-inf, 0.5, false}} {
		got, err := ParseValue(s, true)
		require.NoError(t, err, s)
		assert.Equal(t, want, got, s)
	}
	_, err := ParseValue("1,000", true)
	assert.ErrorContains(t, err, "may mean thousands or decimals")
	_, err = ParseValue("6,8", false)
	assert.Error(t, err)
}

func TestParseValueRefuses(t *testing.T) {
	for s, why := range map[string]string{
		"": "no value", "  ": "no value", "abc": "is no number", "7 mg/L": "is no number", "NaN": "is no number", "inf": "is no number",
		"0x1p4": "is no number", "1_000": "is no number", "-5": "is below 0", "<": "is no number", "3-": "is no range",
		"3-7-9": "is no range",
		"1e300": "is over 1e12", "1e999": "is over 1e12", "1e-300": "under 1e-12", "--": "is no range",
	} {
		_, err := ParseValue(s, false)
		assert.ErrorContains(t, err, why, "%q", s)
	}
}
