package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// Our small matrices say the same as gonum's: the factor's determinant, what
// solving gives, and the variance of a sum.
func TestSmallMatricesAgainstGonum(t *testing.T) {
	m := newMatrix(6)
	var a, unit block
	a.round(2)
	a.outer(0.7, &[3]float64{1, -2, 0.5})
	unit.round(1)
	b := a
	b.plus(1.5, &unit)
	m.add(0, 0, &a)
	m.add(1, 1, &b)
	across := block{{0.1, 0.2, 0}, {-0.1, 0.3, 0.1}, {0, 0, 0.2}}
	m.add(0, 1, &across)
	for r := range 3 {
		for c := range 3 {
			m.v[(3+c)*6+r] = across[r][c]
		}
	}
	theirs := mat.NewSymDense(6, append([]float64(nil), m.v...))
	var root mat.Cholesky
	require.True(t, root.Factorize(theirs))
	x := []float64{1, 2, 3, -1, 0.5, 4}
	var solved mat.VecDense
	require.NoError(t, root.SolveVecTo(&solved, mat.NewVecDense(6, x)))
	within(t, mat.Inner(mat.NewVecDense(6, x), theirs, mat.NewVecDense(6, x)), m.variance(x), 1e-9, "variance")

	ours := m.clone()
	logDet, ok := ours.cholesky()
	require.True(t, ok)
	within(t, root.LogDet(), logDet, 1e-12, "log determinant")
	got := append([]float64(nil), x...)
	ours.forward(got)
	ours.backward(got)
	for i, v := range got {
		within(t, solved.AtVec(i), v, 1e-12, "solution")
	}
	_, ok = newMatrix(3).cholesky()
	assert.False(t, ok, "nothing but zeros")
	product := a.times([3]float64{1, 2, 3})
	for r := range 3 {
		within(t, a[r][0]+2*a[r][1]+3*a[r][2], product[r], 1e-12, "product")
	}
}
