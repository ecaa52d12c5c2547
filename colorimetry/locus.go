package colorimetry

import "math"

// secondRadiation is c2 of Planck's law in metre kelvin, as CIE 15 gives it
// for colour temperature.
const secondRadiation = 1.4388e-2

// Planckian returns the CIE 1960 chromaticity of a black body of that
// temperature, above 0 K (2 degree observer, sums by 5 nm from 360 to 830 nm).
// It lies within 2e-6 of published sums by 1 nm from 2000 to 10000 K, and
// within 7e-6 of Robertson's five printed decimals from 1667 to 50000 K. A
// temperature at or below 0, or so low that nothing is seen, gives a result that is not
// finite.
func Planckian(kelvin float64) UV {
	var sum XYZ
	for i, row := range wideObserver {
		power := Planck(float64(observerStart+i*BandStep), kelvin)
		sum = sum.Add(XYZ{row[0], row[1], row[2]}.Scale(power))
	}
	return sum.Chromaticity().UV()
}

// Planck is the power that a black body of a temperature in kelvin, above 0, shines
// at a wavelength in nm, above 0, by Planck's law; on a scale of its own.
func Planck(nm, kelvin float64) float64 {
	return math.Pow(nm/560, -5) / math.Expm1(secondRadiation/(nm*1e-9*kelvin))
}

// Daylight returns the chromaticity of the CIE daylight locus (CIE 15:2004,
// 3.1). ok is false outside 4000 to 25000 K, where the locus is not defined.
func Daylight(kelvin float64) (c Chromaticity, ok bool) {
	if !(kelvin >= 4000 && kelvin <= 25000) {
		return Chromaticity{math.NaN(), math.NaN()}, false
	}
	k := 1e3 / kelvin
	x := 0.244063 + k*(0.09911+k*(2.9678-4.6070*k))
	if kelvin > 7000 {
		x = 0.237040 + k*(0.24748+k*(1.9018-2.0064*k))
	}
	return Chromaticity{x, -3*x*x + 2.870*x - 0.275}, true
}
