package colorimetry

// Sample is the colour of one region of one photo, measured in linear light.
type Sample struct {
	// Place is the centre of the pixels used, in upright photo pixels.
	Place Point
	// XYZ is the robust centre of the pixels, relative to D50, not clipped.
	XYZ XYZ
	// Cov is the covariance of one pixel about the centre (robust), in XYZ.
	Cov [3][3]float64
	// Pixels is how many pixels the centre was taken over.
	Pixels int
	// Effective is how many independent pixels they are worth: fewer than
	// Pixels, since compression and interpolation tie neighbours together.
	Effective float64
	// Clipped is the share (0-1) of the region's pixels with a channel at its highest code.
	Clipped float64
	// Floor is the share (0-1) with a channel at its lowest code.
	Floor float64
	// Glare is the share (0-1) of pixels left out as bright outliers.
	Glare float64
	// Transparent is the share (0-1) of pixels with alpha under full (never a wholly transparent one).
	Transparent float64
	// Slope is the change of XYZ per pixel along x and along y within the region.
	Slope [2]XYZ
	// InsetShift is the CIELAB distance by which the centre moves when the
	// margin kept from the region's edge is doubled (both against the same white).
	InsetShift float64
	// Edge is the width of the region's border in pixels: where its brightness
	// goes from 10 % to 90 % of its change to what lies outside (median all
	// around). 0 when no clear border was found near the region.
	Edge float64
	// Dark and Bright are the means of the darkest and of the brightest fifth of
	// the region's blocks, those left out of the centre included.
	Dark, Bright XYZ
	// Side is the root of the region's area, pixels.
	Side float64
	// Beside is the CIELAB distance of a pad's colour from what lies beside the region
	// on two opposite sides, the pair of sides that is more like it. 0 when it was not
	// looked at.
	Beside float64
	// Split parts the region into its own colour and another, where two lie in it.
	Split Split
}

// Split describes the two colours about which the blocks of one region gather. The
// zero value stands for a region of one colour.
type Split struct {
	// Own is the colour of the group nearer to the sample's centre, and Other that of
	// the rest, both away from the line where they meet.
	Own, Other XYZ
	// Share is the share (0-1) of the region that has the other colour.
	Share float64
	// Clean is the share (0-1) of the variance that the two colours explain: near 1
	// for two even colours, at most 0.86 for a colour that changes evenly from side to
	// side.
	Clean float64
	// Together is the share (0-1) of neighbouring places that are of one colour: near
	// 1 where one line parts the two, 0.5 to 0.8 for speckles.
	Together float64
}

// MeanCov is the covariance of the centre itself, in XYZ: that of one pixel
// over the number of independent pixels, which counts as at least 1.
func (s Sample) MeanCov() [3][3]float64 {
	n := s.Effective
	if !(n > 1) {
		n = 1
	}
	out := s.Cov
	for i := range out {
		for j := range out[i] {
			out[i][j] /= n
		}
	}
	return out
}
