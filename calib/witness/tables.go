package witness

// The tables below are fitted, by expectation and maximisation, to the colours of 5,000
// rendered prints in daylight and as many under other lamps, of other lots, faded or
// filtered (calib/scene, seeds from 700,000,000): each print by one camera in daylight,
// and by the same and others later. They have no outside source. A lot is another press
// that prints the same colours; fading takes 5 CIELAB on average, of all inks or of
// magenta or yellow most; filters change saturation, contrast, tone or hue. The phones of
// the scenes leave up to a third of a lamp's colour in the photo, which makes the
// recorded white a witness too (common practice, no source).

// coefficients are those of a constant, of depth, of a* and of b*, each for L*, a* and b*,
// and the colour of the recorded white.
const coefficients = 14

// camera is how the colours of a print change from the photo that is remembered to
// another in daylight: roots are the columns of the root of the coefficients' covariance,
// and rest the variance of what each swatch has for itself, in L*, a* and b*.
type camera struct {
	rest  [3]float64
	roots [][coefficients]float64
}

// change is how they change otherwise, on top of that: the coefficients' mean too.
type change struct {
	kind  Kind
	share float64 // logarithm of the weight
	mean  [coefficients]float64
	rest  [3]float64
	roots [][coefficients]float64
}

// otherCamera is any other phone.
var otherCamera = camera{rest: [3]float64{0.13, 0.59, 0.38}, roots: [][coefficients]float64{
	{7.47, -1.72, -0.43, -1.07, 0.84, 0.04, -0.1, 0.58, -0.03, 0, -0.3, 1.28, 0.04, 0.08},
	{0, 4.24, -1.79, -0.05, -0.7, 0.36, 0.14, 0.27, 0.29, 0.03, -0.33, -0.16, 0.06, -0.02},
	{0, 0, 6.26, -0.01, -0.23, -1.16, 0.12, -0.13, 0.37, -0.13, 0.45, -0.76, 0.04, 0.13},
	{0, 0, 0, 4.02, 0.09, 0.2, 0.01, -2.8, 0.2, 0.08, -0.05, -2.62, 0, -0.08},
	{0, 0, 0, 0, 4.79, -2.25, 0, 0.63, -0.19, 0.29, 0.59, -1.31, 0.25, 0.03},
	{0, 0, 0, 0, 0, 2.84, 0.11, 0.37, 0.41, -0.06, 0.32, 1.39, 0.05, -0.48},
	{0, 0, 0, 0, 0, 0, 0.94, -0.6, 2.47, 0.51, -1.17, 0.39, 0.02, -0.49},
	{0, 0, 0, 0, 0, 0, 0, 4.21, -0.5, -0.01, 0.93, 2.58, -0.25, -0.37},
	{0, 0, 0, 0, 0, 0, 0, 0, 2.18, 0.34, -1.42, 1.31, -0.02, 0.45},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0.7, -2.26, 0.72, 0.11, 0.25},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 2.64, -0.71, -0.04, -0.56},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 2.62, -0.07, -0.35},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.86, 0.76},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1.69},
}}

// sameCamera is the phone of the photo that is remembered.
var sameCamera = camera{rest: [3]float64{0.1, 0.3, 0.23}, roots: [][coefficients]float64{
	{6.56, -0.5, 0.05, -0.54, 0.26, -0.03, -0.05, 0.39, -0.03, 0.02, -0.15, 0.56, -0.03, 0.03},
	{0, 4.15, -3, 0.02, -0.46, 0.02, 0.18, -0.21, 0.57, 0.21, -0.91, -0.3, 0.12, 0.25},
	{0, 0, 5.08, -0.49, 0.09, -0.95, 0.15, 0.47, 0.2, 0.02, 0.36, -0.04, 0.01, -0.01},
	{0, 0, 0, 2.25, -0.26, 0.36, -0.1, -1.04, -0.05, 0.12, -0.1, -0.91, 0.03, -0.06},
	{0, 0, 0, 0, 2.36, -1.13, 0.2, -0.87, 0.73, 0.3, -0.55, -1.04, 0.53, 0.33},
	{0, 0, 0, 0, 0, 1.9, 0.07, 0.2, -0.16, -0.09, 0.69, 0.97, 0, -0.7},
	{0, 0, 0, 0, 0, 0, 0.79, 0.26, 1.72, 0.43, -0.18, 0.56, -0.05, -0.81},
	{0, 0, 0, 0, 0, 0, 0, 1.88, -0.18, -0.01, 0.95, 0.63, -0.31, -0.56},
	{0, 0, 0, 0, 0, 0, 0, 0, 1.01, 0.32, -1.36, 0.44, -0.02, 0.35},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0.5, -1.45, 0.39, 0.09, 0.21},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1.56, -0.07, -0.05, -0.75},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1.34, -0.22, -0.56},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.84, 0.72},
	{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1.65},
}}

// anything is what no smooth change explains, as colours inverted, or swatches of another
// chart.
var anything = camera{rest: [3]float64{225, 225, 225}}

// wildShare is the logarithm of its weight.
const wildShare = -3

