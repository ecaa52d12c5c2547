package photo

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// Code points that name a space which an ICC profile or other chunks can name
// too give the same colour.
func TestCodePointsAgreeWithOtherStatements(t *testing.T) {
	v := [3]float64{236.0 / 255, 120.0 / 255, 170.0 / 255}
	srgb, p3 := colorimetry.SRGB, colorimetry.DisplayP3
	for _, row := range []struct {
		c     codePoints
		space colorimetry.RGBSpace
		curve func(float64) float64
		name  string
	}{
		{codePoints{1, 13}, srgb, srgb.Decode, "sRGB"},
		{codePoints{12, 13}, p3, p3.Decode, "Display P3"},
		{codePoints{1, 8}, srgb, func(v float64) float64 { return v }, "sRGB primaries, linear curve"},
		{codePoints{12, 4}, p3, func(v float64) float64 { return math.Pow(v, 2.2) }, "Display P3 primaries, gamma 2.2 curve"},
		{codePoints{12, 5}, p3, func(v float64) float64 { return math.Pow(v, 2.8) }, "Display P3 primaries, gamma 2.8 curve"},
	} {
		tr, name, ok := row.c.transform()
		require.True(t, ok)
		assert.Equal(t, row.name, name)
		want := row.space.ToXYZ.Apply(colorimetry.XYZ{X: row.curve(v[0]), Y: row.curve(v[1]), Z: row.curve(v[2])})
		near(t, want.Lab(colorimetry.D50), tr.xyz(v[0], v[1], v[2]).Lab(colorimetry.D50), exact, row.name)
	}
}

// The curve of BT.709: its two ends, its join, and the value of 0.5 worked out
// by hand from ((0.5 + 0.099) / 1.099)^(1 / 0.45) with the rounded constants.
func TestCurveOfBT709(t *testing.T) {
	assert.Zero(t, bt709(0))
	assert.InDelta(t, 1, bt709(1), 1e-15)
	assert.InDelta(t, 0.018, bt709(0.081), 1e-4)
	assert.InDelta(t, bt709(0.0812428), bt709(0.0812430), 1e-6)
	assert.InDelta(t, 0.25959, bt709(0.5), 2e-4)
}

// White stays white and grey stays grey in every space that is read.
func TestCodePointsAreNeutral(t *testing.T) {
	n := 0
	for p := range 23 {
		for c := range 19 {
			tr, name, ok := codePoints{p, c}.transform()
			if !ok {
				continue
			}
			n++
			near(t, colorimetry.Lab{L: 100}, tr.xyz(1, 1, 1).Lab(colorimetry.D50), 1e-6, name)
			require.NoError(t, plausible(tr), name)
		}
	}
	assert.Equal(t, 7*8, n, "seven sets of primaries, eight curves")
}

func TestCodePointsThatSayNothing(t *testing.T) {
	for _, c := range []codePoints{{}, {2, 13}, {1, 2}, {2, 2}} {
		assert.True(t, c.unspecified())
	}
	assert.False(t, codePoints{1, 13}.unspecified())
	for _, c := range []codePoints{{1, 16}, {9, 18}} {
		_, _, ok := c.transform()
		assert.False(t, ok)
		assert.True(t, c.bright())
	}
}
