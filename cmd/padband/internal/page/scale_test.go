package page

import (
	"image"
	"image/color"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/image/draw"
)

// A picture of one colour stays it, whatever the sizes; the mean of any picture
// stays, when all of it is squeezed into one pixel.
func TestScaledKeepsMeans(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		w, h := 1+rng.IntN(60), 1+rng.IntN(60)
		m := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.Draw(m, m.Rect, image.NewUniform(color.RGBA{200, 3, 255, 255}), image.Point{}, draw.Src)
		out := scaled(m, all(m), 1+rng.IntN(w), 1+rng.IntN(h))
		for y := range out.Rect.Dy() {
			for x := range out.Rect.Dx() {
				assert.Equal(t, color.RGBA{200, 3, 255, 255}, out.RGBAAt(x, y), "%d x %d to %v", w, h, out.Rect)
			}
		}
		sum := 0
		for i := range w * h {
			v := uint8(rng.IntN(256))
			m.Pix[4*i], sum = v, sum+int(v)
		}
		assert.InDelta(t, float64(sum)/float64(w*h), float64(scaled(m, all(m), 1, 1).Pix[0]), 0.51)
	}
}

// By hand: five pixels into two, the middle one shared; and a part of a picture.
func TestScaledSharesPixels(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 5, 1))
	for x, v := range []uint8{10, 20, 100, 60, 90} {
		m.SetRGBA(x, 0, color.RGBA{v, 0, 0, 255})
	}
	out := scaled(m, all(m), 2, 1)
	assert.Equal(t, []uint8{32, 80}, []uint8{out.Pix[0], out.Pix[4]}) // (10 + 20 + 50) / 2.5, (50 + 60 + 90) / 2.5
	out = scaled(m, frame{2, 0, 2, 1}, 1, 1)
	assert.Equal(t, uint8(80), out.Pix[0])
}

// Made larger, a part that begins within a pixel shows it where it lies.
func TestScaledEnlarges(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 5, 1))
	for x, v := range []uint8{10, 20, 100, 60, 90} {
		m.SetRGBA(x, 0, color.RGBA{v, 0, 0, 255})
	}
	for _, c := range []struct {
		from, wide float64
		want       []uint8
	}{
		{1, 2, []uint8{20, 20, 20, 20, 20, 100, 100, 100, 100, 100}},
		{1.4, 2, []uint8{20, 20, 20, 100, 100, 100, 100, 100, 60, 60}},
		{4.5, 0.5, []uint8{90, 90, 90, 90, 90, 90, 90, 90, 90, 90}},
	} {
		out := scaled(m, frame{c.from, 0, c.wide, 1}, 10, 1)
		for x, v := range c.want {
			assert.Equal(t, v, out.Pix[4*x], "%v, %d", c, x)
		}
	}
}

func all(m *image.RGBA) frame { return frame{0, 0, float64(m.Rect.Dx()), float64(m.Rect.Dy())} }
