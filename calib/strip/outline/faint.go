package outline

import (
	"math"
	"slices"

	"padband/colorimetry"
)

// A patch nearly as white as its paper is no flat patch of its own, but its edges are
// seen when it is known where they must be.

// How a faint patch is looked for.
const (
	faintAlong  = 0.30 // of its size: how far from where it is expected
	faintAcross = 0.14
	costShift   = 16.0 // for the square of the way from where it is expected, in sizes
	faintMost   = 5.0  // CIELAB units, that one edge may tell
	faintLeast  = 3.0  // the sum of four edges from which the place is moved
	faintPaper  = 6.0  // CIELAB units from the paper, of what lies about it
	faintSeen   = 4.5  // from which nobody need be asked whether it is there
	edgeSamples = 5    // along each edge
	edgeIn      = 2.0  // points from the edge to either side where it is looked at
)

// settle moves the empty places of a row to the faint patches that are near them, and
// keeps how clearly each was seen.
func (s *search) settle(spots []spot) []spot {
	out := slices.Clone(spots)
	for k, p := range out {
		if p.patch < 0 {
			a, b := out[max(0, k-1)].mid, out[min(len(out)-1, k+1)].mid
			if d := a.Distance(b); d > 0 {
				out[k] = s.settled(p, s.paperOf(row{spots: spots}, k), (b.X-a.X)/d, (b.Y-a.Y)/d)
			}
		}
	}
	return out
}

// settled is the place moved to where its edges are seen best.
func (s *search) settled(p spot, paper colorimetry.Lab, ux, uy float64) spot {
	size := math.Sqrt(p.area)
	best, most := p, s.edges(p, paper)
	step := max(1, size/16)
	for u := -faintAlong * size; u <= faintAlong*size; u += step {
		for v := -faintAcross * size; v <= faintAcross*size; v += step {
			q := moved(p, u*ux-v*uy, u*uy+v*ux)
			if e := s.edges(q, paper) - costShift*(u*u+v*v)/p.area; e > most {
				best, most = q, e
			}
		}
	}
	if most < faintLeast {
		best = p
	}
	best.faint = most
	return best
}

// moved is a place somewhere else.
func moved(p spot, dx, dy float64) spot {
	p.mid.X, p.mid.Y = p.mid.X+dx, p.mid.Y+dy
	for i := range p.quad {
		p.quad[i].X, p.quad[i].Y = p.quad[i].X+dx, p.quad[i].Y+dy
	}
	return p
}

// edges sums how much the colour changes across the four edges of a place, CIELAB units,
// of those beyond which there is paper: the edge of the patch beside it is none of its own.
// The outline of a found patch lies a point or so within its edge, and so does that of a
// place made from it.
//
// Of two opposite edges the fainter counts twice: a shadow or the edge of something else
// has one edge, a patch has two.
func (s *search) edges(p spot, paper colorimetry.Lab) float64 {
	var seen [4]float64
	for i, a := range p.quad {
		b := p.quad[(i+1)%4]
		nx, ny := (a.X+b.X)/2-p.mid.X, (a.Y+b.Y)/2-p.mid.Y
		d := math.Hypot(nx, ny)
		if d == 0 {
			return 0
		}
		nx, ny = nx/d, ny/d
		var in, out colorimetry.Lab
		n := 0.0
		for k := 1; k <= edgeSamples; k++ {
			f := float64(k) / (edgeSamples + 1)
			at := colorimetry.Point{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
			inner := s.g.At(colorimetry.Point{X: at.X + (1-edgeIn)*nx, Y: at.Y + (1-edgeIn)*ny})
			outer := s.g.At(colorimetry.Point{X: at.X + (1+edgeIn)*nx, Y: at.Y + (1+edgeIn)*ny})
			in.L, in.A, in.B = in.L+inner.L, in.A+inner.A, in.B+inner.B
			out.L, out.A, out.B = out.L+outer.L, out.A+outer.A, out.B+outer.B
			n++
		}
		in, out = scaled(in, 1/n), scaled(out, 1/n)
		if colorimetry.DeltaE76(out, paper) < faintPaper {
			seen[i] = min(faintMost, colorimetry.DeltaE76(in, out))
		}
	}
	return 2*min(seen[0], seen[2]) + 2*min(seen[1], seen[3])
}

func scaled(c colorimetry.Lab, f float64) colorimetry.Lab {
	return colorimetry.Lab{L: c.L * f, A: c.A * f, B: c.B * f}
}
