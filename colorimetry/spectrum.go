package colorimetry

// The bands of a spectrum: every 5 nm from 380 to 780 nm.
const (
	Bands     = 81
	FirstBand = 380 // nm
	BandStep  = 5   // nm
)

// Spectrum holds one figure a band: the relative power of a light on any
// scale, or a reflectance from 0 to 1.
type Spectrum [Bands]float64

// Observer returns the CIE 1931 colour-matching functions (2 degrees).
func Observer() (x, y, z Spectrum) {
	for i, row := range observer1931 {
		x[i], y[i], z[i] = row[0], row[1], row[2]
	}
	return x, y, z
}

// XYZ returns the colour of a surface of this reflectance under light, scaled
// so that the perfect white has Y = 1: plain sums over the 5 nm bands (CIE
// 15:2004, 7.1). A light with no power in sight gives a result that is not
// [XYZ.Finite].
func (reflectance Spectrum) XYZ(light Spectrum) XYZ {
	var sum XYZ
	var white float64
	for i, row := range observer1931 {
		power := light[i] * reflectance[i]
		sum = sum.Add(XYZ{row[0], row[1], row[2]}.Scale(power))
		white += light[i] * row[1]
	}
	return XYZ{sum.X / white, sum.Y / white, sum.Z / white}
}

// White returns the colour of the perfect white under the light, at Y = 1.
func (light Spectrum) White() XYZ {
	var perfect Spectrum
	for i := range perfect {
		perfect[i] = 1
	}
	return perfect.XYZ(light)
}
