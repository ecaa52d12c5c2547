package colorimetry

// The ends of the observer, from 360 to 375 and from 785 to 830 nm by 5 nm.
// Surfaces and lamps are summed without them, as CIE's own 5 nm sums are; the
// Planckian locus needs them, or it would lie up to 3e-5 off. From memory of
// the 1 nm table of ISO/CIE 11664-1; a test against the published locus and
// Robertson's table holds them.
var (
	observerBlueEnd = [][3]float64{
		{0.0001299, 0.000003917, 0.0006061},
		{0.0002321, 0.000006965, 0.001086},
		{0.0004149, 0.00001239, 0.001946},
		{0.0007416, 0.00002202, 0.003486},
	}
	observerRedEnd = [][3]float64{
		{2.935326e-5, 1.06e-5, 0},
		{2.067383e-5, 7.4657e-6, 0},
		{1.455977e-5, 5.2578e-6, 0},
		{1.025398e-5, 3.7029e-6, 0},
		{7.221456e-6, 2.6078e-6, 0},
		{5.085868e-6, 1.8366e-6, 0},
		{3.581652e-6, 1.2934e-6, 0},
		{2.522525e-6, 9.1093e-7, 0},
		{1.776509e-6, 6.4153e-7, 0},
		{1.251141e-6, 4.5181e-7, 0},
	}
)

// observerStart is the wavelength of the first row of wideObserver, in nm.
const observerStart = FirstBand - 20

// wideObserver is the observer with both its ends, 360 to 830 nm by 5 nm.
var wideObserver = append(append(append([][3]float64{}, observerBlueEnd...), observer1931[:]...), observerRedEnd...)
