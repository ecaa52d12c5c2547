package colorimetry

// Matrix3 is a 3 by 3 matrix, row by row, applied to column vectors.
type Matrix3 [3][3]float64

// Identity3 leaves every vector as it is.
var Identity3 = Matrix3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

// Mul returns m n, the matrix that applies n first and then m.
func (m Matrix3) Mul(n Matrix3) Matrix3 {
	var out Matrix3
	for i := range 3 {
		for j := range 3 {
			out[i][j] = m[i][0]*n[0][j] + m[i][1]*n[1][j] + m[i][2]*n[2][j]
		}
	}
	return out
}

// Transpose swaps rows and columns.
func (m Matrix3) Transpose() Matrix3 {
	return Matrix3{
		{m[0][0], m[1][0], m[2][0]},
		{m[0][1], m[1][1], m[2][1]},
		{m[0][2], m[1][2], m[2][2]},
	}
}

// Vec returns m v.
func (m Matrix3) Vec(v [3]float64) [3]float64 {
	var out [3]float64
	for i := range 3 {
		out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return out
}

// Apply returns m c for a tristimulus value.
func (m Matrix3) Apply(c XYZ) XYZ {
	v := m.Vec(c.array())
	return XYZ{v[0], v[1], v[2]}
}

// Det returns the determinant.
func (m Matrix3) Det() float64 {
	return m[0][0]*m.minor(0, 0) - m[0][1]*m.minor(0, 1) + m[0][2]*m.minor(0, 2)
}

// minor is the determinant of what is left without row i and column j.
func (m Matrix3) minor(i, j int) float64 {
	r, s := (i+1)%3, (i+2)%3
	c, d := (j+1)%3, (j+2)%3
	if r > s {
		r, s = s, r
	}
	if c > d {
		c, d = d, c
	}
	return m[r][c]*m[s][d] - m[r][d]*m[s][c]
}

// Inverse returns the inverse of m. ok is false, and the matrix all zero, when
// m has none: its determinant is zero or not finite, or the division overflows.
func (m Matrix3) Inverse() (inverse Matrix3, ok bool) {
	det := m.Det()
	if !finite(det) {
		return Matrix3{}, false
	}
	for i := range 3 {
		for j := range 3 {
			sign := 1 - 2*float64((i+j)%2)
			inverse[j][i] = sign * m.minor(i, j) / det
			if !finite(inverse[j][i]) { // among them the divisions by a determinant of zero
				return Matrix3{}, false
			}
		}
	}
	return inverse, true
}
