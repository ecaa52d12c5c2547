package colorimetry

// bradford carries XYZ to the sharpened cone responses of the Bradford
// transform (Lam 1985), as ICC profiles and CSS Color 4 use it.
var bradford = Matrix3{
	{0.8951, 0.2664, -0.1614},
	{-0.7502, 1.7135, 0.0367},
	{0.0389, -0.0685, 1.0296},
}

// bradfordBack is its inverse, worked out once: the matrix is a constant and has one.
var bradfordBack, _ = bradford.Inverse()

// AdaptMatrix returns the Bradford matrix that carries a colour seen against
// the white from to the one that looks alike against the white to. A white
// with a cone response of zero gives entries that are not finite.
func AdaptMatrix(from, to XYZ) Matrix3 {
	f, t := bradford.Apply(from), bradford.Apply(to)
	gain := Matrix3{{t.X / f.X, 0, 0}, {0, t.Y / f.Y, 0}, {0, 0, t.Z / f.Z}}
	return bradfordBack.Mul(gain).Mul(bradford)
}

// Adapt carries c from one white to another by [AdaptMatrix].
func Adapt(c, from, to XYZ) XYZ { return AdaptMatrix(from, to).Apply(c) }
