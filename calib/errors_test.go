package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/charts"
)

// covariance is that of a mismatch at a colour.
func (m mismatch) covariance(l, a, b float64) (out [3][3]float64) {
	root := m.root(l, a, b)
	for r := range 3 {
		for c := range 3 {
			for k := range 4 {
				out[r][c] += root[r][k] * root[c][k]
			}
		}
	}
	return out
}

// At a neutral colour chroma lies along a* and hue along b*, and the variances
// are plain sums.
func TestMismatchIsTheSumOfItsParts(t *testing.T) {
	m := mismatch{l: 3, c: 2, h: 1, pink: 4, lByDepth: 0.1, pByDepth: 0.15, lc: 0, towards: towardsPink}
	v := m.covariance(80, 0, 0)
	const cos2, sincos = 0.5868240888, -0.4924038765 // of -40 degrees
	within(t, 9+4, v[0][0], 1e-9, "lightness")
	within(t, 4+25*cos2, v[1][1], 1e-6, "a*")
	within(t, 1+25*(1-cos2), v[2][2], 1e-6, "b*")
	within(t, 25*sincos, v[1][2], 1e-6, "a* with b*")
	within(t, 0, v[0][1], 1e-9, "lightness with a*")
}

func TestDyeAndInkDisagreeMoreInDeepColours(t *testing.T) {
	pale, deep := dyeInk.covariance(95, 4, 8), dyeInk.covariance(55, 4, 8)
	for i := range 3 {
		assert.Greater(t, deep[i][i], pale[i][i])
	}
	assert.Greater(t, deep[1][1]+deep[2][2], 2*(pale[1][1]+pale[2][2]))
	assert.Negative(t, deep[1][2], "between green and pink")
}

// How values run between two swatches is the less known the more the colour changes.
func TestSpacingGrowsWithTheChangeOfColour(t *testing.T) {
	s := Scale{parts: 1, nodes: make([]colourAt, 4), chord: []float64{usualChord, 4 * usualChord, usualChord}}
	s.analyte.Swatches = []charts.Swatch{{Value: 1}, {Value: 3}, {Value: 5}, {Value: 7}}
	within(t, spacingError, s.spacing(0.5), 1e-12, "half way between the usual two")
	within(t, 1.7411011*spacingError, s.spacing(1.5), 1e-6, "4 to the power 0.4 times as much")
	assert.Zero(t, s.spacing(1), "nothing at a swatch")
	s.analyte.Swatches[0].Value = 0
	within(t, firstSpacing*spacingError, s.spacing(0.5), 1e-12, "in the first step above zero it is known worse")
	s.parts = 4
	within(t, 1.3195079*spacingError, s.spacing(1.5), 1e-6, "four parts at twice the distance each")
}
