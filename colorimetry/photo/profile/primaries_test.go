package profile

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// bt709 primaries and the white D65: ITU-R BT.709-6, table 1.
func primariesOfBT709() Primaries {
	return Primaries{White: colorimetry.Chromaticity{X: 0.3127, Y: 0.3290}, Red: colorimetry.Chromaticity{X: 0.64, Y: 0.33},
		Green: colorimetry.Chromaticity{X: 0.30, Y: 0.60}, Blue: colorimetry.Chromaticity{X: 0.15, Y: 0.06}}
}

// The primaries of BT.709 are those of sRGB, whose matrix is published.
func TestPrimariesOfSRGB(t *testing.T) {
	m, ok := primariesOfBT709().ToD50()
	require.True(t, ok)
	for r := range 3 {
		for c := range 3 {
			assert.InDelta(t, colorimetry.SRGB.ToXYZ[r][c], m[r][c], 1e-3)
		}
	}
}

// A white that is no colour of light, and primaries on one line, are refused.
func TestPrimariesOfNoUse(t *testing.T) {
	whites := map[string]colorimetry.Chromaticity{
		"no x": {X: 0.04, Y: 0.33}, "no y": {X: 0.31, Y: 0.04}, "no z": {X: 0.6, Y: 0.41}, "nothing": {},
	}
	for name, white := range whites {
		p := primariesOfBT709()
		p.White = white
		_, ok := p.ToD50()
		assert.False(t, ok, name)
	}
	p := primariesOfBT709()
	p.Green = colorimetry.Chromaticity{X: (p.Red.X + p.Blue.X) / 2, Y: (p.Red.Y + p.Blue.Y) / 2}
	_, ok := p.ToD50()
	assert.False(t, ok, "a line")
	p = primariesOfBT709()
	p.Blue = p.Red
	_, ok = p.ToD50()
	assert.False(t, ok, "two alike")
}
