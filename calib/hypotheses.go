package calib

import "math"

// poolSizes gives for each grid the log probability of each size of mismatch
// from its prior and from the other grids of the photo. (The pad's own
// likelihood speaks for itself in posterior.)
func poolSizes(grids []grid, prior []float64) [][]float64 {
	all := make([][]float64, len(grids))
	for j := range grids {
		all[j] = grids[j].evidence()
	}
	out := make([][]float64, len(grids))
	held := heldBack(all, prior)
	for j := range grids {
		out[j] = make([]float64, len(hypotheses))
		for k, h := range hypotheses {
			out[j][k] = prior[k] - held[h.under]
			for i := range grids {
				if i != j {
					out[j][k] += all[i][k]
				}
			}
		}
	}
	return out
}

// trustInFamily is the power to which the evidence of a photo's pads for a family of lamps
// is raised. Pads of one photo err alike, and under a tube a pad may lie close to the
// scale at the wrong place: full trust would find each tube to be daylight.
const trustInFamily = 0.35

// heldBack is the part of the log evidence for each family that is not believed.
func heldBack(evidence [][]float64, prior []float64) (out [lampFamilies]float64) {
	all := append([]float64(nil), prior...)
	for _, pad := range evidence {
		for k, v := range pad {
			all[k] += v
		}
	}
	seen, before := byFamily(all), byFamily(prior)
	for f := range out {
		out[f] = (1 - trustInFamily) * (seen[f] - before[f])
	}
	return out
}

// likelihoods fills in the log likelihood of a colour of one part for each hypothesis.
// fixed is the covariance of all errors but the mismatch. With its root L, fixed = L L',
// and the eigenvalues D of L⁻¹ U L⁻ᵀ, where U is the mismatch of a family at unit size,
// the covariance at size k is L Q (1 + k² D) Q' L', so that one decomposition serves all
// sizes.
func (g *grid) likelihoods(fixed matrix, lab []float64, struck float64, i int) bool {
	root := fixed.clone()
	logDet, ok := root.cholesky()
	if !ok {
		return false
	}
	r := [3]float64{g.scale.pad.lab[0] - lab[0], g.scale.pad.lab[1] - lab[1], g.scale.pad.lab[2] - lab[2]}
	root.forward(r[:])
	for f := range lampFamilies {
		cols := lamps[f].mismatch.root(lab[0], lab[1], lab[2])
		var a block
		for c := range 4 {
			v := [3]float64{cols[0][c], cols[1][c], cols[2][c]}
			root.forward(v[:])
			a.outer(1, &v)
		}
		values, vectors := a.eigen()
		moved := lamps[f].lean.times([3]float64{100 - lab[0], lab[1], lab[2]})
		root.forward(moved[:])
		y, m := vectors.transposed(r), vectors.transposed(moved)
		for s, size := range sizes {
			d2, det := 0.0, 1.0
			for j := range 3 {
				v := 1 + sq(size)*math.Max(values[j], 0)
				d2 += sq(y[j]-size*m[j]) / v
				det *= v
			}
			like := studentT(d2, logDet+math.Log(det), 3, tailDOF)
			g.like[int(f)*len(sizes)+s][i] = logAdd(math.Log(1-contaminated)+like, math.Log(contaminated)+struck)
		}
	}
	return true
}

// transposed is the transposed block times a column.
func (b *block) transposed(v [3]float64) (out [3]float64) {
	for c := range 3 {
		out[c] = b[0][c]*v[0] + b[1][c]*v[1] + b[2][c]*v[2]
	}
	return out
}

// eigen returns the eigenvalues of a symmetric block and its eigenvectors as columns, by
// Jacobi rotations (Golub and Van Loan, Matrix Computations, 8.5; from memory).
func (b block) eigen() (values [3]float64, vectors block) {
	vectors = block{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for range 12 {
		off := sq(b[0][1]) + sq(b[0][2]) + sq(b[1][2])
		if off <= 1e-22*(sq(b[0][0])+sq(b[1][1])+sq(b[2][2])) {
			break
		}
		for _, at := range [3][2]int{{0, 1}, {0, 2}, {1, 2}} {
			b.rotate(&vectors, at[0], at[1])
		}
	}
	return [3]float64{b[0][0], b[1][1], b[2][2]}, vectors
}

// rotate makes the element at row p and column q zero.
func (b *block) rotate(vectors *block, p, q int) {
	if b[p][q] == 0 {
		return
	}
	theta := (b[q][q] - b[p][p]) / (2 * b[p][q])
	t := math.Copysign(1, theta) / (math.Abs(theta) + math.Sqrt(1+sq(theta)))
	c := 1 / math.Sqrt(1+sq(t))
	s := t * c
	for k := range 3 {
		x, y := b[k][p], b[k][q]
		b[k][p], b[k][q] = c*x-s*y, s*x+c*y
	}
	for k := range 3 {
		x, y := b[p][k], b[q][k]
		b[p][k], b[q][k] = c*x-s*y, s*x+c*y
		x, y = vectors[k][p], vectors[k][q]
		vectors[k][p], vectors[k][q] = c*x-s*y, s*x+c*y
	}
}
