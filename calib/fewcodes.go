package calib

import (
	"fmt"
	"math"
	"slices"

	"padband/colorimetry"
)

// A picture with few codes (posterised, or stored with a small palette of even steps)
// has the red, green and blue of its pads and swatches at few values, or all on the
// steps of one ladder, whereas those of a photo fall anywhere.
const (
	codeNear    = 2.0  // codes of 255: what JPEG moves the middle of a mark by
	codeMost    = 0.8  // share of the codes that are at such values
	codeFew     = 4    // values, where there are
	codeEach    = 4    // times as many codes
	ladderMost  = 12   // steps of a ladder; finer ones hardly move a colour
	ladderError = 1e-3 // probability that a photo's codes lie on a ladder by chance
)

// checkFewCodes looks for a picture that has few codes. It is of no use: a pad and a
// swatch that were unlike may have become one colour.
func (r *LightReport) checkFewCodes(p Photo) {
	for _, space := range []colorimetry.RGBSpace{colorimetry.SRGB, colorimetry.DisplayP3} {
		codes := codesOf(p.samples(), space)
		values, share := fewValues(codes)
		if share < codeMost || len(values) == 0 {
			continue
		}
		if len(values) <= codeFew && len(codes) >= codeEach*len(values) || onLadder(values) {
			r.warn(Warning{Code: CodeAlteredPhoto, Figure: float64(len(values)), Weight: Unreliable, Places: wholePhoto(),
				Seen: fmt.Sprintf("The red, green and blue of all pads and swatches have only %d values, as an effect or a small palette "+
					"leaves them: colours that were unlike may have become one.", len(values)),
				Then: "Use the photo as the camera stored it, without a filter."})
			return
		}
	}
}

// codesOf are the sorted codes, 0 to 255, of the samples' colours in a space. Those at
// either end are left out: a photo may be cut off there.
func codesOf(samples []colorimetry.Sample, space colorimetry.RGBSpace) (codes []float64) {
	for _, s := range samples {
		v := space.RGB(s.XYZ)
		for _, code := range []float64{v.R, v.G, v.B} {
			if code *= 255; code > codeNear && code < 255-codeNear {
				codes = append(codes, code)
			}
		}
	}
	slices.Sort(codes)
	return codes
}

// fewValues gathers codes that are near one another. It returns the middles of the
// narrow gatherings, and which share of the codes they hold.
func fewValues(codes []float64) (values []float64, share float64) {
	held := 0
	for from := 0; from < len(codes); {
		to := from + 1
		for to < len(codes) && codes[to]-codes[to-1] <= codeNear {
			to++
		}
		if codes[to-1]-codes[from] <= 2*codeNear {
			values, held = append(values, (codes[from]+codes[to-1])/2), held+to-from
		}
		from = to
	}
	return values, float64(held) / math.Max(1, float64(len(codes)))
}

// onLadder tells whether the values lie on one ladder, and hardly by chance. Its steps
// run from the lowest code to the highest, or are the lower ends or the middles of
// even stretches of codes.
func onLadder(values []float64) bool {
	tried := 0.0
	for n := 3.0; n <= ladderMost; n++ {
		for _, l := range []struct{ step, first float64 }{{255 / (n - 1), 0}, {256 / n, 0}, {256 / n, 128 / n}} {
			tried++
			near := 0
			for _, v := range values {
				if math.Abs(math.Remainder(v-l.first, l.step)) <= codeNear {
					near++
				}
			}
			chance := tried * math.Pow(2*codeNear/l.step, float64(near))
			if float64(near) >= codeMost*float64(len(values)) && chance < ladderError {
				return true
			}
		}
	}
	return false
}
