package page

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/draw"

	"padband/colorimetry/photo"
)

// A picture of one colour stays it, whatever the sizes, and is as large as asked
// for; also when one side is made larger and the other smaller.
func TestScaledKeepsOneColour(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		w, h := 1+rng.IntN(60), 1+rng.IntN(60)
		m := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.Draw(m, m.Rect, image.NewUniform(color.RGBA{200, 3, 255, 255}), image.Point{}, draw.Src)
		x, y := rng.Float64()*float64(w), rng.Float64()*float64(h)
		part := frame{x, y, rng.Float64()*(float64(w)-x) + 1e-3, rng.Float64()*(float64(h)-y) + 1e-3}
		size := image.Rect(0, 0, 1+rng.IntN(80), 1+rng.IntN(80))
		out := scaled(m, part, size.Dx(), size.Dy())
		require.Equal(t, size.Size(), out.Rect.Size(), "%v of %d x %d", part, w, h)
		for y := range out.Rect.Dy() {
			for x := range out.Rect.Dx() {
				require.Equal(t, color.RGBA{200, 3, 255, 255}, out.RGBAAt(out.Rect.Min.X+x, out.Rect.Min.Y+y), "%v of %d x %d to %v", part, w, h, size)
			}
		}
	}
}

// Made smaller, a pixel is the mean of those about its place, weighted by a
// triangle that reaches to the middles of its neighbours: worked out here for
// each pixel by itself. The two are rounded to whole numbers once and twice, by
// half at the most each, so they may lie a little over one apart.
func TestScaledWeighsByDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 40 {
		w, h := 1+rng.IntN(40), 1+rng.IntN(40)
		m := image.NewRGBA(image.Rect(0, 0, w, h))
		for i := range m.Pix {
			m.Pix[i] = uint8(rng.IntN(256)) | uint8(255*(i%4/3))
		}
		out := scaled(m, all(m), 1+rng.IntN(w), 1+rng.IntN(h))
		kx, ky := float64(w)/float64(out.Rect.Dx()), float64(h)/float64(out.Rect.Dy())
		for y := range out.Rect.Dy() {
			for x := range out.Rect.Dx() {
				want := weighed(m, (float64(x)+0.5)*kx, (float64(y)+0.5)*ky, kx, ky)
				require.InDelta(t, want, float64(out.RGBAAt(x, y).R), 1.01, "%d x %d to %v at %d, %d", w, h, out.Rect, x, y)
			}
		}
	}
}

// weighed is the mean of red about a place, by a triangle that reaches so far each way.
func weighed(m *image.RGBA, x, y, reachX, reachY float64) float64 {
	var sum, all float64
	for v := range m.Rect.Dy() {
		for u := range m.Rect.Dx() {
			wx := math.Max(0, 1-math.Abs(float64(u)+0.5-x)/reachX)
			wy := math.Max(0, 1-math.Abs(float64(v)+0.5-y)/reachY)
			sum, all = sum+wx*wy*float64(m.RGBAAt(u, v).R), all+wx*wy
		}
	}
	return sum / all
}

// five pixels in a row.
func five() *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, 5, 1))
	for x, v := range []uint8{10, 20, 100, 60, 90} {
		m.SetRGBA(x, 0, color.RGBA{v, 0, 0, 255})
	}
	return m
}

// By hand: five pixels into two; and a part of a picture, and of one that is
// itself a part.
func TestScaledByHand(t *testing.T) {
	m := five()
	out := scaled(m, all(m), 2, 1)
	// Middles at 1.25 and 3.75, reach 2.5: (0.7*10 + 0.9*20 + 0.5*100 + 0.1*60) / 2.2 and (0.7*90 + 0.9*60 + 0.5*100 + 0.1*20) / 2.2
	assert.Equal(t, []uint8{37, 77}, []uint8{out.Pix[0], out.Pix[4]})
	out = scaled(m, frame{2, 0, 2, 1}, 1, 1)
	assert.Equal(t, uint8(80), out.Pix[0])
	out = scaled(m.SubImage(image.Rect(1, 0, 5, 1)).(*image.RGBA), frame{1, 0, 2, 1}, 1, 1)
	assert.Equal(t, uint8(80), out.Pix[0])
}

// Made larger, a part that begins within a pixel shows it where it lies.
func TestScaledEnlarges(t *testing.T) {
	for _, c := range []struct {
		from, wide float64
		want       []uint8
	}{
		{1, 2, []uint8{20, 20, 20, 20, 20, 100, 100, 100, 100, 100}},
		{1.4, 2, []uint8{20, 20, 20, 100, 100, 100, 100, 100, 60, 60}},
		{4.5, 0.5, []uint8{90, 90, 90, 90, 90, 90, 90, 90, 90, 90}},
	} {
		out := scaled(five(), frame{c.from, 0, c.wide, 1}, 10, 1)
		for x, v := range c.want {
			assert.Equal(t, v, out.RGBAAt(out.Rect.Min.X+x, 0).R, "%v, %d", c, x)
		}
	}
}

// Any part made larger has at each place a pixel of the picture that lies there,
// or would at a place half a pixel of what comes out further on; one more half
// is for the size, which is whole too.
func TestScaledEnlargesInPlace(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 200, 1))
	for x := range 200 {
		m.SetRGBA(x, 0, color.RGBA{uint8(x), 0, 0, 255})
	}
	rng := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		at := rng.Float64() * 190
		wide := 1 + rng.Float64()*(199-at)
		n := int(wide) + 2 + rng.IntN(900)
		out, k := scaled(m, frame{at, 0, wide, 1}, n, 1), wide/float64(n)
		require.Equal(t, n, out.Rect.Dx())
		for x := range n {
			got, place := float64(out.RGBAAt(out.Rect.Min.X+x, 0).R), at+(float64(x)+0.5)*k
			require.True(t, got-1.01*k <= place && place <= got+1+1.01*k, "from %v, %v wide, %d of %d: pixel %v at %v", at, wide, x, n, got, place)
		}
	}
}

// Pictures of a photo of 12 megapixels take little beside the view of it, which
// is 46 MiB: no second copy of the whole, however odd the part. What is counted
// is all that was asked for, so no more was ever held.
func TestPicturesTakeLittleMemory(t *testing.T) {
	if testing.Short() {
		t.Skip("a large photo; left out with -short")
	}
	var file bytes.Buffer
	require.NoError(t, jpeg.Encode(&file, image.NewGray(image.Rect(0, 0, 4000, 3000)), nil))
	p, err := photo.Decode(file.Bytes(), photo.Limits{})
	require.NoError(t, err)
	for what, do := range map[string]func() error{
		"preview":       func() error { atMost(view(p, image.Rect(0, 0, 4000, 3000)), 4000, 3000, previewPixels); return nil },
		"all":           func() error { _, err := cut(p, 0, 0, 4000, 3000, widestPart); return err },
		"two pixels":    func() error { _, err := cut(p, 0.5, 0, 1, 3000, widestPart); return err },
		"one pixel":     func() error { _, err := cut(p, 0.5, 0.5, 1, 1, widestPart); return err },
		"part enlarged": func() error { _, err := cut(p, 0.5, 0, widestPart-1, 3000, widestPart); return err },
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		assert.NoError(t, do())
		runtime.ReadMemStats(&after)
		took := after.TotalAlloc - before.TotalAlloc
		t.Logf("%s: %d MiB", what, took>>20)
		assert.Less(t, took, uint64(90<<20), what)
	}
}

func all(m *image.RGBA) frame { return frame{0, 0, float64(m.Rect.Dx()), float64(m.Rect.Dy())} }
