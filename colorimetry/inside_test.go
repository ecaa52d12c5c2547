package colorimetry

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestContainsAndDistance(t *testing.T) {
	u := polygon(t, 0, 0, 30, 0, 30, 30, 20, 30, 20, 10, 10, 10, 10, 30, 0, 30) // a U, open below
	for _, c := range []struct {
		r      Region
		p      Point
		inside float64
	}{
		{u, Point{5, 20}, 5}, {u, Point{15, 4}, 4}, {u, Point{15, 20}, -5}, {u, Point{-3, -4}, -5}, {u, Point{25, 29}, 1},
		{rect(t, 0, 0, 10, 20), Point{3, 10}, 3}, {rect(t, 0, 0, 10, 20), Point{13, 24}, -5},
		{circle(t, 0, 0, 10), Point{3, 4}, 5}, {circle(t, 0, 0, 10), Point{9, 12}, -5},
	} {
		near(t, c.inside, c.r.DistanceInside(c.p), 1e-12, "%v in %v", c.p, c.r.Shape)
		assert.Equal(t, c.inside > 0, c.r.Contains(c.p), "%v in %v", c.p, c.r.Shape)
	}
	assert.True(t, math.IsInf(Region{}.DistanceInside(Point{}), -1))
	assert.False(t, Region{}.Contains(Point{}))
	assert.False(t, u.Contains(Point{math.NaN(), 5}))
	assert.False(t, u.Contains(Point{5, math.NaN()}))
}

// Two regions that share an edge share no place and leave none out.
func TestNeighboursShareNoPlace(t *testing.T) {
	halves := []Region{polygon(t, 0, 0, 10, 0, 10, 10), polygon(t, 0, 0, 10, 10, 0, 10)}
	quarters := []Region{rect(t, 0, 0, 5, 5), rect(t, 5, 0, 5, 5), rect(t, 0, 5, 5, 5), rect(t, 5, 5, 5, 5)}
	for x := 0.0; x < 10; x += 0.5 {
		for y := 0.0; y < 10; y += 0.5 {
			for _, regions := range [][]Region{halves, quarters} {
				n := 0
				for _, r := range regions {
					if r.Contains(Point{x, y}) {
						n++
					}
				}
				assert.Equal(t, 1, n, "%v, %v", x, y)
			}
		}
	}
}

// star is a polygon that goes once round its centre, with random radii and so
// with dents.
func star(t *testing.T, rnd *rand.Rand) Region {
	var points []Point
	n := 3 + rnd.IntN(12)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.8*rnd.Float64()) / float64(n))
		radius := 5 + 20*rnd.Float64()
		points = append(points, Point{30 + radius*cos, 30 + radius*sin})
	}
	r, err := NewPolygon(points...)
	require.NoError(t, err)
	return r
}

// The rows of pixels against the plain question asked of every pixel: is its
// centre in the region, and how far from the edge.
func TestSpansAreThePixelsDeepEnoughInside(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	const width, height = 50, 52 // some of the region falls off the photo
	for range 60 {
		x, y := 20+10*rnd.Float64(), 20+10*rnd.Float64()
		for _, r := range []Region{star(t, rnd), rect(t, x, y, 25*rnd.Float64()+1, 25*rnd.Float64()+1), circle(t, x, y, 1+20*rnd.Float64())} {
			for _, margin := range []float64{0, 0.7, 2, 4} {
				var got [height][width]bool
				count := 0
				for row, spans := range r.Pixels(width, height, margin) {
					for _, s := range spans {
						for i := s.From; i < s.To; i++ {
							if got[row][i] {
								t.Fatalf("pixel %d, %d twice", i, row)
							}
							got[row][i] = true
							count++
						}
					}
				}
				assert.Equal(t, count, r.Count(width, height, margin))
				for j := range height {
					for i := range width {
						d := r.DistanceInside(Point{float64(i) + 0.5, float64(j) + 0.5})
						if math.Abs(d-margin) > 1e-9 && got[j][i] != (d > margin) {
							t.Fatalf("pixel %d, %d at depth %v, margin %v: %v in %+v", i, j, d, margin, got[j][i], r)
						}
					}
				}
			}
		}
	}
}

