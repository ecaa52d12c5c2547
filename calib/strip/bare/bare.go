// Package bare finds the bare white about the marks of a photo, so that it shows the
// light beside the white that a person marked. Start at [NewPlan]: it lays small tiles
// about the marks, and [Plan.Grow] takes those that show the marked white.
//
// White is followed outward from the marked white areas, from a tile to its neighbour.
// A tile is taken when it is even, when the bridge between the two is even too, so that
// no edge lies there, and when its brightness and colour are those that the tiles taken
// before foresee, within what the light itself may change. So the edge of another
// paper, a line of print and the sharp edge of a shadow end it. Nothing is taken for
// being bright or neutral.
//
// The figures were chosen on rendered scenes and on real photos of a box lit unevenly.
package bare

import (
	"math"
	"slices"

	"padband/charts"
	"padband/colorimetry"
)

// Sizes of the tiles, in sides of a marked patch unless said otherwise. A mark takes
// half of a patch and more, and tiles keep clear of what may be the patch.
const (
	tileShare   = 0.32
	tilePitch   = 0.5 // from a tile to the next
	tileApart   = 1.1 // the same at least, in tiles
	tileReach   = 2.2 // from the nearest mark
	tileClear   = 0.22
	tileLeast   = 11.0 // pixels; less is too little to sample
	mostTiles   = 500  // places on the grid; it is coarser where more would lie on it
	bridgeLeast = 8.0  // pixels across
	fromWhite   = 1.45 // pitches from the middle of a marked white to its neighbours
)

// Plan is where bare white is looked for.
type Plan struct {
	// Regions are all that may be sampled: the tiles, then the bridges between them.
	Regions []colorimetry.Region
	Tiles   int     // how many of them are tiles
	pitch   float64 // pixels
	links   []link
}

// link joins two neighbours. The first is a tile or, as -1-k, marked white k.
type link struct {
	from, to int
	bridge   int // among the regions
}

// NewPlan lays tiles about the marks in a photo of so many pixels. The same marks give
// the same plan; without marked white it is empty.
func NewPlan(placed charts.Placed, width, height int) (p Plan) {
	patches, whites := marks(placed)
	if len(patches) == 0 || len(whites) == 0 {
		return p
	}
	all := slices.Concat(patches, whites)
	side := middleSide(patches)
	least, most := bounds(all, tileReach*side, float64(width), float64(height))
	tile := math.Max(tileLeast, math.Round(tileShare*side))
	area := (most.X - least.X) * (most.Y - least.Y)
	p.pitch = math.Ceil(max(tilePitch*side, tileApart*tile, math.Sqrt(area/mostTiles)))
	var g grid
	for y := least.Y; y+tile <= most.Y; y += p.pitch {
		g.rows++
		for x := least.X; x+tile <= most.X; x += p.pitch {
			middle := colorimetry.Point{X: x + tile/2, Y: y + tile/2}
			if !clear(middle, tileClear*side+tile/math.Sqrt2, patches) || clear(middle, tileReach*side, all) {
				g.at = append(g.at, -1)
				continue
			}
			g.at = append(g.at, p.Tiles)
			g.middles = append(g.middles, middle)
			p.Tiles++
			p.Regions = append(p.Regions, box(x, y, tile, tile))
		}
	}
	p.link(g, whites, math.Max(bridgeLeast, math.Round(tile/2)), colorimetry.Point{X: float64(width), Y: float64(height)})
	return p
}

// grid says which tile lies at each place, row by row; -1 for none.
type grid struct {
	rows    int
	at      []int
	middles []colorimetry.Point // of the tiles
}

// link joins the marked whites with the tiles about them, and tiles with the next to
// the right and below.
func (p *Plan) link(g grid, whites []colorimetry.Region, across float64, most colorimetry.Point) {
	join := func(from, to int, a, b colorimetry.Point) {
		x0, y0 := math.Max(0, math.Min(a.X, b.X)-across/2), math.Max(0, math.Min(a.Y, b.Y)-across/2)
		x1, y1 := math.Min(most.X, math.Max(a.X, b.X)+across/2), math.Min(most.Y, math.Max(a.Y, b.Y)+across/2)
		p.links = append(p.links, link{from, to, len(p.Regions)})
		p.Regions = append(p.Regions, box(x0, y0, x1-x0, y1-y0))
	}
	for k, r := range whites {
		for i, m := range g.middles {
			if c := r.Centroid(); m.Distance(c) < fromWhite*p.pitch {
				join(-1-k, i, c, m)
			}
		}
	}
	columns := len(g.at) / max(1, g.rows)
	for k, i := range g.at {
		if i < 0 {
			continue
		}
		if k%columns+1 < columns && g.at[k+1] >= 0 {
			join(i, g.at[k+1], g.middles[i], g.middles[g.at[k+1]])
		}
		if k+columns < len(g.at) && g.at[k+columns] >= 0 {
			join(i, g.at[k+columns], g.middles[i], g.middles[g.at[k+columns]])
		}
	}
}

func box(x, y, w, h float64) colorimetry.Region {
	return colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: x, Y: y}, {X: w, Y: h}}}
}

// clear reports whether a place is at least so far from all regions.
func clear(at colorimetry.Point, far float64, of []colorimetry.Region) bool {
	return !slices.ContainsFunc(of, func(r colorimetry.Region) bool { return r.DistanceInside(at) > -far })
}

// marks are the regions of what is no white (pads, swatches and what is wet), and of
// the marked whites.
func marks(placed charts.Placed) (patches, whites []colorimetry.Region) {
	take := func(to []colorimetry.Region, marks []charts.Mark) []colorimetry.Region {
		for _, m := range marks {
			to = append(to, m.Region)
		}
		return to
	}
	whites = take(nil, placed.Whites)
	patches = take(nil, placed.WetWhites)
	for _, a := range placed.Pads {
		patches = take(patches, a.Pad)
		for _, sw := range a.Swatches {
			patches = take(patches, sw)
		}
	}
	return patches, whites
}

// middleSide is the median of the roots of the areas.
func middleSide(of []colorimetry.Region) float64 {
	sides := make([]float64, len(of))
	for i, r := range of {
		sides[i] = math.Sqrt(r.Area())
	}
	slices.Sort(sides)
	return sides[len(sides)/2]
}

// bounds is the box round the regions, so much wider, cut to the photo.
func bounds(of []colorimetry.Region, wider, width, height float64) (least, most colorimetry.Point) {
	least = colorimetry.Point{X: math.Inf(1), Y: math.Inf(1)}
	for _, r := range of {
		a, b := r.Bounds()
		least = colorimetry.Point{X: math.Min(least.X, a.X), Y: math.Min(least.Y, a.Y)}
		most = colorimetry.Point{X: math.Max(most.X, b.X), Y: math.Max(most.Y, b.Y)}
	}
	least = colorimetry.Point{X: math.Ceil(math.Max(0, least.X-wider)), Y: math.Ceil(math.Max(0, least.Y-wider))}
	return least, colorimetry.Point{X: math.Min(width, most.X+wider), Y: math.Min(height, most.Y+wider)}
}
