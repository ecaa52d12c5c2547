package photo

import (
	"cmp"
	"math"
	"slices"

	"padband/colorimetry"
)

// sample works out the figures of a sample from the pixels that were kept.
func (s *patch) sample() colorimetry.Sample {
	all := float64(len(s.xyz))
	out := colorimetry.Sample{
		Clipped: float64(s.clipped) / all, Floor: float64(s.floor) / all, Transparent: float64(s.faint) / all,
		Glare: s.glare(),
	}
	var weight float64
	for k, c := range s.grid.cells {
		if !s.keep[k] {
			continue
		}
		w := float64(s.count[k])
		weight += w
		out.Pixels += s.count[k]
		out.XYZ = out.XYZ.Add(s.mean[k].Scale(w))
		at := s.grid.middle(c)
		out.Place.X += w * at.X
		out.Place.Y += w * at.Y
	}
	out.XYZ = out.XYZ.Scale(1 / weight)
	out.Place.X /= weight
	out.Place.Y /= weight
	out.Cov = s.covariance(out.XYZ)
	out.Slope = s.slope(out)
	out.Effective = s.effective(out)
	out.InsetShift = s.insetShift(out.XYZ)
	out.Dark, out.Bright = s.ends()
	out.Split = s.split(out.XYZ)
	return out
}

// ends returns the means of the darkest and of the brightest fifth of the blocks.
// Blocks outside the core are included; those that are all sparkle are not.
func (s *patch) ends() (dark, bright colorimetry.XYZ) {
	order := make([]int, 0, len(s.mean))
	for k := range s.mean {
		if s.count[k] > 0 {
			order = append(order, k)
		}
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(s.mean[a].Y, s.mean[b].Y) })
	n := (len(order) + 4) / 5
	for i := range n {
		dark = dark.Add(s.mean[order[i]].Scale(1 / float64(n)))
		bright = bright.Add(s.mean[order[len(order)-1-i]].Scale(1 / float64(n)))
	}
	return dark, bright
}

func (g *grid) middle(c cell) colorimetry.Point {
	half := float64(g.side) / 2
	return colorimetry.Point{X: float64(c.x) + half, Y: float64(c.y) + half}
}

// glare is the share of pixels left out for being bright.
func (s *patch) glare() float64 {
	n := 0
	for k := range s.grid.cells {
		if s.shine[k] {
			n += s.area
		} else {
			n += s.area - s.count[k]
		}
	}
	return float64(n) / float64(len(s.xyz))
}

// covariance is the covariance of the kept pixels about the centre.
func (s *patch) covariance(centre colorimetry.XYZ) (cov [3][3]float64) {
	n := 0
	for i, c := range s.xyz {
		if s.out[i] || !s.keep[i/s.area] {
			continue
		}
		n++
		e := c.Sub(centre)
		d := [3]float64{e.X, e.Y, e.Z}
		for a := range 3 {
			for b := range 3 {
				cov[a][b] += d[a] * d[b]
			}
		}
	}
	for a := range 3 {
		for b := range 3 {
			cov[a][b] /= math.Max(1, float64(n-1))
		}
	}
	return cov
}

// slope is the least-squares trend of the kept blocks along x and y, per
// pixel. It is zero where the blocks lie on one line.
func (s *patch) slope(at colorimetry.Sample) (slope [2]colorimetry.XYZ) {
	var xx, xy, yy float64
	var cx, cy colorimetry.XYZ
	for k, c := range s.grid.cells {
		if !s.keep[k] {
			continue
		}
		w, m := float64(s.count[k]), s.grid.middle(c)
		dx, dy, d := m.X-at.Place.X, m.Y-at.Place.Y, s.mean[k].Sub(at.XYZ)
		xx, xy, yy = xx+w*dx*dx, xy+w*dx*dy, yy+w*dy*dy
		cx, cy = cx.Add(d.Scale(w*dx)), cy.Add(d.Scale(w*dy))
	}
	det := xx*yy - xy*xy
	if !(det > 1e-9*xx*yy) {
		return slope
	}
	slope[0] = cx.Scale(yy).Sub(cy.Scale(xy)).Scale(1 / det)
	slope[1] = cy.Scale(xx).Sub(cx.Scale(xy)).Scale(1 / det)
	return slope
}

