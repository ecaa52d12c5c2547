package profile

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// exact is how far a colour through a profile may be from the exact transform, in CIELAB.
const exact = 0.03

// near fails when two colours are further apart than tol in CIELAB, or not numbers.
func near(t testing.TB, want, got colorimetry.Lab, tol float64, what string) {
	t.Helper()
	if d := colorimetry.DeltaE76(want, got); !(d <= tol) {
		t.Errorf("%s: %v and %v are %.4f apart, more than %g", what, want, got, d, tol)
	}
}

// Code points that name a space which an ICC profile or other chunks can name
// too give the same colour.
func TestCodePointsAgreeWithOtherStatements(t *testing.T) {
	v := [3]float64{236.0 / 255, 120.0 / 255, 170.0 / 255}
	srgb, p3 := colorimetry.SRGB, colorimetry.DisplayP3
	for _, row := range []struct {
		c     CodePoints
		space colorimetry.RGBSpace
		curve func(float64) float64
		name  string
	}{
		{CodePoints{1, 13}, srgb, srgb.Decode, "sRGB"},
		{CodePoints{12, 13}, p3, p3.Decode, "Display P3"},
		{CodePoints{1, 8}, srgb, func(v float64) float64 { return v }, "sRGB primaries, linear curve"},
		{CodePoints{12, 4}, p3, func(v float64) float64 { return math.Pow(v, 2.2) }, "Display P3 primaries, gamma 2.2 curve"},
		{CodePoints{12, 5}, p3, func(v float64) float64 { return math.Pow(v, 2.8) }, "Display P3 primaries, gamma 2.8 curve"},
	} {
		tr, name, ok := row.c.Transform()
		require.True(t, ok)
		assert.Equal(t, row.name, name)
		want := row.space.ToXYZ.Apply(colorimetry.XYZ{X: row.curve(v[0]), Y: row.curve(v[1]), Z: row.curve(v[2])})
		near(t, want.Lab(colorimetry.D50), tr.XYZ(v[0], v[1], v[2]).Lab(colorimetry.D50), exact, row.name)
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
			tr, name, ok := CodePoints{p, c}.Transform()
			if !ok {
				continue
			}
			n++
			near(t, colorimetry.Lab{L: 100}, tr.XYZ(1, 1, 1).Lab(colorimetry.D50), 1e-6, name)
			require.NoError(t, Plausible(tr), name)
		}
	}
	assert.Equal(t, 7*8, n, "seven sets of primaries, eight curves")
}

func TestCodePointsThatSayNothing(t *testing.T) {
	for _, c := range []CodePoints{{}, {2, 13}, {1, 2}, {2, 2}} {
		assert.True(t, c.Unspecified())
	}
	assert.False(t, CodePoints{1, 13}.Unspecified())
	for _, c := range []CodePoints{{1, 16}, {9, 18}} {
		_, _, ok := c.Transform()
		assert.False(t, ok)
		assert.True(t, c.HighRange())
	}
}

// The luminance that each full primary has, as the standards print it: BT.2020
// table 4 (0.2627, 0.6780, 0.0593), SMPTE 240M and so BT.601 of 525 lines with
// the same primaries (0.212, 0.701, 0.087), EBU Tech 3213 (0.222, 0.707, 0.071),
// SMPTE RP 431-2 (0.2095, 0.7216, 0.0689); from memory. White is undone to the
// space's own before, for the matrix is relative to D50.
func TestLuminanceOfThePrimaries(t *testing.T) {
	d65, dci := colorimetry.Chromaticity{X: 0.3127, Y: 0.3290}, colorimetry.Chromaticity{X: 0.314, Y: 0.351}
	for code, c := range map[int]struct {
		white colorimetry.Chromaticity
		y     [3]float64
	}{
		5:  {d65, [3]float64{0.222, 0.707, 0.071}},
		6:  {d65, [3]float64{0.212, 0.701, 0.087}},
		7:  {d65, [3]float64{0.212, 0.701, 0.087}},
		9:  {d65, [3]float64{0.2627, 0.6780, 0.0593}},
		11: {dci, [3]float64{0.2095, 0.7216, 0.0689}},
	} {
		m, name, ok := CodePoints{code, cicpSRGB}.matrix()
		require.True(t, ok)
		own := colorimetry.AdaptMatrix(colorimetry.D50, c.white.XYZ(1)).Mul(m)
		for k, want := range c.y {
			assert.InDelta(t, want, own[1][k], 0.0007, "%s, primary %d", name, k)
		}
	}
}
