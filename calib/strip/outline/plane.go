package outline

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"padband/colorimetry"
)

// plane carries the places of a flat arrangement to the picture.
type plane colorimetry.Matrix3

// apply returns where a place goes; NaN at the horizon and beyond.
func (p plane) apply(q colorimetry.Point) colorimetry.Point {
	v := colorimetry.Matrix3(p).Vec([3]float64{q.X, q.Y, 1})
	if !(v[2] > 0) {
		return colorimetry.Point{X: math.NaN(), Y: math.NaN()}
	}
	return colorimetry.Point{X: v[0] / v[2], Y: v[1] / v[2]}
}

// carried is a place of the arrangement in the picture, its sides times a factor.
func (p plane) carried(q spot, factor float64) spot {
	out := spot{patch: -1, mid: p.apply(q.mid)}
	for i, c := range q.quad {
		c = p.apply(c)
		out.quad[i] = colorimetry.Point{X: out.mid.X + factor*(c.X-out.mid.X), Y: out.mid.Y + factor*(c.Y-out.mid.Y)}
	}
	out.area = areaOf(out.quad)
	return out
}

// areaOf is the area within four corners, below 0 where they run anticlockwise.
func areaOf(c [4]colorimetry.Point) float64 {
	return ((c[2].X-c[0].X)*(c[3].Y-c[1].Y) - (c[3].X-c[1].X)*(c[2].Y-c[0].Y)) / 2
}

// through is the map of parallels to parallels that carries three places to three
// others; ok is false where they lie on a line.
func through(from, to [3]colorimetry.Point) (plane, bool) {
	frame := func(p [3]colorimetry.Point) colorimetry.Matrix3 {
		return colorimetry.Matrix3{
			{p[1].X - p[0].X, p[2].X - p[0].X, p[0].X}, {p[1].Y - p[0].Y, p[2].Y - p[0].Y, p[0].Y}, {0, 0, 1},
		}
	}
	back, ok := frame(from).Inverse()
	return plane(frame(to).Mul(back)), ok
}

// How far a plane may be from what it was thought to be before it is fitted, as
// deviations, and how exactly patches lie, both in units of the spread of the places.
const (
	mayLean   = 0.3
	mayTilt   = 0.2
	placedTo  = 0.02
	fewPlaces = 2
)

// mended is the plane that carries places nearest to where they were seen, by least
// squares. Where they say little, as all in one line, it stays as it was.
func (p plane) mended(from, to []colorimetry.Point) plane {
	if len(from) < fewPlaces {
		return p
	}
	var mid colorimetry.Point
	n := float64(len(from))
	for _, q := range to {
		mid.X, mid.Y = mid.X+q.X/n, mid.Y+q.Y/n
	}
	size := 0.0
	for _, q := range to {
		size += q.Distance(mid) / n
	}
	own := func(q colorimetry.Point) (x, y float64) { return (q.X - mid.X) / size, (q.Y - mid.Y) / size }
	normal, right := mat.NewSymDense(8, nil), mat.NewVecDense(8, nil)
	add := func(row [8]float64, want float64) {
		for i, v := range row {
			for j := i; j < 8 && v != 0; j++ {
				normal.SetSym(i, j, normal.At(i, j)+v*row[j])
			}
			right.SetVec(i, right.AtVec(i)+v*want)
		}
	}
	for i := range from {
		x, y := own(p.apply(from[i]))
		u, v := own(to[i])
		add([8]float64{x, y, 1, 0, 0, 0, -x * u, -y * u}, u-x)
		add([8]float64{0, 0, 0, x, y, 1, -x * v, -y * v}, v-y)
	}
	for i, may := range [8]float64{mayLean, mayLean, 1, mayLean, mayLean, 1, mayTilt, mayTilt} {
		var row [8]float64
		row[i] = placedTo / may
		add(row, 0)
	}
	var chol mat.Cholesky
	var d mat.VecDense
	if !chol.Factorize(normal) || chol.SolveVecTo(&d, right) != nil {
		return p
	}
	at := func(i int) float64 { return d.AtVec(i) }
	step := colorimetry.Matrix3{{1 + at(0), at(1), at(2)}, {at(3), 1 + at(4), at(5)}, {at(6), at(7), 1}}
	in := colorimetry.Matrix3{{1 / size, 0, -mid.X / size}, {0, 1 / size, -mid.Y / size}, {0, 0, 1}}
	out := colorimetry.Matrix3{{size, 0, mid.X}, {0, size, mid.Y}, {0, 0, 1}}
	return plane(out.Mul(step).Mul(in).Mul(colorimetry.Matrix3(p)))
}
