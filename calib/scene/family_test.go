package scene

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every lamp of the CIE tables is of one family, and every lamp of random make is as
// white as its family is sold, is the same again from the same seed, and has what
// makes its family.
func TestLampsOfRandomMake(t *testing.T) {
	known, err := cie()
	require.NoError(t, err)
	for name := range known.lamps {
		assert.NotEmpty(t, FamilyOf(name), name)
	}
	for _, f := range Families() {
		want := whiteness[f]
		for seed := range uint64(40) {
			name := randomLamp(f, seed)
			assert.Equal(t, f, FamilyOf(name))
			s, err := lampNamed(name)
			require.NoError(t, err)
			again, err := lampNamed(name)
			require.NoError(t, err)
			require.Equal(t, s, again)
			other, err := lampNamed(randomLamp(f, seed+1))
			require.NoError(t, err)
			require.NotEqual(t, s, other)
			v := newViewer(&s)
			k, duv, ok := v.white.Chromaticity().Temperature()
			require.True(t, ok)
			assert.True(t, k >= want.least && k <= want.most && math.Abs(duv) <= want.duv, "%s: %.0f K, Duv %.4f", name, k, duv)
			assert.InDelta(t, 100, s.sum(), 1e-9)
			at := func(nm float64) float64 { return s[int((nm-firstNM)/stepNM)] }
			switch f {
			case Tube: // lines of mercury stand out
				assert.Greater(t, at(435), 1.5*at(425), name)
				assert.Greater(t, at(545), 1.2*at(560), name)
			case LED: // a gap behind the chip
				assert.Less(t, at(485), at(445)+at(560), name)
				assert.Less(t, at(400), 0.2*at(560), name)
			case Bulb: // redder and redder
				assert.Greater(t, at(780), at(600), name)
				assert.Greater(t, at(600), at(450), name)
			}
		}
	}
	for _, name := range []string{"tube of seed x", "candle of seed 3", "tube of seed "} {
		_, err := lampNamed(name)
		assert.Error(t, err, name)
	}
	assert.Empty(t, FamilyOf("D50+FL2"))
}

// A scene under a family's lamp is the scene of its seed but for the lamp.
func TestDrawUnderChangesTheLampAlone(t *testing.T) {
	made := 0
	for seed := range uint64(8) {
		a, err := Draw(seed, Good)
		require.NoError(t, err)
		b, err := DrawUnder(seed, Good, Tube)
		require.NoError(t, err)
		assert.Equal(t, Tube, FamilyOf(b.Lights[0].Lamp))
		if _, ok := cie1(t)[b.Lights[0].Lamp]; !ok {
			made++
		}
		a.Lights[0].Lamp, a.Lights[0].Power = b.Lights[0].Lamp, b.Lights[0].Power
		a.Pads, b.Pads = nil, nil // they hold functions
		require.Equal(t, a, b)
	}
	assert.Positive(t, made)
	assert.Less(t, made, 8)
}

func cie1(t *testing.T) map[string]Spectrum {
	t.Helper()
	known, err := cie()
	require.NoError(t, err)
	return known.lamps
}
