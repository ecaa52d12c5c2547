package photo

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The shortest interval that holds half of the values and one: of 1, 2, 2.1, 2.2
// and 9 three, from 2 to 2.2; of six values four, from 1 to 4.
func TestShorthByHand(t *testing.T) {
	for _, c := range []struct {
		v            []float64
		middle, half float64
	}{{[]float64{1, 2, 2.1, 2.2, 9}, 2.1, 0.1}, {[]float64{7}, 7, 0}, {[]float64{-20, 1, 2, 3, 4, 30}, 3, 1.5}} {
		middle, half := shorth(c.v)
		assert.InDelta(t, c.middle, middle, 1e-12, "%v", c.v)
		assert.InDelta(t, c.half, half, 1e-12, "%v", c.v)
	}
}

// The spread of the members is about their own mean, wherever the middle was
// before: 1, 2, 3 and 4 have the mean 2.5 and the standard deviation sqrt(1.25).
func TestGatherMovesToTheMembers(t *testing.T) {
	for _, before := range []float64{-3, 0, 2.5, 7} {
		var tones []tone
		for _, v := range []float64{1, 2, 3, 4, 500} {
			tones = append(tones, tone{v, -v, 2 * v})
		}
		keep, bright := make([]bool, 5), make([]bool, 5)
		mid, dev := tone{before, -before, 2 * before}, tone{10, 10, 20}
		assert.True(t, gather(tones, keep, bright, &mid, &dev, 0))
		assert.Equal(t, []bool{true, true, true, true, false}, keep)
		assert.Equal(t, []bool{false, false, false, false, true}, bright)
		for c, k := range []float64{1, -1, 2} {
			assert.InDelta(t, 2.5*k, mid[c], 1e-12)
			assert.InDelta(t, 1.01*math.Sqrt(1.25)*math.Abs(k), dev[c], 1e-12)
		}
		assert.False(t, gather(tones, keep, bright, &mid, &dev, 0), "the same members again")
	}
}

// A value is left out from 3.5 standard deviations on, or from so many of the
// least spread where the members have none; in brightness and in either colour
// difference alike.
func TestGatherRejectsAtItsDistance(t *testing.T) {
	for c := range 3 {
		for far, want := range map[float64]bool{3.49: true, -3.49: true, 3.51: false, -3.51: false} {
			for _, spread := range [][2]float64{{0.1, 0.02}, {0.02, 0.1}} {
				one := tone{0.5, 0.1, 0.2}
				one[c] += far * 0.1
				keep, bright := make([]bool, 1), make([]bool, 1)
				mid, dev := tone{0.5, 0.1, 0.2}, tone{spread[0], spread[0], spread[0]}
				gather([]tone{one}, keep, bright, &mid, &dev, spread[1])
				assert.Equal(t, want, keep[0], "%v deviations in %d", far, c)
				assert.Equal(t, !want && c == 0 && far > 0, bright[0])
			}
		}
	}
}
