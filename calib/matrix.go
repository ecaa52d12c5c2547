package calib

import "math"

// A colour has three coordinates, and a strip of k parts has k colours, so that
// every matrix of the error model is either 3 x 3 or made of k x k such blocks.
// Both are written here and not taken from a library: they are small (k is 1 for
// nearly every strip), a reading factorises a thousand of them, and a library's
// matrices cost an allocation and bounds checks on every element read. Compare
// BenchmarkBandOfOnePad with and without. The covariance of the light, which
// grows with the number of marks, is gonum's.

// block is a 3 x 3 matrix in colour space: rows L*, a*, b*; columns the same, or
// X, Y, Z, or (ln Y, ln X/Y, ln Z/Y) of the light.
type block [3][3]float64

// times is the block times a column.
func (b *block) times(v [3]float64) (out [3]float64) {
	for r := range 3 {
		out[r] = b[r][0]*v[0] + b[r][1]*v[1] + b[r][2]*v[2]
	}
	return out
}

// plus adds k times another block.
func (b *block) plus(k float64, o *block) {
	for r := range 3 {
		for c := range 3 {
			b[r][c] += k * o[r][c]
		}
	}
}

// outer adds k v v', a variance k along v.
func (b *block) outer(k float64, v *[3]float64) {
	for r := range 3 {
		for c := range 3 {
			b[r][c] += k * v[r] * v[c]
		}
	}
}

// round adds a variance that is the same in all directions.
func (b *block) round(variance float64) {
	for r := range 3 {
		b[r][r] += variance
	}
}

// matrix is a square matrix of n rows, 3 a part, row by row.
type matrix struct {
	n int
	v []float64
}

func newMatrix(n int) matrix { return matrix{n, make([]float64, n*n)} }

func (m matrix) clone() matrix { return matrix{m.n, append([]float64(nil), m.v...)} }

// add adds a block at the rows of part p and the columns of part q.
func (m matrix) add(p, q int, b *block) {
	for r := range 3 {
		at := (3*p+r)*m.n + 3*q
		row := m.v[at : at+3 : at+3]
		for c := range 3 {
			row[c] += b[r][c]
		}
	}
}

// plus adds another matrix.
func (m matrix) plus(o matrix) {
	for i, v := range o.v {
		m.v[i] += v
	}
}

// variance is w' m w, the variance that a covariance m gives to the sum w'x.
func (m matrix) variance(w []float64) float64 {
	v := 0.0
	for r := range m.n {
		for c := range m.n {
			v += w[r] * m.v[r*m.n+c] * w[c]
		}
	}
	return v
}

// spread is the standard deviation that a covariance gives to the sum w'x.
func (m matrix) spread(w []float64) float64 { return math.Sqrt(math.Max(m.variance(w), 0)) }

// cholesky factorises a symmetric matrix in place, into the lower triangle L of
// L L', and returns the logarithm of its determinant; false when it is not
// positive definite.
func (m matrix) cholesky() (logDet float64, ok bool) {
	a, n := m.v, m.n
	det := 1.0
	for j := range n {
		d := a[j*n+j]
		for k := range j {
			d -= sq(a[j*n+k])
		}
		if !(d > 0) {
			return 0, false
		}
		d = math.Sqrt(d)
		a[j*n+j] = d
		det *= d
		for i := j + 1; i < n; i++ {
			v := a[i*n+j]
			for k := range j {
				v -= a[i*n+k] * a[j*n+k]
			}
			a[i*n+j] = v / d
		}
	}
	return 2 * math.Log(det), true
}

// forward solves L x = r in place for a matrix that cholesky has factorised.
func (m matrix) forward(r []float64) {
	a, n := m.v, m.n
	for i := range n {
		v := r[i]
		for k := range i {
			v -= a[i*n+k] * r[k]
		}
		r[i] = v / a[i*n+i]
	}
}

// backward solves L' x = r in place for a matrix that cholesky has factorised.
func (m matrix) backward(r []float64) {
	a, n := m.v, m.n
	for i := n - 1; i >= 0; i-- {
		v := r[i]
		for k := i + 1; k < n; k++ {
			v -= a[k*n+i] * r[k]
		}
		r[i] = v / a[i*n+i]
	}
}
