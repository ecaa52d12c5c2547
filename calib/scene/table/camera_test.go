package table

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// TestTableIsSeenByAHomography compares the pinhole with the projective map
// through four of its points: a plane is seen so, whatever the camera.
func TestTableIsSeenByAHomography(t *testing.T) {
	c := newCamera(1500, 2000, 1600, 0.5, 1.1, 2.2)
	c.frame([]vec{{0, 0, 0}, {200, 0, 0}, {200, 100, 0}, {0, 100, 0}}, 0.8, 0, 0)
	var from, to [4]point
	for i, p := range box(0, 0, 200, 100) {
		from[i], to[i] = p, c.project(vec{p.X, p.Y, 0})
	}
	h, err := colorimetry.NewHomography(from, to)
	require.NoError(t, err)
	for _, p := range []point{{X: 50, Y: 20}, {X: 133, Y: 90}, {X: -20, Y: 40}} {
		want, got := h.Apply(p), c.project(vec{p.X, p.Y, 0})
		assert.InDelta(t, want.X, got.X, 1e-6)
		assert.InDelta(t, want.Y, got.Y, 1e-6)
		back := c.onTable(got.X, got.Y)
		assert.InDelta(t, p.X, back.X, 1e-6)
		assert.InDelta(t, p.Y, back.Y, 1e-6)
	}
	assert.False(t, h.Mirrors())
}

// TestBottleIsMetWhereItIsSeen sends a ray back through the pixel of a place on the bottle.
func TestBottleIsMetWhereItIsSeen(t *testing.T) {
	f := &flask{radius: 30, long: 80, cap: 10, capEnd: 1}
	c := newCamera(1500, 2000, 1600, 0.3, 0.4, 1)
	c.frame([]vec{f.at(30, 0, -40), f.at(30, 0, 40), f.at(30, 1, 0), f.at(30, -1, 0)}, 0.8, 0, 0)
	for _, want := range [][2]float64{{0, 0}, {0.7, 20}, {-0.8, -35}} {
		angle, along, _, ok := f.meets(c, c.project(f.at(30, want[0], want[1])))
		require.True(t, ok)
		assert.InDelta(t, want[0], angle, 1e-6)
		assert.InDelta(t, want[1], along, 1e-6)
	}
	assert.True(t, f.hides(c, c.project(vec{0, 0, 0})))
	assert.False(t, f.hides(c, c.project(vec{0, 150, 0})))
}
