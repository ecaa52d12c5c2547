package photo

import (
	"image"
	"image/color"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// soft is a picture without any symmetry whose colours change slowly.
func soft(w, h int) *image.NRGBA {
	m := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetNRGBA(x, y, color.NRGBA{uint8(100 + x*90/w), uint8(100 + y*90/h), uint8(110 + (x+y)*60/(w+h)), 255})
		}
	}
	return m
}

// The picture at a glance is the photo made smaller, upright and in its colours,
// and as wide as was asked for.
func TestGlanceIsThePhotoSmaller(t *testing.T) {
	const w, h = 402, 302
	for orientation := 1; orientation <= 8; orientation++ {
		file := jpegOf(t, storedFor(soft(w, h), orientation), exifSegment(orientationBlock(orientation)), iccSegment(1, 1, profileP3()))
		all := decodeFor(t, file)
		full := all.Image(image.Rect(0, 0, w, h)).(*image.RGBA)
		for width, samples := range map[int]int{1: 2, 100: 2, 101: 3, 150: 3, 151: 4, 201: 4} {
			p, m, whole, err := Glance(file, Limits{}, width)
			require.NoError(t, err)
			assert.False(t, whole)
			assert.Equal(t, all.Facts, p.Facts)
			assert.Equal(t, []int{w, h}, []int{p.Width, p.Height})
			require.Equal(t, image.Rect(0, 0, (w*samples+7)/8, (h*samples+7)/8), m.Bounds())
			assert.GreaterOrEqual(t, m.Bounds().Dx(), width)
			far, step := 0.0, 8/float64(samples)
			for y := 1; y < h*samples/8-1; y++ {
				for x := 1; x < w*samples/8-1; x++ {
					b := m.(*image.RGBA).RGBAAt(x, y)
					for c, v := range [3]uint8{b.R, b.G, b.B} {
						far = math.Max(far, math.Abs(meanCode(full, c, int(float64(x)*step), int(float64(y)*step), int(step+0.5))-float64(v)))
					}
				}
			}
			// two codes of them are the bit of blue and red difference that is left out
			assert.LessOrEqual(t, far, 9.0, "orientation %d, width %d", orientation, width)
			_, err = p.Sample(rect(t, 10, 10, 30, 30))
			var unwanted *NotWantedError
			assert.ErrorAs(t, err, &unwanted)
		}
	}
}

// meanCode is the mean of a channel over a square of pixels.
func meanCode(m *image.RGBA, channel, x, y, step int) (sum float64) {
	for v := y; v < y+step; v++ {
		for u := x; u < x+step; u++ {
			sum += float64(m.Pix[m.PixOffset(u, v)+channel])
		}
	}
	return sum / float64(step*step)
}

// What is not smaller, and what no ordinary JPEG is, is decoded whole.
func TestGlanceDecodesWholeWhatItMust(t *testing.T) {
	progressive, err := os.ReadFile("../../testdata/photos/progressive.jpg")
	require.NoError(t, err)
	for what, file := range map[string][]byte{"wide": jpegOf(t, soft(120, 90)), "PNG": pngOf(t, soft(120, 90)), "progressive": progressive} {
		p, m, whole, err := Glance(file, Limits{}, 100)
		require.NoError(t, err, what)
		assert.True(t, whole, what)
		assert.Equal(t, image.Rect(0, 0, p.Width, p.Height), m.Bounds(), what)
		all := decodeFor(t, file)
		assert.Equal(t, mustSample(t, all, rect(t, 4, 4, 30, 30)), mustSample(t, p, rect(t, 4, 4, 30, 30)), what)
		assert.Equal(t, all.Facts, p.Facts, what)
	}
}

// A file that Decode refuses is refused at a glance, in the same words.
func TestGlanceRefusesWhatDecodeRefuses(t *testing.T) {
	file := jpegOf(t, scene(97, 61), exifSegment(orientationBlock(6)))
	refused := 0
	for n := range len(file) {
		cut := file[:n]
		_, want := Decode(cut, Limits{})
		_, m, _, err := Glance(cut, Limits{}, 10)
		require.Equal(t, want, err, "%d bytes", n)
		if err != nil {
			refused++
			assert.Nil(t, m)
		}
	}
	assert.Greater(t, refused, 1000)
}
