package colorimetry

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestEncloses(t *testing.T) {
	u := polygon(t, 0, 0, 30, 0, 30, 30, 20, 30, 20, 10, 10, 10, 10, 30, 0, 30) // a U, open below
	box, disc := rect(t, 0, 0, 30, 30), circle(t, 15, 15, 15)
	for _, c := range []struct {
		r, s Region
		want bool
	}{
		{u, u, true}, {box, box, true}, {disc, disc, true},
		{box, u, true}, {u, box, false},
		{box, disc, true}, {disc, box, false}, {disc, rect(t, 5, 5, 20, 20), true}, {disc, rect(t, 4, 4, 22, 22), false},
		{disc, circle(t, 10, 15, 10), true}, {disc, circle(t, 9, 15, 10), false},
		{u, rect(t, 0, 0, 30, 10), true}, {u, rect(t, 20, 5, 10, 25), true}, {u, rect(t, 0, 0, 30, 10.01), false},
		{u, rect(t, 5, 12, 20, 3), false}, // both ends in the legs, the middle in the gap
		{u, polygon(t, 10, 10, 20, 10, 15, 2), true}, {u, polygon(t, 10, 10, 20, 10, 15, 12), false},
		{u, circle(t, 5, 20, 5), true}, {u, circle(t, 15, 5, 6), false}, {u, circle(t, 15, 20, 4), false},
		{box, polygon(t, 0, 0, 30, 0, 30, 30, 0, 30), true}, {polygon(t, 0, 0, 30, 0, 30, 30, 0, 30), box, true},
		{box, rect(t, -1e-5, 0, 10, 10), false}, {box, rect(t, -1e-9, 0, 10, 10), true},
		{box, rect(t, 40, 40, 5, 5), false}, {box, rect(t, 20, 20, 20, 5), false}, {rect(t, 40, 40, 5, 5), box, false},
		{Region{}, box, false}, {box, Region{}, false}, {Region{}, Region{}, false},
	} {
		assert.Equal(t, c.want, c.r.Encloses(c.s), "%v in %v", c.s, c.r)
	}
}

// All of a star about its centre is seen from there, so that it holds each smaller
// copy of itself about it and lies in each larger one. Of other regions the places
// along the edge tell: all lie in what encloses them, and one does not in what does not.
func TestEnclosesMeansThatEveryPlaceDoes(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	held, not := 0, 0
	for range 200 {
		s := star(t, rnd)
		if !s.Contains(Point{30, 30}) {
			continue
		}
		about := func(k float64) Region {
			return s.Map(func(p Point) Point { return Point{30 + k*(p.X-30), 30 + k*(p.Y-30)} })
		}
		assert.True(t, s.Encloses(about(0.3+0.699*rnd.Float64())), "%v", s)
		assert.False(t, s.Encloses(about(1.001+rnd.Float64())), "%v", s)
		x, y := 20+15*rnd.Float64(), 20+15*rnd.Float64()
		for _, r := range []Region{star(t, rnd), rect(t, x, y, 15*rnd.Float64()+1, 15*rnd.Float64()+1), circle(t, x, y, 1+10*rnd.Float64())} {
			least := math.Inf(1)
			for _, p := range alongEdge(r) {
				least = math.Min(least, s.DistanceInside(p))
			}
			if s.Encloses(r) {
				held++
				assert.GreaterOrEqual(t, least, -2*touching, "%v in %v", r, s)
			} else {
				not++
				assert.Less(t, least, 0.0, "%v in %v", r, s)
			}
		}
	}
	assert.Greater(t, held, 20)
	assert.Greater(t, not, 20)
}

// alongEdge are many places on a region's edge.
func alongEdge(r Region) (out []Point) {
	const n = 500
	if r.Shape == Circle {
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
			out = append(out, Point{r.Points[0].X + r.Radius*cos, r.Points[0].Y + r.Radius*sin})
		}
		return out
	}
	corners := r.Outline()
	for i, b := range corners {
		a := corners[(i+len(corners)-1)%len(corners)]
		for k := range n {
			f := float64(k) / n
			out = append(out, Point{a.X + f*(b.X-a.X), a.Y + f*(b.Y-a.Y)})
		}
	}
	return out
}
