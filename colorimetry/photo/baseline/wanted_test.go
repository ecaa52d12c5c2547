package baseline

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// referee is the Go release whose image/jpeg the samples were held to, in the tests
// and in half an hour of FuzzBaseline. At another release both are run again before
// this line is changed.
const referee = "go1.26"

func TestRefereeIsOfThisRelease(t *testing.T) {
	v := runtime.Version()
	assert.True(t, v == referee || strings.HasPrefix(v, referee+"."), "this is %s: run FuzzBaseline for half an hour and then name it here", v)
}

// Of areas that are wanted every unit they touch is there, as the standard library
// has it, and no other.
func TestOnlyTheWantedIsThere(t *testing.T) {
	areas := [][]image.Rectangle{
		{}, {image.Rect(0, 0, 1, 1)}, {image.Rect(32, 16, 33, 17)}, {image.Rect(3, 9, 18, 11), image.Rect(60, 30, 70, 50)},
		{image.Rect(-9, -9, 0, 90), image.Rect(64, 0, 99, 99)}, {image.Rect(-5, 20, 99, 21)}, {image.Rect(0, 0, 99, 99)},
	}
	for i, sampling := range samplings {
		for _, restart := range []int{0, 3} {
			data := spec{64, 41, sampling, restart, false, uint64(i)}.file()
			want, err := jpeg.Decode(bytes.NewReader(data))
			require.NoError(t, err)
			for _, a := range areas {
				got, ok := Decode(data, a)
				require.True(t, ok)
				require.True(t, equalTo(got, want, a), "%x, restarts %d, %v", sampling, restart, a)
			}
		}
	}
}

// A pixel that was not wanted has no memory and no colour.
func TestTheUnwantedTakesNoMemory(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/demo/kitchen.jpg")
	require.NoError(t, err)
	p, ok := Decode(data, []image.Rectangle{image.Rect(100, 100, 101, 101)})
	require.True(t, ok)
	units := 0
	for _, at := range p.at {
		if at >= 0 {
			units++
		}
	}
	assert.Equal(t, 1, units)
	assert.LessOrEqual(t, cap(p.pix), 6*64)
	luma, cb, cr := p.Samples(300, 300)
	assert.Equal(t, []uint8{0, 0, 0}, []uint8{luma, cb, cr})
	assert.Equal(t, color.YCbCrModel.Convert(color.Transparent), p.At(300, 300))
	assert.True(t, p.Has(100, 100))
	for _, at := range []image.Point{{X: 300, Y: 300}, {X: -1, Y: 100}, {X: 100, Y: -1}, {X: p.Width, Y: 0}} {
		assert.False(t, p.Has(at.X, at.Y), at)
	}
}

// What is faulty is refused wherever it lies, whatever is wanted.
func TestFaultsOutsideTheWantedAreFound(t *testing.T) {
	data := small()
	for i := range len(data) - 1 {
		for _, change := range []byte{0x01, 0x80, 0xff} {
			data[i] ^= change
			_, all := Decode(data, nil)
			_, none := Decode(data, []image.Rectangle{})
			_, some := Decode(data, []image.Rectangle{image.Rect(0, 0, 3, 3)})
			_, less := Smaller(data, 2)
			require.Equal(t, []bool{all, all, all}, []bool{none, some, less}, "byte %d changed by %#x", i, change)
			data[i] ^= change
		}
	}
}

// The picture as an [image.Image] has the colours of the standard library's.
func TestPictureIsAnImage(t *testing.T) {
	for _, sampling := range [][]byte{{0x11}, {0x22, 0x11, 0x11}} {
		data := spec{33, 17, sampling, 0, false, 4}.file()
		want, err := jpeg.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		var got image.Image
		got, ok := Decode(data, nil)
		require.True(t, ok)
		require.Equal(t, want.Bounds(), got.Bounds())
		require.Equal(t, want.ColorModel(), got.ColorModel())
		for y := range 17 {
			for x := range 33 {
				require.Equal(t, want.At(x, y), got.At(x, y))
			}
		}
	}
}

// A smaller picture is near the mean of the pixels that each of its own stands for,
// by the standard library's decoder: their mean to a fifth of a code, and each as near
// as what is finer than its grid allows.
func TestSmallerIsTheMeanOfWhatItStandsFor(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/demo/kitchen.jpg")
	require.NoError(t, err)
	m, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	full := m.(*image.YCbCr)
	for samples, near := range map[int]float64{2: 2, 3: 1.8, 4: 1.5} {
		p, ok := Smaller(data, samples)
		require.True(t, ok)
		require.Equal(t, []int{(full.Rect.Dx()*samples + 7) / 8, (full.Rect.Dy()*samples + 7) / 8}, []int{p.Width, p.Height})
		var sum, off [3]float64
		w, h := full.Rect.Dx()*samples/8, full.Rect.Dy()*samples/8
		for y := range h {
			for x := range w {
				luma, cb, cr := p.Samples(x, y)
				for c, v := range [3]uint8{luma, cb, cr} {
					d := float64(v) - meanOf(full, c, x, y, 8/float64(samples))
					sum[c] += d / float64(w*h)
					off[c] += d * d / float64(w*h)
				}
			}
		}
		for c := range sum {
			assert.InDelta(t, 0, sum[c], 0.2, "channel %d of %d samples", c, samples)
			assert.InDelta(t, 0, math.Sqrt(off[c]), near, "channel %d of %d samples", c, samples)
		}
	}
}

// meanOf is the mean of a channel over the square that pixel x, y of a picture stands
// for whose pixels are step wide; a pixel that lies partly within counts in part.
func meanOf(m *image.YCbCr, channel, x, y int, step float64) (sum float64) {
	for v := int(float64(y) * step); float64(v) < float64(y+1)*step; v++ {
		for u := int(float64(x) * step); float64(u) < float64(x+1)*step; u++ {
			k := m.COffset(u, v)
			code := [3]uint8{m.Y[m.YOffset(u, v)], m.Cb[k], m.Cr[k]}[channel]
			sum += float64(code) * within(u, x, step) * within(v, y, step) / (step * step)
		}
	}
	return sum
}

// within is how much of a pixel lies within the x-th stretch of step pixels.
func within(u, x int, step float64) float64 {
	return math.Max(0, math.Min(float64(u+1), float64(x+1)*step)-math.Max(float64(u), float64(x)*step))
}
