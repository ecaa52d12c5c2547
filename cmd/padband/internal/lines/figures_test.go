package lines

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFigure(t *testing.T) {
	for _, k := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{6.84, 1, "6.8"}, {6.86, 1, "6.9"}, {9.96, 1, "10.0"}, {0.4999, 2, "0.50"}, {123.4, 0, "123"},
		// Not zero never prints as zero, nor with more decimals than the others.
		{0.04, 1, "under 0.1"}, {0.06, 1, "0.1"}, {0.000034, 2, "under 0.01"}, {0.3, 0, "under 1"}, {0.5001, 0, "1"},
		{0, 0, "0"}, {0, 3, "0"}, {-0.04, 1, "-0.04"},
	} {
		assert.Equal(t, k.want, Figure(k.v, k.decimals), "%v with %d", k.v, k.decimals)
	}
}

func TestPlain(t *testing.T) {
	assert.Equal(t, "0.00025", Plain(0.00025))
	assert.Equal(t, "1000000", Plain(1e6))
}

func TestDecimal(t *testing.T) {
	for _, k := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{71.25, 0, "71"}, {4.14, 1, "4.1"}, {-4.14, 1, "\u22124.1"}, {-0.04, 1, "0.0"}, {0.04, 1, "0.0"}, {-0.06, 1, "\u22120.1"},
		{math.NaN(), 1, "-"}, {math.Inf(1), 1, "-"},
	} {
		assert.Equal(t, k.want, Decimal(k.v, k.decimals), "%v", k.v)
	}
}

func TestRound125(t *testing.T) {
	for v, want := range map[float64]float64{0.9: 1, 1: 1, 1.1: 2, 2: 2, 3: 5, 5: 5, 5.1: 10, 10: 10, 0.013: 0.02, 340: 500} {
		assert.InEpsilon(t, want, Round125(v), 1e-9, "%g", v)
	}
}
