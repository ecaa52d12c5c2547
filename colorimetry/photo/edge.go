package photo

import (
	"math"

	"padband/colorimetry"
)

// edge is a region whose corners are laid out once, because a region is asked for its
// distances some hundred times.
type edge struct {
	region  colorimetry.Region
	corners []colorimetry.Point
}

func edgeOf(r colorimetry.Region) edge {
	if r.Shape == colorimetry.Circle {
		return edge{region: r}
	}
	return edge{r, r.Outline()}
}

// inside gives the same as [colorimetry.Region.DistanceInside].
func (e edge) inside(p colorimetry.Point) float64 {
	if e.corners == nil {
		return e.region.DistanceInside(p)
	}
	least := math.Inf(1)
	a := e.corners[len(e.corners)-1]
	for _, b := range e.corners {
		least = math.Min(least, sqDistance(p, a, b))
		a = b
	}
	least = math.Sqrt(least)
	if !e.region.Contains(p) {
		return -least
	}
	return least
}

// sqDistance is the squared distance from p to the nearest place between a and b.
func sqDistance(p, a, b colorimetry.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	px, py := p.X-a.X, p.Y-a.Y
	if length := dx*dx + dy*dy; length > 0 {
		t := math.Max(0, math.Min(1, (px*dx+py*dy)/length))
		px, py = px-t*dx, py-t*dy
	}
	return px*px + py*py
}

// inradius is the largest distance from the edge. In a polygon it is looked for at 16
// by 16 places, so it is too small by at most one and a half of their steps.
func (e edge) inradius() float64 {
	const n = 16
	best := e.inside(e.region.Centroid())
	if e.region.Shape != colorimetry.Polygon {
		return best
	}
	least, most := e.region.Bounds()
	dx, dy := (most.X-least.X)/n, (most.Y-least.Y)/n
	for i := range n {
		for j := range n {
			p := colorimetry.Point{X: least.X + (float64(i)+0.5)*dx, Y: least.Y + (float64(j)+0.5)*dy}
			best = math.Max(best, e.inside(p))
		}
	}
	return best
}
