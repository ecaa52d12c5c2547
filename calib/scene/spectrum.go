// Package scene renders photos of test strips and charts from spectra, so that the
// truth is known. Start at [Draw] for a random scene or [Demo] for the demonstration,
// then call [Render]. Lamps and observer come from the CIE tables, pads are
// Kubelka-Munk absorbers, swatches are inks that match the pads under D50, and the
// camera has its own sensitivities, noise, white balance and tone curve. The package
// reads no photos: it makes the demonstration photos and serves the tests and the
// study of the band, whose table stands in README.md beside this file.
package scene

import (
	"math"

	"padband/colorimetry"
)

// Wavelengths of a [Spectrum].
const (
	firstNM = colorimetry.FirstBand
	stepNM  = colorimetry.BandStep
	bands   = colorimetry.Bands
)

// Spectrum is a quantity at 380, 385, ... 780 nm: a reflectance (0-1), a
// relative power, a sensitivity or an absorption over scattering (K/S).
type Spectrum colorimetry.Spectrum

// wavelength returns the wavelength in nanometres of index i.
func wavelength(i int) float64 { return firstNM + stepNM*float64(i) }

// flat is the spectrum of one value everywhere.
func flat(v float64) (s Spectrum) {
	for i := range s {
		s[i] = v
	}
	return s
}

// plus returns s + k t.
func (s Spectrum) plus(k float64, t *Spectrum) Spectrum {
	for i := range s {
		s[i] += k * t[i]
	}
	return s
}

// scaled returns k s.
func (s Spectrum) scaled(k float64) Spectrum {
	for i := range s {
		s[i] *= k
	}
	return s
}

// dot returns the sum of the products.
func (s *Spectrum) dot(t *Spectrum) float64 {
	sum := 0.0
	for i := range s {
		sum += s[i] * t[i]
	}
	return sum
}

// product returns s t, wavelength by wavelength.
func (s Spectrum) product(t *Spectrum) Spectrum {
	for i := range s {
		s[i] *= t[i]
	}
	return s
}

// lobe is one absorption or sensitivity band: a Gaussian whose standard
// deviations (nm) on the short and the long side of the peak differ.
type lobe struct{ peak, short, long, height float64 }

// at returns the band's height at a wavelength.
func (l lobe) at(nm float64) float64 {
	w := l.long
	if nm < l.peak {
		w = l.short
	}
	d := (nm - l.peak) / w
	return l.height * math.Exp(-d*d/2)
}

// lobes sums bands into a spectrum.
func lobes(ls ...lobe) (s Spectrum) {
	for i := range s {
		for _, l := range ls {
			s[i] += l.at(wavelength(i))
		}
	}
	return s
}

// logistic is the smooth step from 0 to 1 about 0.
func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// edge is a smooth step at nm, rising when width (nm) is positive, falling when negative.
func edge(nm, width, height float64) (s Spectrum) {
	for i := range s {
		s[i] = height * logistic((wavelength(i)-nm)/width)
	}
	return s
}

// absorption returns the Kubelka-Munk ratio K/S of an opaque layer of
// reflectance r (0 < r <= 1): (1-r)^2 / (2r).
// Source: P. Kubelka, F. Munk, Z. tech. Phys. 12 (1931) 593.
func absorption(r float64) float64 { return (1 - r) * (1 - r) / (2 * r) }

// reflectance is the inverse of absorption, for q >= 0.
func reflectance(q float64) float64 { return 1 + q - math.Sqrt(q*q+2*q) }

// opaque turns a K/S spectrum into the reflectance of an opaque layer.
func (s Spectrum) opaque() Spectrum {
	for i := range s {
		s[i] = reflectance(math.Max(s[i], 0))
	}
	return s
}

// ratio turns a reflectance into K/S.
func (s Spectrum) ratio() Spectrum {
	for i := range s {
		s[i] = absorption(s[i])
	}
	return s
}

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
