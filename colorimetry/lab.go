package colorimetry

import (
	"math"

	colorful "github.com/lucasb-eyer/go-colorful"
)

// The two exact constants of CIELAB (CIE 15:2004, 8.2.1.1): below labKnee the
// cube root gives way to a straight line of slope labSlope / 116.
const (
	labKnee  = 216.0 / 24389
	labSlope = 24389.0 / 27
)

// labUnit is the private scale of go-colorful, whose L, a and b run from 0 to
// 1 where CIELAB's run from 0 to 100. Nothing else in the program sees it.
const labUnit = 100

// Lab returns the CIELAB colour of c seen against white, both on one scale
// (CIE 15:2004, 8.2.1.1). Components below zero, which noise and wide colour
// spaces bring, stay on the straight line and give finite values, L below
// zero included; a component that is NaN, or a white with a zero, gives a
// result that is not [Lab.Finite].
func (c XYZ) Lab(white XYZ) Lab {
	l, a, b := colorful.XyzToLabWhiteRef(c.X, c.Y, c.Z, white.array())
	return Lab{l * labUnit, a * labUnit, b * labUnit}
}

// XYZ returns the tristimulus value of c on the scale of white. It undoes
// [XYZ.Lab] to about 1e-13 over the whole range, L below zero included.
func (c Lab) XYZ(white XYZ) XYZ {
	x, y, z := colorful.LabToXyzWhiteRef(c.L/labUnit, c.A/labUnit, c.B/labUnit, white.array())
	return XYZ{x, y, z}
}

func (c XYZ) array() [3]float64 { return [3]float64{c.X, c.Y, c.Z} }

// LabJacobian returns the derivative of the CIELAB colour against white with
// respect to X, Y and Z, at c: row i is the gradient of L, A, B in turn. It
// carries a small covariance from XYZ to CIELAB as J C Jᵀ. At the knee it is
// the derivative on the cube root's side.
func LabJacobian(c, white XYZ) Matrix3 {
	x := labRootSlope(c.X/white.X) / white.X
	y := labRootSlope(c.Y/white.Y) / white.Y
	z := labRootSlope(c.Z/white.Z) / white.Z
	return Matrix3{
		{0, 116 * y, 0},
		{500 * x, -500 * y, 0},
		{0, 200 * y, -200 * z},
	}
}

// labRootSlope is the derivative of CIELAB's compressed cube root at t.
func labRootSlope(t float64) float64 {
	if t < labKnee {
		return labSlope / 116
	}
	return 1 / (3 * math.Pow(math.Cbrt(t), 2))
}
