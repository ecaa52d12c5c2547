package colorimetry

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func polygon(t *testing.T, xy ...float64) Region {
	t.Helper()
	r, err := NewPolygon(pointsOf(xy...)...)
	require.NoError(t, err)
	return r
}

func pointsOf(xy ...float64) []Point {
	var out []Point
	for i := 0; i+1 < len(xy); i += 2 {
		out = append(out, Point{xy[i], xy[i+1]})
	}
	return out
}

func rect(t *testing.T, x, y, w, h float64) Region {
	t.Helper()
	r, err := NewRect(x, y, w, h)
	require.NoError(t, err)
	return r
}

func circle(t *testing.T, x, y, radius float64) Region {
	t.Helper()
	r, err := NewCircle(Point{x, y}, radius)
	require.NoError(t, err)
	return r
}

// An L of three unit squares scaled by 10: area 300, and its centroid is the
// mean of the three squares' centres.
func TestAreaAndCentroidOfAnL(t *testing.T) {
	l := polygon(t, 0, 0, 20, 0, 20, 10, 10, 10, 10, 20, 0, 20)
	near(t, 300, l.Area(), 1e-9, "area")
	c := l.Centroid()
	near(t, (5.0+15+5)/3, c.X, 1e-12, "x")
	near(t, (5.0+5+15)/3, c.Y, 1e-12, "y")
	back := polygon(t, 0, 20, 10, 20, 10, 10, 20, 10, 20, 0, 0, 0)
	near(t, 300, back.Area(), 1e-9, "area the other way round")
	near(t, c.X, back.Centroid().X, 1e-12, "x the other way round")
}

func TestAreaCentroidAndBoundsOfRectAndCircle(t *testing.T) {
	r := rect(t, 2, 3, 10, 4)
	near(t, 40, r.Area(), 0, "rect")
	assert.Equal(t, Point{7, 5}, r.Centroid())
	least, most := r.Bounds()
	assert.Equal(t, []Point{{2, 3}, {12, 7}}, []Point{least, most})
	assert.Equal(t, pointsOf(2, 3, 12, 3, 12, 7, 2, 7), r.Outline())

	c := circle(t, 10, 20, 5)
	near(t, 78.53981633974483, c.Area(), 1e-12, "circle, 25 pi")
	assert.Equal(t, Point{10, 20}, c.Centroid())
	least, most = c.Bounds()
	assert.Equal(t, []Point{{5, 15}, {15, 25}}, []Point{least, most})
	drawn := Region{Shape: Polygon, Points: c.Outline()}
	near(t, c.Area(), drawn.Area(), 0.0017*c.Area(), "the drawn circle")
	least, most = polygon(t, 3, 9, 1, 2, 7, 4).Bounds()
	assert.Equal(t, []Point{{1, 2}, {7, 9}}, []Point{least, most})
}

func TestRegionsRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	poly := func(xy ...float64) func() (Region, error) {
		return func() (Region, error) { return NewPolygon(pointsOf(xy...)...) }
	}
	box := func(x, y, w, h float64) func() (Region, error) {
		return func() (Region, error) { return NewRect(x, y, w, h) }
	}
	ring := func(x, y, r float64) func() (Region, error) {
		return func() (Region, error) { return NewCircle(Point{x, y}, r) }
	}
	for name, c := range map[string]struct {
		make func() (Region, error)
		says string
	}{
		"no points":            {poly(), "polygon: has 0 points"},
		"two points":           {poly(0, 0, 1, 1), "polygon: has 2 points"},
		"too many points":      {poly(make([]float64, 2*MaxPoints+2)...), "polygon: has 1001 points"},
		"NaN corner":           {poly(0, 0, 1, nan, 2, 2), "not finite"},
		"corner far away":      {poly(0, 0, 1, 1e8, 2, 2), "far too large"},
		"bow tie":              {poly(0, 0, 10, 10, 10, 0, 0, 10), "crosses or touches itself"},
		"five-pointed star":    {poly(0, 10, 6, -8, -10, 3, 10, 3, -6, -8), "crosses or touches itself"},
		"corner named twice":   {poly(0, 0, 0, 0, 10, 0, 0, 10), "crosses or touches itself"},
		"first corner again":   {poly(0, 0, 10, 0, 0, 10, 0, 0), "crosses or touches itself"},
		"corner on an edge":    {poly(0, 0, 10, 0, 10, 10, 5, 0), "crosses or touches itself"},
		"the same, turned":     {poly(5, 0, 10, 10, 10, 0, 0, 0), "crosses or touches itself"},
		"triangle of two":      {poly(0, 0, 0, 0, 10, 0), "crosses or touches itself"},
		"there and back":       {poly(0, 0, 10, 0, 5, 0), "crosses or touches itself"},
		"nearly a line":        {poly(0, 0, 1000, 0, 500, 1e-7), "has no area"},
		"rect without width":   {box(1, 1, 0, 5), "rect: is 0 by 5 pixels"},
		"rect inside out":      {box(1, 1, 5, -5), "rect: is 5 by -5 pixels"},
		"rect NaN":             {box(nan, 1, 5, 5), "not finite"},
		"rect endless":         {box(1, 1, inf, 5), "not finite"},
		"circle without size":  {ring(1, 1, 0), "circle: has radius 0"},
		"circle inside out":    {ring(1, 1, -1), "circle: has radius -1"},
		"circle NaN":           {ring(1, 1, nan), "not finite"},
		"circle at infinity":   {ring(inf, 1, 1), "not finite"},
		"the zero region":      {func() (Region, error) { return checked(Region{}) }, "region: has 0 points"},
		"a rect with no sizes": {func() (Region, error) { return checked(Region{Shape: Rect, Points: []Point{{1, 1}}}) }, "rect: has 1 points"},
	} {
		r, err := c.make()
		var typed *RegionError
		require.ErrorAs(t, err, &typed, name)
		assert.Contains(t, err.Error(), c.says, name)
		assert.NotContains(t, err.Error(), "\n", name)
		assert.NotEmpty(t, typed.Do, name)
		assert.Equal(t, Region{}, r, name)
	}
}

