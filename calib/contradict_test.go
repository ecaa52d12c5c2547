package calib

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/colorimetry"
)

// A pale pad that does not stand out from what lies beside it may be bare strip; one
// with colour, one that stands out and one that was not looked at are not doubted.
func TestPalePadThatDoesNotStandOut(t *testing.T) {
	pale := colorimetry.Lab{L: 94, A: 1, B: 3}
	for name, c := range map[string]struct {
		lab    colorimetry.Lab
		beside float64
		want   Reliability
	}{
		"alike":         {pale, 0.2, Caution},
		"stands out":    {pale, 0.8, Good},
		"not looked at": {pale, 0, Good},
		"coloured":      {onRamp(3.5), 0.2, Good},
	} {
		p := scene(c.lab)
		p.Pads[0].Parts[0].Beside = c.beside
		r := readOne(t, p)
		w, found := warningOf(r, CodePadUnseen)
		assert.Equal(t, c.want == Caution, found, name)
		assert.Equal(t, c.want, r.Reliability, name)
		if found {
			assert.Equal(t, []Place{{Kind: PlacePad, Analyte: "nitrate"}}, w.Places)
			assert.Contains(t, w.Text(), "it may lie on bare strip. Check that it lies on the pad")
		}
	}
}

// A mark that is drawn or lies otherwise than those of the other pads is doubted at a
// larger difference from what lies beside it.
func TestOddMarks(t *testing.T) {
	at := func(y, side float64) colorimetry.Sample {
		return colorimetry.Sample{Place: colorimetry.Point{X: 100, Y: y}, Side: side}
	}
	pads := func(marks ...colorimetry.Sample) (p Photo) {
		for _, m := range marks {
			p.Pads = append(p.Pads, Pad{Parts: []colorimetry.Sample{m}})
		}
		return p
	}
	for name, c := range map[string]struct {
		p    Photo
		want bool
	}{
		"alone":               {pads(at(0, 40)), false},
		"of one size":         {pads(at(0, 40), at(100, 44)), false},
		"smaller":             {pads(at(0, 25), at(100, 44)), true},
		"larger":              {pads(at(0, 60), at(100, 44)), true},
		"middle of three":     {pads(at(100, 40), at(0, 40), at(200, 40)), false},
		"one left out":        {pads(at(300, 40), at(0, 40), at(100, 40)), false},
		"between two of four": {pads(at(50, 40), at(0, 40), at(100, 40), at(200, 40)), true},
		"in line of four":     {pads(at(300, 40), at(0, 40), at(100, 40), at(200, 40)), false},
	} {
		assert.Equal(t, c.want, oddMark(c.p, c.p.Pads[0].Parts[0]), name)
	}
}
