// Package calib turns the samples of one photo into readings. Start at [Read] for one
// photo and at [Pool] for several. The package sees no picture, only samples, and it
// does not say what a reading means: package judge does.
//
// A reading is made in six steps, one file or two for each. Places on a scale are
// counted in steps t: 0 is the lowest swatch, 1 the next.
//
//   - light.go: the recorded white w(x, y) over the photo, a Gaussian process in
//     ln Y, ln X/Y and ln Z/Y fitted to the white areas, marked and found.
//   - scale.go: the colours over that white in CIELAB (CIE 15), and the swatches
//     as a curve c(t) through them, which in the first step above zero slows down as a
//     dye saturates.
//   - covariance.go and errors.go: S(t), the covariance of pad minus curve: noise,
//     print, gloss, light, the curve's own bend, and k² M for the mismatch M of dye and
//     ink, whose size k the pads of one photo share.
//   - lamps.go and hypotheses.go: M and the lean of a pad's colour differ between families
//     of lamps. Each family at each size k is a hypothesis. Its prior comes from the word
//     for the light and the recorded white, and its weight also from the photo's other
//     pads, whose evidence for a family counts in part; a reading is averaged over all.
//   - posterior.go: the likelihood of the pad's colour p, a Student t of
//     (p - c(t))' S(t)⁻¹ (p - c(t)), times an even prior over the chart and a
//     thinner one past its ends, gives the probability of each place.
//   - read.go: the median of these probabilities is the value, and their equal tails
//     are the band (JCGM 101:2008, 7.7). The strip's own error is added to make the
//     water band; where the chart states none, errors.go has the half step that is
//     assumed.
//
// The files checks.go, picturechecks.go, doubt.go, report.go, edges.go (marks over an
// edge), contradict.go (pads that nothing tells from what lies beside them), white.go
// (whites that are none, and light followed from afar), onehue.go and fewcodes.go (altered
// pictures) and water.go (coloured water, whose stain also lies over the curve) then warn
// of what makes the reading doubtful. Each warning has a code, and codes.go lists all codes.
package calib

import "padband/colorimetry"

// Method numbers the way a reading is made. It rises with every change by which
// the same photo, chart, marks and question give another byte of a reading file.
const Method = 7

// White is one white mark's sample. White materials that differ (card, paper, strip
// plastic) carry different names.
type White struct {
	Material string
	Sample   colorimetry.Sample
	Found    bool // by the program, in the material of a marked white; not marked by anybody
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
	Code   Code
	Seen   string  // what was seen, one sentence
	Then   string  // what follows from it and what to do; may be empty
	Places []Place // where in the photo it applies; empty for a warning of something outside it
	Figure float64 // the figure behind it, in the unit the text gives
	// Threshold is the figure beyond which the warning is given.
	Threshold float64
	// Weight is the reliability that the warning alone leaves the reading.
	Weight Reliability
	// doubtful is true where the warning puts the light itself in doubt.
	doubtful bool
}

// Text is the warning in sentences: what was seen and what to do.
func (w Warning) Text() string {
	if w.Then == "" {
		return w.Seen
	}
	return w.Seen + " " + w.Then
}

// Range says where the value lies against the chart's ends.
type Range string

// Ranges.
const (
	Within Range = "within"
	Below  Range = "below"
	Above  Range = "above"
)
