package colorimetry

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var unitSquare = [4]Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}}

// A camera of our own: it looks at the plane z = 0 from above at a slant, by
// the pinhole's rule alone. The homography of four corners must put every
// other place where the camera does.
func TestHomographyIsThePinholeCameras(t *testing.T) {
	camera := func(p Point) Point {
		tilt, turnBy := 0.6, 0.3
		x := math.Cos(turnBy)*p.X - math.Sin(turnBy)*p.Y
		y := math.Sin(turnBy)*p.X + math.Cos(turnBy)*p.Y
		depth := 4 + math.Sin(tilt)*y
		return Point{2000 + 3000*x/depth, 1500 + 3000*math.Cos(tilt)*y/depth}
	}
	var to [4]Point
	for i, p := range unitSquare {
		to[i] = camera(p)
	}
	h, err := NewHomography(unitSquare, to)
	require.NoError(t, err)
	back, ok := h.Inverse()
	require.True(t, ok)
	assert.False(t, h.Mirrors())
	rnd := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		p := Point{2*rnd.Float64() - 0.5, 2*rnd.Float64() - 0.5}
		near(t, 0, h.Apply(p).Distance(camera(p)), 1e-9, "%v", p)
		near(t, 0, back.Apply(camera(p)).Distance(p), 1e-12, "%v and back", p)
	}
}

func TestHomographyBetweenTwoPhotos(t *testing.T) {
	from := [4]Point{{10, 20}, {310, 35}, {290, 240}, {25, 220}}
	to := [4]Point{{400, 100}, {420, 380}, {200, 360}, {190, 120}}
	h, err := NewHomography(from, to)
	require.NoError(t, err)
	for i := range from {
		near(t, 0, h.Apply(from[i]).Distance(to[i]), 1e-9, "corner %d", i)
	}
	middle := h.Apply(Point{150, 120})
	h2, err := NewHomography(to, from)
	require.NoError(t, err)
	near(t, 0, h2.Apply(middle).Distance(Point{150, 120}), 1e-9, "the other way")
}

func TestHomographyTellsAMirroredChart(t *testing.T) {
	h, err := NewHomography(unitSquare, [4]Point{{10, 0}, {0, 0}, {0, 10}, {10, 10}})
	require.NoError(t, err)
	assert.True(t, h.Mirrors())
}

func TestPlacesBeyondTheHorizonGoNowhere(t *testing.T) {
	h, err := NewHomography(unitSquare, [4]Point{{0, 0}, {4, 0}, {3, 1}, {1, 1}}) // sides meet at (2, 2)
	require.NoError(t, err)
	assert.True(t, h.Apply(Point{0.5, 100}).Finite())
	assert.False(t, h.Apply(Point{0.5, -2}).Finite())
	_, ok := Homography{}.Inverse()
	assert.False(t, ok)
}

func TestCornersRefused(t *testing.T) {
	for name, corners := range map[string][4]Point{
		"in a cross":        {{0, 0}, {1, 1}, {1, 0}, {0, 1}},
		"with a dent":       {{0, 0}, {10, 0}, {2, 2}, {0, 10}},
		"three on a line":   {{0, 0}, {5, 0}, {10, 0}, {0, 10}},
		"two on one place":  {{0, 0}, {0, 0}, {10, 10}, {0, 10}},
		"all on one place":  {{3, 3}, {3, 3}, {3, 3}, {3, 3}},
		"with NaN":          {{math.NaN(), 0}, {1, 0}, {1, 1}, {0, 1}},
		"with an infinity":  {{0, 0}, {math.Inf(1), 0}, {1, 1}, {0, 1}},
		"nearly on a line":  {{0, 0}, {10, 1e-7}, {20, 0}, {10, -1e-7}},
		"far too far apart": {{0, 0}, {1e9, 0}, {1e9, 1e9}, {0, 1e9}},
	} {
		var typed *CornerError
		_, err := NewHomography(unitSquare, corners)
		require.ErrorAs(t, err, &typed, name)
		assert.NotContains(t, err.Error(), "\n")
		_, err = NewHomography(corners, unitSquare)
		require.ErrorAs(t, err, &typed, name)
	}
}