func TestRegionsTaken(t *testing.T) {
	polygon(t, 0, 0, 5, 0, 10, 0, 10, 10) // a corner on a straight edge
	polygon(t, 0.1, 0.2, 0.101, 0.2, 0.1, 0.201)
	polygon(t, 0, 0, 10, 0, 10, 10, 9, 10, 9, 1, 1, 1, 1, 10, 0, 10) // a U
	rect(t, -5, -5, 0.01, 0.01)
	square := pointsOf(0, 0, 1, 0, 1, 1, 0, 1)
	r, err := NewPolygon(square...)
	require.NoError(t, err)
	square[0].X = 99
	near(t, 1, r.Area(), 0, "the region keeps points of its own")
}

func TestInsideThePhoto(t *testing.T) {
	assert.True(t, rect(t, 0, 0, 100, 50).Inside(100, 50))
	assert.False(t, rect(t, 0, 0, 100.001, 50).Inside(100, 50))
	assert.False(t, rect(t, 0, -0.001, 10, 10).Inside(100, 50))
	assert.True(t, circle(t, 10, 10, 10).Inside(100, 50))
	assert.False(t, circle(t, 9.9, 10, 10).Inside(100, 50))
	assert.False(t, polygon(t, 0, 0, 10, 0, 10, 51).Inside(100, 50))
	assert.False(t, Region{}.Inside(100, 50))
}

func TestMapTurnsARegion(t *testing.T) {
	turned := func(p Point) Point { return Point{50 - p.Y, p.X} }
	r := rect(t, 2, 3, 10, 4).Map(turned)
	require.NoError(t, r.Check())
	near(t, 40, r.Area(), 1e-12, "area")
	assert.Equal(t, turned(Point{7, 5}), r.Centroid())
	c := circle(t, 10, 20, 5).Map(turned)
	require.NoError(t, c.Check())
	near(t, 30, c.Centroid().X, 1e-12, "centre")
	folded := rect(t, 0, 0, 10, 10).Map(func(Point) Point { return Point{1, 1} })
	assert.Error(t, folded.Check())
	assert.Equal(t, Region{}, Region{}.Map(turned))
}

func TestShapesAreNamedAsInFiles(t *testing.T) {
	names := []string{Polygon.String(), Rect.String(), Circle.String(), Shape(0).String()}
	assert.Equal(t, "polygon rect circle region", strings.Join(names, " "))
}

func TestMeanCovIsOverTheIndependentPixels(t *testing.T) {
	s := Sample{Cov: [3][3]float64{{4, 2, 1}, {2, 8, 3}, {1, 3, 16}}, Pixels: 100, Effective: 4}
	assert.Equal(t, [3][3]float64{{1, 0.5, 0.25}, {0.5, 2, 0.75}, {0.25, 0.75, 4}}, s.MeanCov())
	for _, few := range []float64{0, 0.5, math.NaN()} {
		s.Effective = few
		assert.Equal(t, s.Cov, s.MeanCov(), "%v", few)
	}
	assert.Equal(t, 4.0, s.Cov[0][0], "the sample is left as it was")
}