func TestPixelsOfARect(t *testing.T) {
	r := rect(t, 2, 3, 4, 2)
	assert.Equal(t, 8, r.Count(100, 100, 0))
	assert.Equal(t, []Span{{2, 6}}, r.Spans(3, 0))
	assert.Empty(t, r.Spans(2, 0))
	assert.Empty(t, r.Spans(5, 0))
	assert.Equal(t, 0, r.Count(100, 100, 1.01))
	assert.Equal(t, 4, r.Count(4, 100, 0), "clipped by the photo")
	assert.Equal(t, 1, rect(t, 2.5, 3.5, 1, 1).Count(100, 100, 0), "the left and top edges belong to it")
	assert.Equal(t, []Span{{-5, 5}}, circle(t, 0, 0.5, 5).Spans(0, -2), "a negative margin is none")
	assert.Equal(t, 0, Region{}.Count(100, 100, 0))
	assert.Equal(t, 100*100, rect(t, -1e6, -1e6, 2e6, 2e6).Count(100, 100, 3), "far larger than the photo")
	for y := range r.Pixels(100, 100, 0) {
		assert.Equal(t, 3, y, "a stopped loop ends")
		break
	}
}

func FuzzRegion(f *testing.F) {
	f.Add(byte(1), 0.0, 0.0, 10.0, 0.0, 10.0, 10.0, 3.0, 4.0, 1.0)
	f.Add(byte(2), 1.0, 2.0, 3.0, 4.0, 0.0, 0.0, 2.0, 3.0, 0.5)
	f.Add(byte(3), 5.0, 5.0, 4.0, 0.0, 0.0, 0.0, 5.0, 5.0, 2.0)
	f.Add(byte(1), math.NaN(), 1e300, math.Inf(-1), 0.0, 1.0, 1.0, math.NaN(), math.Inf(1), math.NaN())
	f.Add(byte(172), math.NaN(), 1.1e299, math.Inf(-1), -129.0, 1.0, -76.0, math.NaN(), math.Inf(1), math.NaN()) // once counted rows from the least int
	f.Fuzz(func(t *testing.T, kind byte, a, b, c, d, e, g, x, y, margin float64) {
		raw := Region{Shape: Shape(kind % 5), Points: []Point{{a, b}, {c, d}, {e, g}}[:kind/5%4], Radius: c}
		raw.Contains(Point{x, y}) // whatever was put together by hand, nothing panics
		raw.DistanceInside(Point{x, y})
		raw.Count(8, 8, margin)
		raw.Centroid()
		for _, build := range []func() (Region, error){
			func() (Region, error) { return NewPolygon(Point{a, b}, Point{c, d}, Point{e, g}) },
			func() (Region, error) { return NewRect(a, b, c, d) },
			func() (Region, error) { return NewCircle(Point{a, b}, c) },
		} {
			r, err := build()
			if err != nil {
				continue
			}
			raw.Encloses(r)
			if r.Encloses(raw) && raw.Contains(Point{x, y}) && r.DistanceInside(Point{x, y}) < -1e-3 {
				t.Fatalf("%v, %v is in %+v, which lies in %+v", x, y, raw, r)
			}
			least, most := r.Bounds()
			if r.Contains(Point{x, y}) && !(x >= least.X-1e-6 && x <= most.X+1e-6 && y >= least.Y-1e-6 && y <= most.Y+1e-6) {
				t.Fatalf("%v, %v is in %+v but not in its bounds", x, y, r)
			}
			if !(r.Area() > 0) || !r.Centroid().Finite() {
				t.Fatalf("%+v has area %v and centroid %v", r, r.Area(), r.Centroid())
			}
			if n := r.Count(16, 16, margin); n < 0 || n > 256 {
				t.Fatalf("%d pixels of 256", n)
			}
		}
	})
}
