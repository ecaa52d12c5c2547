package photo

import (
	"math"

	"padband/colorimetry"
)

const (
	splitRounds = 8    // of moving the two colours; they settle in three or four
	splitLeast  = 4.0  // CIELAB distance of the two colours, below which none are told apart
	splitEven   = 0.8  // CIELAB spread below which there are no two colours: a tenth that is 4 off makes 1.2
	splitSmall  = 0.03 // share of the blocks below which a side is dust
)

// split parts the blocks of a region into two groups by their colours alone, and says
// how cleanly the groups differ and lie apart in the region. It is the zero value for
// a region of one colour. Colours are compared in CIELAB over the photo's own white,
// which is near enough to find the groups.
func (s *patch) split(centre colorimetry.XYZ) (out colorimetry.Split) {
	if s.even(centre) {
		return out
	}
	xyz, lab := s.blockColours()
	second, ok := twoGroups(lab)
	if !ok {
		return out
	}
	sides := s.sides(xyz, lab, second)
	if !sides.ok {
		return out
	}
	c := placeOf(centre)
	near, far := 0, 1
	if distance2(c, sides.mean[1]) < distance2(c, sides.mean[0]) {
		near, far = 1, 0
	}
	out.Own, out.Other = sides.xyz[near], sides.xyz[far]
	out.Share = float64(sides.count[far]) / float64(len(lab))
	out.Clean, out.Together = sides.clean, sides.together
	return out
}

// even tells that the blocks' colours lie close together, by the derivative of CIELAB
// at the centre: most patches are even, and need no more of a look.
func (s *patch) even(centre colorimetry.XYZ) bool {
	slope := func(v, white float64) float64 { return math.Pow(math.Max(v/white, 0.01), -2.0/3) / 3 / white }
	fx, fy, fz := slope(centre.X, colorimetry.D50.X), slope(centre.Y, 1), slope(centre.Z, colorimetry.D50.Z)
	var sum, sum2 labPlace
	for k, c := range s.mean {
		if 2*s.count[k] <= s.area {
			return false
		}
		d := c.Sub(centre)
		x, y, z := fx*d.X, fy*d.Y, fz*d.Z
		for j, v := range [3]float64{116 * y, 500 * (x - y), 200 * (y - z)} {
			sum[j], sum2[j] = sum[j]+v, sum2[j]+v*v
		}
	}
	n, spread := float64(len(s.mean)), 0.0
	for j := range sum {
		spread += sum2[j]/n - sq(sum[j]/n)
	}
	return spread < sq(splitEven)
}

type labPlace [3]float64

func placeOf(c colorimetry.XYZ) labPlace {
	l := c.Lab(colorimetry.D50)
	return labPlace{l.L, l.A, l.B}
}

func distance2(a, b labPlace) float64 { return sq(a[0]-b[0]) + sq(a[1]-b[1]) + sq(a[2]-b[2]) }

// blockColours are the colours of all blocks. Where most of a block is left out as
// sparkle, these are its own colour: bright paper beside a dark pad looks like sparkle.
func (s *patch) blockColours() (xyz []colorimetry.XYZ, places []labPlace) {
	xyz, places = make([]colorimetry.XYZ, len(s.mean)), make([]labPlace, len(s.mean))
	for k, c := range s.mean {
		if 2*s.count[k] <= s.area {
			c = colorimetry.XYZ{}
			for _, v := range s.xyz[k*s.area : (k+1)*s.area] {
				c = c.Add(v.Scale(1 / float64(s.area)))
			}
		}
		xyz[k], places[k] = c, placeOf(c)
	}
	return xyz, places
}

// twoGroups finds the two colours about which the colours gather (Lloyd's two means,
// begun at the two ends of the longest axis), and says which colours belong to the
// second.
func twoGroups(lab []labPlace) (second []bool, ok bool) {
	a, b, ok := farthest(lab)
	if !ok || distance2(a, b) < sq(splitLeast) {
		return nil, false
	}
	second = make([]bool, len(lab))
	for range splitRounds {
		var sum [2]labPlace
		var n [2]float64
		changed := false
		for i, c := range lab {
			is := distance2(c, b) < distance2(c, a)
			changed = changed || is != second[i]
			second[i] = is
			g := 0
			if is {
				g = 1
			}
			n[g]++
			for j := range c {
				sum[g][j] += c[j]
			}
		}
		if n[0] == 0 || n[1] == 0 {
			return nil, false
		}
		for j := range a {
			a[j], b[j] = sum[0][j]/n[0], sum[1][j]/n[1]
		}
		if !changed {
			break
		}
	}
	return second, distance2(a, b) >= sq(splitLeast)
}

