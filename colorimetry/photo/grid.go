package photo

import (
	"math"

	"padband/colorimetry"
)

// A region is sampled by small square blocks of pixels on a regular grid. There are
// about blockGoal blocks, so that the cost does not grow with the region. Blocks of up
// to 4 pixels a side average fibre texture and halftone dots in linear light before
// anything is judged an outlier, and keep glare apart.
const (
	blockGoal  = 200
	blockMax   = 4   // pixels a side
	cellsMax   = 200 // grid cells along one side, for long thin regions
	minPixels  = 30
	minBreadth = 6.0  // pixels across, below which no colour is given
	insetShare = 0.08 // of the inradius, kept from the edge of larger regions
)

// cell is one block: its upper left pixel and its middle's distance from the region's edge.
type cell struct {
	x, y     int
	col, row int // place in the grid
	inside   float64
}

// grid is how a region is cut into blocks.
type grid struct {
	side  int    // pixels a side of a block
	step  [2]int // pixels from block to block, across and down
	inset float64
	// radius is the largest distance from the edge that was found.
	radius float64
	cells  []cell
}

// reach is how far a block's corners lie from its middle.
func (g *grid) reach() float64 { return float64(g.side) / math.Sqrt2 }

// edgeInset is the width of the margin that a decoder may touch when it fills in
// halved colour planes: 2 pixels, and 4 where the planes have a quarter of the
// columns.
func edgeInset(chroma int) float64 {
	if chroma > 2 {
		return 4
	}
	return 2
}

// gridFor lays out the blocks of a region that lie wholly inside it, at least inset
// from its edge.
func gridFor(r colorimetry.Region, chroma int) grid {
	e := edgeOf(r)
	least, most := r.Bounds()
	radius := e.inradius()
	inset := math.Max(edgeInset(chroma), insetShare*radius)
	usable := r.Area() * sq(math.Max(0, 1-inset/math.Max(radius, 1e-9)))
	pitch := math.Sqrt(usable / blockGoal)
	g := grid{inset: inset, radius: radius}
	g.side = int(math.Max(1, math.Min(math.Min(blockMax, pitch), (radius-inset)/2)))
	g.space(math.Min(pitch, radius-inset), least, most)
	g.lay(e, least, most)
	if g.pixels() < minPixels {
		g.side = 1
		g.space(1, least, most)
		g.lay(e, least, most)
	}
	return g
}

// space sets the steps from block to block. A step is at most the pitch, so that a
// narrow region is not stepped over; it is at least a block, and there are at most
// cellsMax cells a side.
func (g *grid) space(pitch float64, least, most colorimetry.Point) {
	step := max(int(pitch), g.side)
	g.step = [2]int{max(step, int((most.X-least.X)/cellsMax)), max(step, int((most.Y-least.Y)/cellsMax))}
}

func sq(v float64) float64 { return v * v }

// lay fills in the cells. The grid is centred on the region, on whole pixels.
func (g *grid) lay(e edge, least, most colorimetry.Point) {
	g.cells = make([]cell, 0, 2*blockGoal)
	startX, nx := axis(least.X, most.X, g.side, g.step[0])
	startY, ny := axis(least.Y, most.Y, g.side, g.step[1])
	half, need := float64(g.side)/2, g.inset+g.reach()-math.Sqrt2/2
	for row := range ny {
		for col := range nx {
			x, y := startX+col*g.step[0], startY+row*g.step[1]
			d := e.inside(colorimetry.Point{X: float64(x) + half, Y: float64(y) + half})
			if d >= need {
				g.cells = append(g.cells, cell{x, y, col, row, d - g.reach() + math.Sqrt2/2})
			}
		}
	}
}

// axis returns the first pixel and the number of blocks along one side.
func axis(from, to float64, side, step int) (start, n int) {
	lo, hi := int(math.Ceil(from)), int(math.Floor(to))
	if hi-lo < side {
		return lo, 0
	}
	n = (hi-lo-side)/step + 1
	return lo + (hi-lo-side-(n-1)*step)/2, n
}

func (g *grid) pixels() int { return len(g.cells) * g.side * g.side }

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
