package calib

import (
	"math"
	"slices"
	"sort"

	"padband/colorimetry"
)

// Thresholds for marks of one hue, whose colour follows from their lightness alone.
const (
	hueMarks = 8    // marks below which nothing is said
	hueRange = 15.0 // least range of L* that they span
	hueOff   = 1.0  // CIELAB by which nine in ten may lie off the line between their neighbours
	hueNear  = 15.0 // farthest neighbour in L*
	hueShare = 0.9
	hueTint  = 6.0 // CIELAB chroma of nine in ten over the tint of all
)

// oneTint tells whether the colours are greys under one tint: their X/Y and Z/Y are
// alike, as sepia makes them. A dye that fades has these apart.
func oneTint(marks []colorimetry.XYZ) bool {
	var x, z, chroma []float64
	for _, c := range marks {
		x, z = append(x, c.X/floor(c.Y)), append(z, c.Z/floor(c.Y))
	}
	tint := colorimetry.XYZ{X: median(x), Y: 1, Z: median(z)}
	for _, c := range marks {
		v, _ := c.Lab(tint).LCh()
		chroma = append(chroma, v)
	}
	if len(chroma) == 0 {
		return false
	}
	slices.Sort(chroma)
	return chroma[int(hueShare*float64(len(chroma)-1))] < hueTint
}

// OneHue tells whether the colours of all marks follow from their lightness alone, as
// in sepia, and in the rare photo whose chart has one pale dye. Only a look at the
// whole picture tells these apart.
func (p Photo) OneHue() bool {
	var labs []colorimetry.Lab
	var marks []colorimetry.XYZ
	for _, s := range append(p.samples(), p.whiteSamples()...) {
		if s.Clipped < clippedSome {
			labs, marks = append(labs, s.XYZ.Lab(colorimetry.D50)), append(marks, s.XYZ)
		}
	}
	if !oneTint(marks) {
		return false
	}
	sort.Slice(labs, func(i, j int) bool { return labs[i].L < labs[j].L })
	if len(labs) < hueMarks || labs[len(labs)-1].L-labs[0].L < hueRange {
		return false
	}
	off := offNeighbours(labs)
	if len(off) < hueMarks-2 {
		return false
	}
	slices.Sort(off)
	return off[int(hueShare*float64(len(off)-1))] < hueOff
}

// offNeighbours is how far each colour lies in a* and b* off the line between those
// next to it in lightness.
func offNeighbours(labs []colorimetry.Lab) (off []float64) {
	for i := 1; i < len(labs)-1; i++ {
		a, c, b := labs[i-1], labs[i], labs[i+1]
		if b.L-a.L > hueNear {
			continue
		}
		f := (c.L - a.L) / math.Max(b.L-a.L, 1e-9)
		off = append(off, math.Hypot(c.A-a.A-f*(b.A-a.A), c.B-a.B-f*(b.B-a.B)))
	}
	return off
}

func (p Photo) whiteSamples() (out []colorimetry.Sample) {
	for _, w := range p.Whites {
		out = append(out, w.Sample)
	}
	return out
}
