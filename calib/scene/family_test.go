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

// A scene under a family's lamp is the scene of its seed but for the lamp and how the
// camera balances it.
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
		assert.NotEqual(t, a.Camera.Balance, b.Camera.Balance)
		a.Camera.Balance = b.Camera.Balance
		a.Pads, b.Pads = nil, nil // they hold functions
		require.Equal(t, a, b)
	}
	assert.Positive(t, made)
	assert.Less(t, made, 8)
}

// A phone leaves a part of a lamp's colour in the photo: under a bulb red is stronger
// than blue, and never by more than that part and the scatter about it.
func TestBalanceMovesTowardsTheLamp(t *testing.T) {
	const scatter = 2 * 2.5 * 0.03 // the most that the scatter of red and that of blue differ
	day, err := lampNamed("D55")
	require.NoError(t, err)
	white, sum := flat(1), 0.0
	const scenes = 16
	for seed := range uint64(scenes) {
		c, err := DrawUnder(seed, Good, Bulb)
		require.NoError(t, err)
		k := &c.Camera
		assert.Equal(t, 1.0, k.Balance[1], "green is the measure")
		seen, usual := k.raw(&white, &c.Lights[0].Power), k.raw(&white, &day)
		whole := math.Log(seen[0] / usual[0] * usual[2] / seen[2])
		require.Greater(t, whole, 0.5, "a bulb is redder than daylight")
		kept := math.Log(k.Balance[0] / k.Balance[2])
		assert.Greater(t, kept, -scatter, "seed %d", seed)
		assert.Less(t, kept, leftover*whole+scatter, "seed %d", seed)
		sum += kept / whole
	}
	assert.InDelta(t, leftover/2, sum/scenes, 0.1, "an even run from nothing to the most")
}

func cie1(t *testing.T) map[string]Spectrum {
	t.Helper()
	known, err := cie()
	require.NoError(t, err)
	return known.lamps
}
