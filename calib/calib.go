// Package calib turns the samples of one photo into readings: the light over
// the photo from its white areas, each analyte's swatches as a scale through
// CIELAB, the pad's place on it as a posterior, and from that the value, the
// bands, the checks and the reliability. It needs no picture, only samples.
package calib

import "padband/colorimetry"

// Method numbers the way a reading is made. It rises whenever the same samples
// would give another value or band.
const Method = 2

// White is one white mark's sample. Materials that are not the same white
// (card, paper, strip plastic) carry different names.
type White struct {
	Material string
	Sample   colorimetry.Sample
}

// Reliability is the one word for how far a reading can be trusted.
type Reliability string

// The three words, from best to worst.
const (
	Good       Reliability = "good"
	Caution    Reliability = "caution"
	Unreliable Reliability = "unreliable"
)

// Worse returns the worse of two words.
func (r Reliability) Worse(o Reliability) Reliability {
	if r.rank() >= o.rank() {
		return r
	}
	return o
}

func (r Reliability) rank() int {
	switch r {
	case Unreliable:
		return 2
	case Caution:
		return 1
	}
	return 0
}

// Warning names one thing that makes a reading or a photo doubtful.
type Warning struct {
	Code   string  // from the fixed list, such as "clipped"
	Text   string  // one or two sentences: what was seen and what to do
	Figure float64 // the figure behind it, in the unit the text gives
	// Limit is the figure beyond which the warning is given.
	Limit float64
	// Weight is what the warning alone does to the reliability.
	Weight Reliability
	// doubtful is true where it puts the light itself in doubt.
	doubtful bool
}

// Range says where the value lies against the chart's ends.
type Range string

// Ranges.
const (
	Within Range = "within"
	Below  Range = "below"
	Above  Range = "above"
)
