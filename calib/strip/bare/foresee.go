package bare

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"padband/colorimetry"
)

// The plane through the nodes about a place. Figures are natural log units.
const (
	planeReach = 3.2 // pitches from the place
	slopeSD    = 0.7 // of the plane's slope beforehand, over half the photo's diagonal
	nodeSD     = 0.004
	hueSD      = 0.002 // of X/Y and Z/Y
	hueSlope   = 0.15  // of their slopes, as a share
	farWeight  = 3.0   // a node at the plane's reach has so much more variance
)

// foresee is what the nodes of one material about a place say of it, and with what
// standard deviation: a plane fitted to them, whose slope has a prior.
func (g *grower) foresee(at colorimetry.Point, c int, material string) (mean, sd float64) {
	noise, slope := nodeSD, slopeSD/g.half
	if c > 0 {
		noise, slope = hueSD, hueSlope*slope
	}
	reach := planeReach * g.pitch
	// In units of the prior, x is a node's place: 1, and its distances times the slope's spread.
	k := mat.NewSymDense(3, []float64{1e-6, 0, 0, 0, 1, 0, 0, 0, 1})
	sums := mat.NewVecDense(3, nil)
	for _, n := range g.nodes {
		d := n.at.Distance(at) / reach
		if d > 1 || n.material != material {
			continue
		}
		w := 1 / (noise * noise * (1 + farWeight*d*d))
		x := mat.NewVecDense(3, []float64{1, (n.at.X - at.X) * slope, (n.at.Y - at.Y) * slope})
		k.SymRankOne(k, w, x)
		sums.AddScaledVec(sums, w*n.over[c], x)
	}
	var chol mat.Cholesky
	if !chol.Factorize(k) {
		return 0, math.Inf(1)
	}
	var plane mat.VecDense
	_ = chol.SolveVecTo(&plane, sums)
	var inverse mat.SymDense
	_ = chol.InverseTo(&inverse)
	return plane.AtVec(0), math.Sqrt(inverse.At(0, 0))
}
