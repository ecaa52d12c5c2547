package calib

import (
	"fmt"
	"math"

	"padband/colorimetry"
)

// Bounds of the check of pads that do not stand out, chosen on 260 rendered pads that
// are pale and as many marks on bare strip between the pads and on its handle.
const (
	// besideSome is the CIELAB distance from what lies beside it of a pad that may be
	// none: of the pads that read 0 two in a hundred came under it, of the marks on
	// bare strip two in three.
	besideSome = 0.30
	// besideOdd is the same for a mark that lies or is drawn otherwise than those of
	// the other pads: 95 in a hundred marks on bare strip came under it.
	besideOdd = 1.0
	barePale  = 20.0 // CIELAB distance from white of what may be bare strip
	oddSize   = 1.25 // how much larger or smaller a mark is than the others
	oddNear   = 0.75 // how near it lies to another, in the least distance of the others
)

// checkBare looks for a pale pad whose mark does not stand out from what lies beside
// it: it may lie on bare strip, which reads as no colour.
func (r *Reading) checkBare(p Photo, i int, light Light) {
	for k, s := range p.Pads[i].Parts {
		most := besideSome
		if oddMark(p, s) {
			most = besideOdd
		}
		white := colorimetry.Lab{L: 100}
		if pale := colorimetry.DeltaE76(light.Relative(s).Lab(colorimetry.D50), white); pale > barePale || !(s.Beside > 0 && s.Beside < most) {
			continue
		}
		r.warn(Warning{Code: CodePadUnseen, Figure: s.Beside, Threshold: most, Weight: Caution, Places: []Place{p.Pads[i].partPlace(k)},
			Seen: fmt.Sprintf("The mark on the pad shows the same colour as what lies beside it (a colour difference of %.1f): it may lie on "+
				"bare strip.", s.Beside),
			Then: "Check that it lies on the pad, and draw it nearly as large as the pad."})
		return
	}
}

// oddMark tells whether a pad's mark differs in size from those of the other pads, or
// lies nearer to one of them than they to each other.
func oddMark(p Photo, s colorimetry.Sample) bool {
	var sides []float64
	var others []colorimetry.Point
	for _, pad := range p.Pads {
		for _, o := range pad.Parts {
			if o.Place != s.Place {
				sides, others = append(sides, side(o)), append(others, o.Place)
			}
		}
	}
	if len(others) == 0 {
		return false
	}
	if size := side(s) / math.Max(1, median(sides)); size > oddSize || size < 1/oddSize {
		return true
	}
	near, least := math.Inf(1), math.Inf(1)
	for k, o := range others {
		near = math.Min(near, o.Distance(s.Place))
		for _, b := range others[:k] {
			least = math.Min(least, o.Distance(b))
		}
	}
	if len(others) == 2 { // it may be the middle one of three
		least /= 2
	}
	return len(others) > 1 && near < oddNear*least
}