// rounding is the variance below which a spread comes from the arithmetic alone.
const rounding = 1e-20

// effective is how many independent pixels the centre is worth: the variance of a
// pixel over that of the centre. The latter follows from how the blocks' means scatter
// about their trend and go along with their neighbours. The least of brightness and
// the two colour differences counts; it lies between 1 and Pixels.
func (s *patch) effective(at colorimetry.Sample) float64 {
	rest := s.rest(at)
	next := s.neighbours()
	kept := 0.0
	for _, k := range s.keep {
		if k {
			kept++
		}
	}
	least := float64(at.Pixels)
	pixel := toneVariance(at.Cov)
	for c := range 3 {
		var v float64
		for k := range rest {
			v += sq(rest[k][c])
		}
		v /= math.Max(1, kept-3)
		if v > rounding {
			centre := v / kept * kinship(rest, next, c, v)
			least = math.Min(least, pixel[c]/centre)
		}
	}
	return math.Max(1, least)
}

// rest is how far each kept block's mean differs from centre and trend; it is zero for
// the other blocks.
func (s *patch) rest(at colorimetry.Sample) []tone {
	rest := make([]tone, len(s.grid.cells))
	for k, c := range s.grid.cells {
		if s.keep[k] {
			m := s.grid.middle(c)
			trend := at.Slope[0].Scale(m.X - at.Place.X).Add(at.Slope[1].Scale(m.Y - at.Place.Y))
			rest[k] = toneOf(s.mean[k].Sub(at.XYZ).Sub(trend))
		}
	}
	return rest
}

// neighbours finds each kept block's kept neighbour to the right and below; -1 means
// that there is none. The cells run row by row, so the neighbours do too.
func (s *patch) neighbours() (next [2][]int) {
	cells := s.grid.cells
	for d, step := range [2][2]int{{1, 0}, {0, 1}} {
		next[d] = make([]int, len(cells))
		j := 0
		for k, c := range cells {
			col, row := c.col+step[0], c.row+step[1]
			for j < len(cells) && (cells[j].row < row || cells[j].row == row && cells[j].col < col) {
				j++
			}
			next[d][k] = -1
			if j < len(cells) && cells[j].row == row && cells[j].col == col && s.keep[k] && s.keep[j] {
				next[d][k] = j
			}
		}
	}
	return next
}

// kinship is the factor by which the likeness of neighbouring blocks raises the
// variance of the mean: (1 + 2 rho) along each side, with rho the correlation of
// neighbours.
func kinship(rest []tone, next [2][]int, c int, variance float64) float64 {
	factor := 1.0
	for _, to := range next {
		var sum float64
		n := 0
		for k, j := range to {
			if j >= 0 {
				sum += rest[k][c] * rest[j][c]
				n++
			}
		}
		if n > 0 {
			factor *= 1 + 2*math.Max(0, sum/float64(n)/variance)
		}
	}
	return factor
}

// toneVariance converts a covariance in XYZ to the variances of a tone.
func toneVariance(cov [3][3]float64) tone {
	x, z := 1/colorimetry.D50.X, 1/colorimetry.D50.Z
	return tone{
		cov[1][1],
		sq(x)*cov[0][0] - 2*x*cov[0][1] + cov[1][1],
		sq(z)*cov[2][2] - 2*z*cov[2][1] + cov[1][1],
	}
}

// insetShift is the CIELAB distance between the centre and the centre of those kept
// blocks that lie twice as far from the edge; it is 0 when these hold fewer than
// minPixels.
func (s *patch) insetShift(centre colorimetry.XYZ) float64 {
	var sum colorimetry.XYZ
	n := 0
	for k, c := range s.grid.cells {
		if s.keep[k] && c.inside >= 2*s.grid.inset {
			sum = sum.Add(s.mean[k].Scale(float64(s.count[k])))
			n += s.count[k]
		}
	}
	if n < minPixels {
		return 0
	}
	inner := sum.Scale(1 / float64(n))
	return colorimetry.DeltaE76(centre.Lab(colorimetry.D50), inner.Lab(colorimetry.D50))
}
