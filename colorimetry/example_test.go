package colorimetry_test

import (
	"fmt"

	"padband/colorimetry"
)

// The colour difference of the first pair that Sharma, Wu and Dalal (2005) publish
// for testing programs: 2.0425.
func ExampleDeltaE2000() {
	a := colorimetry.Lab{L: 50, A: 2.6772, B: -79.7751}
	b := colorimetry.Lab{L: 50, A: 0, B: -82.7485}
	fmt.Printf("%.4f\n", colorimetry.DeltaE2000(a, b))
	// Output: 2.0425
}

// A colour of a photo, seen over the white beside it: white paper in warm light is
// white, though its red is stronger than its blue.
func ExampleXYZ_Lab() {
	paper := colorimetry.SRGB.XYZ(colorimetry.RGB{R: 0.95, G: 0.88, B: 0.75})
	half := paper.Scale(0.5)
	c := half.Lab(paper)
	fmt.Printf("L* %.1f, a* %.1f, b* %.1f\n", c.L, c.A, c.B)
	// Output: L* 76.1, a* 0.0, b* 0.0
}