// changes are the other lamps (white LED, tubes, bulbs), lots, fading and filters.
var changes = []change{
	{kind: OtherLight, rest: [3]float64{0.03, 0.28, 0.3},
		mean: [coefficients]float64{-0.09, 0.96, 1.01, -0.23, 2.9, 0.86, 1.76, -3.02, 2.99, 1.48, -2.65, 4.13, 0.32, -4.48},
		roots: [][coefficients]float64{
			{-0.11, 0.21, -1.07, 0.42, -0.49, -0.44, -0.52, 4.75, -1.87, -0.81, 3.51, -4.41, 0.21, 0.74},
			{0.13, -0.36, 0.8, 0.01, 0.46, 0.76, -1.14, 1.2, -4.42, -0.35, 0.72, 3.56, 0.06, -0.23},
			{0.39, 0.33, 1.71, -0.25, -0.14, 0.19, 0.76, 1.71, 1.48, 0.11, 0.76, 0.78, 0.02, -2.97},
			{-0.4, -0.43, 0.35, -0.97, -3, -1.74, 0.08, 1.32, 0.42, 0.17, -0.86, 1.04, -0.19, 1.27},
		}},
	{kind: OtherLight, rest: [3]float64{0.02, 0.19, 0.24},
		mean: [coefficients]float64{-0.34, 0.82, 1.07, -0.4, 1.72, 1.08, 1.01, -3.76, 0.55, 1.52, -3.84, 5.72, 0.05, -3.82},
		roots: [][coefficients]float64{
			{-0.25, 0.34, -0.45, 0.06, -0.03, -0.32, -0.78, 4.85, -3.44, -0.67, 2.06, -0.78, 0.07, 0.11},
			{-0.41, -0.14, 1.83, 0.06, 0.64, 0.53, 0.21, 0.85, -0.78, 0.48, -0.87, 4.25, -0.17, -2.33},
			{0.56, 1.05, -3.62, 0.33, -0.49, 1.82, 0.04, 0.72, 0.25, 0.19, -1.35, 1.3, -0.01, 0.37},
			{0.52, 0.78, -1.01, 0.07, 1.34, -0.16, -0.33, -2.08, -2, -0.35, 1.11, 0.1, 0.14, -1.03},
		}},
	{kind: OtherLight, rest: [3]float64{0.05, 0.63, 0.55},
		mean: [coefficients]float64{-0.02, 2.22, -0.07, 0.4, 5.32, -0.43, 2.69, -1.18, 5.82, 1.33, -0.21, -1.46, 0.63, -5.88},
		roots: [][coefficients]float64{
			{-0.4, 2.71, -2.23, 0.37, 2.51, -0.2, -1.4, 3.46, -6, -0.75, 3.04, -1.66, 0.6, 0.89},
			{1.14, -4.8, 2.33, 0, 1.77, 0.05, -0.54, 1.07, -1.88, -0.31, 0.65, 1.59, 0.1, -1.22},
			{-0.69, -0.57, -0.05, -0.61, -4.54, -1.1, 0.16, 3.44, -0.09, -0.04, 0.81, 1.58, 0.11, 0.47},
			{0.6, -2.2, -0.44, -0.56, -0.29, -1.1, 0.08, -0.15, 0.21, -0.06, -0.12, -3, 0.06, 3.46},
		}},
	{kind: OtherPrint, rest: [3]float64{0.25, 0.33, 0.39}},
	{kind: OtherPrint,
		mean: [coefficients]float64{0.6, -0.51, -0.51, 5.58, -1.9, -0.83, -0.05, -3.88, 0, -0.02, 0.23, -4.76, -0.06, 0},
		roots: [][coefficients]float64{
			{-0.14, -0.41, 0.63, 1.8, -3.86, 7.06, 0.09, -0.71, 0.15, 0.05, -0.26, 1.53, 0.02, -0.01},
			{-0.62, -0.15, -0.09, -2.03, -1.5, -0.38, 0.22, 1.83, 0.38, 0.06, 0.23, 1.12, 0, -0.22},
			{0.57, -0.13, 0.28, 0.58, -0.73, -0.46, 0.1, 0.33, -0.05, 0.13, 0.1, -0.37, 0.05, -0.23},
		}},
	{kind: Altered, share: -1, rest: [3]float64{0.62, 4.29, 2.23},
		roots: [][coefficients]float64{
			{-5.82, 2.74, 3.02, 4.22, -1.32, -3.71, 3.4, -18.81, 7.64, 1.06, -6.34, -14.57, 0.12, -0.39},
			{7.19, -5.52, -3.14, -3.27, 3.18, 3.19, 1.85, -4.22, 7.03, 1.69, -7.91, 6.51, 0.11, 0.27},
			{-8.77, 6.44, 2.66, 1.89, -2.01, -0.15, 1.74, 3.64, 6.24, 1.18, -4.95, 7.22, 0.01, 0.83},
			{0.32, -3.96, 8.67, -1.5, 1.65, -3.64, 0.41, 0.76, 0.58, 0.19, 0.18, 0.62, -0.12, -0.08},
			{-0.88, 1.67, -2.1, -6.42, 1.06, -3.77, 0.42, 0.88, 0.38, -0.1, -0.69, -1.34, -0.02, 0.95},
			{-1.8, -0.16, 1.74, -3.84, -1.23, 4.95, 0.52, -1.43, -0.3, -0.35, 1.38, -0.02, 0.04, -0.3},
			{0.63, -1.39, -0.35, -0.28, -4.49, -0.91, 0.42, 0.45, 0.98, -0.09, 0.26, -0.13, 0, 0.75},
		}},
}
