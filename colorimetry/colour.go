// Package colorimetry holds colour: tristimulus values, CIELAB, colour
// differences, chromatic adaptation and colour temperature, and the two types
// that carry colour through the program, [Region] and [Sample]. It knows
// nothing of strips or charts.
package colorimetry

// XYZ is a tristimulus value on the scale where a perfect white under the
// reference light has Y = 1. Unless a function says otherwise it is relative
// to [D50]. Values may be negative or above 1: nothing here clips.
type XYZ struct{ X, Y, Z float64 }

// Lab is a CIELAB colour: L from 0 (black) to 100 (the white it is relative
// to), A and B unbounded and 0 for greys.
type Lab struct{ L, A, B float64 }

// D50 is the one reference white of this program: the CIE D50 chromaticity
// x = 0.3457, y = 0.3585 at Y = 1.
var D50 = XYZ{0.3457 / 0.3585, 1, (1 - 0.3457 - 0.3585) / 0.3585}
