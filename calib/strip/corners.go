package strip

import (
	"fmt"
	"slices"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry/photo"
)

// misplaced are the codes of what swatches look like that lie elsewhere than marked.
var misplaced = map[calib.Code]bool{
	calib.CodeMarkOnEdge: true, calib.CodeSwatchesAlike: true, calib.CodeSwatchesOutOfOrder: true, calib.CodeRowReversed: true,
	calib.CodeOffScaleColour: true, calib.CodeTwoPlaces: true,
}

// Bounds of the check of the corners, chosen on 100 rendered charts of one to three
// analytes in all classes of light, each with its corners given in the four orders. On
// 100 others 295 of 300 wrong orders were named, and none of the right ones.
const (
	turnedLeast = 1.0  // signs of misplaced swatches for each row
	turnedMost  = 0.34 // signs left in the other order, as a share
	splitMost   = 0.34 // share of the swatches of a row that hold two colours, which is a sign too
)

// turnedCorners looks for a chart whose corners were given from another one than its
// top left: the swatches then fit their rows better with the corners in another order.
// It looks only where most rows are doubtful.
func turnedCorners(p *photo.Photo, chart charts.Chart, marks charts.Marks, samples calib.Photo,
	again func() (*photo.Photo, error)) ([]calib.Warning, error) {
	if len(marks.Corners) == 0 {
		return nil, nil
	}
	signs, ok := signsOfMisplaced(samples)
	if !ok || signs < turnedLeast {
		return nil, nil
	}
	if !p.Whole() {
		if again == nil {
			return nil, nil
		}
		whole, err := again()
		if err != nil {
			return nil, err
		}
		p = whole
	}
	least := signs
	for turn := 1; turn < len(marks.Corners); turn++ {
		other := marks
		other.Corners = slices.Concat(marks.Corners[turn:], marks.Corners[:turn])
		moved, _, err := Samples(p, chart, other)
		if err != nil { // in this order a swatch lies on no patch
			continue
		}
		if n, ok := signsOfMisplaced(moved); ok {
			least = min(least, n)
		}
	}
	if least > turnedMost*signs {
		return nil, nil
	}
	return []calib.Warning{{Code: calib.CodeCornersTurned, Figure: signs, Threshold: turnedLeast, Weight: calib.Unreliable,
		Places: []calib.Place{{Kind: calib.PlacePhoto}},
		Seen: fmt.Sprintf("The swatches do not fit the rows of the chart (%.1f signs of it in a row), and fit better with its corners in "+
			"another order.", signs),
		Then: "Mark the corners again: first the chart's top left, then on clockwise."}}, nil
}

// signsOfMisplaced counts the signs that swatches lie elsewhere than marked, for each
// row; ok is false where nothing can be read.
func signsOfMisplaced(samples calib.Photo) (signs float64, ok bool) {
	_, readings, err := calib.Read(samples)
	if err != nil || len(readings) == 0 {
		return 0, false
	}
	for i, r := range readings {
		for _, w := range r.Warnings {
			if misplaced[w.Code] {
				signs++
			}
		}
		if shareSplit(samples.Pads[i]) >= splitMost {
			signs++
		}
	}
	return signs / float64(len(readings)), true
}

// shareSplit is the share of a row's swatches that hold two colours.
func shareSplit(p calib.Pad) float64 {
	split, all := 0.0, 0.0
	for _, parts := range p.Swatches {
		for _, s := range parts {
			all++
			if s.Split.Share > 0 {
				split++
			}
		}
	}
	return split / max(1, all)
}
