package scene

import (
	"math"

	"padband/colorimetry"
)

// viewer integrates reflectances under one light with the CIE 1931 observer.
type viewer struct {
	weight [3]Spectrum // light times colour-matching function, so that a perfect white has Y = 1
	white  colorimetry.XYZ
}

// newViewer makes a viewer for a light.
func newViewer(light *Spectrum) (v viewer, err error) {
	t, err := cie()
	if err != nil {
		return v, err
	}
	k := 1 / light.dot(&t.observer[1])
	for i := range v.weight {
		v.weight[i] = t.observer[i].product(light).scaled(k)
	}
	v.white = colorimetry.XYZ{X: v.weight[0].sum(), Y: 1, Z: v.weight[2].sum()}
	return v, nil
}

// xyz integrates a reflectance.
func (v *viewer) xyz(r *Spectrum) colorimetry.XYZ {
	return colorimetry.XYZ{X: r.dot(&v.weight[0]), Y: r.dot(&v.weight[1]), Z: r.dot(&v.weight[2])}
}

// lab integrates a reflectance and gives its CIELAB relative to the perfect white.
func (v *viewer) lab(r *Spectrum) colorimetry.Lab { return labOf(v.xyz(r), v.white) }

// labOf is CIELAB relative to a white. Source: CIE 15, ISO/CIE 11664-4.
func labOf(c, w colorimetry.XYZ) colorimetry.Lab {
	x, y, z := labF(c.X/w.X), labF(c.Y/w.Y), labF(c.Z/w.Z)
	return colorimetry.Lab{L: 116*y - 16, A: 500 * (x - y), B: 200 * (y - z)}
}

func labF(t float64) float64 {
	if t > 216.0/24389 {
		return math.Cbrt(t)
	}
	return (24389.0/27*t + 16) / 116
}

// labSlope is the derivative of labF.
func labSlope(t float64) float64 {
	if t > 216.0/24389 {
		c := math.Cbrt(t)
		return 1 / (3 * c * c)
	}
	return 24389.0 / 27 / 116
}

// distance is the plain CIELAB distance (CIE76).
func distance(a, b colorimetry.Lab) float64 {
	return math.Sqrt((a.L-b.L)*(a.L-b.L) + (a.A-b.A)*(a.A-b.A) + (a.B-b.B)*(a.B-b.B))
}