// farthest are the colours farthest apart along that one of the three axes on which the
// colours reach furthest.
func farthest(lab []labPlace) (a, b labPlace, ok bool) {
	if len(lab) < 2 {
		return a, b, false
	}
	most := -1.0
	for j := range a {
		lo, hi := 0, 0
		for i := range lab {
			if lab[i][j] < lab[lo][j] {
				lo = i
			}
			if lab[i][j] > lab[hi][j] {
				hi = i
			}
		}
		if d := lab[hi][j] - lab[lo][j]; d > most {
			most, a, b = d, lab[lo], lab[hi]
		}
	}
	return a, b, true
}

// twoSides are the two groups of blocks as they lie in the region.
type twoSides struct {
	mean     [2]labPlace
	xyz      [2]colorimetry.XYZ
	count    [2]int
	clean    float64 // share of the variance that the two colours explain
	together float64 // share of the pairs of neighbours that belong to one group
	ok       bool
}

// sides looks at the groups away from the line where they meet: blocks with a
// neighbour of the other group hold a mixture.
func (s *patch) sides(xyz []colorimetry.XYZ, lab []labPlace, second []bool) (out twoSides) {
	mixed, same, pairs := s.meeting(second)
	var inner, all [2][]int
	for k, is := range second {
		g := 0
		if is {
			g = 1
		}
		all[g] = append(all[g], k)
		if !mixed[k] {
			inner[g] = append(inner[g], k)
		}
	}
	least := splitSmall * float64(len(lab))
	if pairs == 0 || float64(min(len(all[0]), len(all[1]))) < least {
		return out
	}
	for g := range inner {
		if len(inner[g]) == 0 { // a thin side is all mixture
			inner[g] = all[g]
		}
		out.count[g] = len(all[g])
		out.xyz[g], out.mean[g] = meansOf(inner[g], xyz, lab)
	}
	out.clean, out.together, out.ok = explained(lab, inner, out.mean), float64(same)/float64(pairs), true
	return out
}

// meansOf are the mean colours of some blocks.
func meansOf(blocks []int, xyz []colorimetry.XYZ, lab []labPlace) (c colorimetry.XYZ, place labPlace) {
	share := 1 / float64(len(blocks))
	for _, k := range blocks {
		c = c.Add(xyz[k].Scale(share))
		for j := range place {
			place[j] += lab[k][j] * share
		}
	}
	return c, place
}

// meeting finds the blocks that have a neighbour of the other group, and counts the
// pairs of neighbours and those of one group. Neighbours lie in one row or column. The
// cells run row by row.
func (s *patch) meeting(second []bool) (mixed []bool, same, pairs int) {
	cells := s.grid.cells
	mixed = make([]bool, len(cells))
	for _, step := range [2][2]int{{1, 0}, {0, 1}} {
		j := 0
		for k, c := range cells {
			col, row := c.col+step[0], c.row+step[1]
			for j < len(cells) && (cells[j].row < row || cells[j].row == row && cells[j].col < col) {
				j++
			}
			if j == len(cells) || cells[j].row != row || cells[j].col != col {
				continue
			}
			pairs++
			if second[k] == second[j] {
				same++
			} else {
				mixed[k], mixed[j] = true, true
			}
		}
	}
	return mixed, same, pairs
}

// explained is the share of the variance of the colours, both groups counted alike,
// that lies between the two groups.
func explained(lab []labPlace, inner [2][]int, mean [2]labPlace) float64 {
	within := 0.0
	for g := range inner {
		sum := 0.0
		for _, i := range inner[g] {
			sum += distance2(lab[i], mean[g])
		}
		within += sum / float64(len(inner[g])) / 2
	}
	between := distance2(mean[0], mean[1]) / 4
	return between / math.Max(between+within, 1e-12)
}
