package photo

import (
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/colorimetry"
)

var paperColour = color.NRGBA{244, 243, 238, 255}

// twoColours paints the pad's colour, and the paper's where it says so.
func twoColours(paper func(x, y int) bool) *image.NRGBA {
	m, other := noisy(padColour, 3, 1), noisy(paperColour, 3, 2)
	for y := range 100 {
		for x := range 100 {
			if paper(x, y) {
				m.SetNRGBA(x, y, other.NRGBAAt(x, y))
			}
		}
	}
	return m
}

func TestSplitFindsTwoColoursAlongALine(t *testing.T) {
	for name, c := range map[string]struct {
		paper func(x, y int) bool
		share float64
	}{
		"upright":  {func(x, _ int) bool { return x < 40 }, 0.38},
		"level":    {func(_, y int) bool { return y < 30 }, 0.27},
		"slanting": {func(x, y int) bool { return x+y < 75 }, 0.25},
		"corner":   {func(x, y int) bool { return x < 55 && y < 55 }, 0.29},
		"sliver":   {func(x, _ int) bool { return x < 15 }, 0.10},
	} {
		s := sampleOf(t, twoColours(c.paper), whole).Split
		assert.InDelta(t, c.share, s.Share, 0.06, "%s: share", name)
		assert.Greater(t, s.Clean, 0.95, name)
		assert.Greater(t, s.Together, 0.9, name)
		near(t, labOf(padColour), s.Own.Lab(colorimetry.D50), 2, name+": own colour")
		near(t, labOf(paperColour), s.Other.Lab(colorimetry.D50), 2, name+": other colour")
	}
}

func TestSplitIsOfNoOtherPatch(t *testing.T) {
	assert.Zero(t, sampleOf(t, noisy(padColour, 3, 1), whole).Split, "one colour")
	speck := sampleOf(t, twoColours(func(x, y int) bool { return (x/6*7+y/6*13)%5 < 2 }), whole).Split
	assert.Less(t, speck.Together, 0.8, "speckles")
	slope := noisy(padColour, 0, 1)
	for y := range 100 {
		for x := range 100 {
			slope.SetNRGBA(x, y, color.NRGBA{236, uint8(70 + x), 170, 255})
		}
	}
	s := sampleOf(t, slope, whole).Split
	assert.Greater(t, s.Share, 0.0, "an even change has two ends")
	assert.Less(t, s.Clean, 0.9, "an even change from side to side")
}

// Most patches are of one colour, so a look at one costs little.
func BenchmarkSampleOneAndTwo(b *testing.B) {
	for name, m := range map[string]*image.NRGBA{
		"one": noisy(padColour, 3, 1), "two": twoColours(func(x, _ int) bool { return x < 40 }),
	} {
		b.Run(name, func(b *testing.B) {
			p := mustDecode(b, pngOf(b, m))
			for b.Loop() {
				if _, err := p.Sample(whole); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
