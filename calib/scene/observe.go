package scene

import (
	"padband/colorimetry"
)

// viewer integrates reflectances under one light with the CIE 1931 observer.
type viewer struct {
	weight [3]Spectrum // light times colour-matching function, so that a perfect white has Y = 1
	white  colorimetry.XYZ
}

// observer is the CIE 1931 observer's three colour-matching functions.
func observer() [3]Spectrum {
	x, y, z := colorimetry.Observer()
	return [3]Spectrum{Spectrum(x), Spectrum(y), Spectrum(z)}
}

// newViewer makes a viewer for a light.
func newViewer(light *Spectrum) (v viewer) {
	functions := observer()
	k := 1 / light.dot(&functions[1])
	for i := range v.weight {
		v.weight[i] = functions[i].product(light).scaled(k)
	}
	v.white = colorimetry.XYZ{X: v.weight[0].sum(), Y: 1, Z: v.weight[2].sum()}
	return v
}

// xyz integrates a reflectance.
func (v *viewer) xyz(r *Spectrum) colorimetry.XYZ {
	return colorimetry.XYZ{X: r.dot(&v.weight[0]), Y: r.dot(&v.weight[1]), Z: r.dot(&v.weight[2])}
}

// lab integrates a reflectance and gives its CIELAB relative to the perfect white.
func (v *viewer) lab(r *Spectrum) colorimetry.Lab { return v.xyz(r).Lab(v.white) }

// linearSRGB is the linear sRGB of a reflectance, the light's white taken to
// sRGB's by Bradford.
func (v *viewer) linearSRGB(r *Spectrum) [3]float64 {
	c := colorimetry.SRGB.FromXYZ.Apply(colorimetry.Adapt(v.xyz(r), v.white, colorimetry.D50))
	return [3]float64{c.X, c.Y, c.Z}
}
