package patches

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// painted is a picture whose colour at each place a function gives, with a little noise.
func painted(w, h int, noise float64, at func(x, y float64) [3]float64) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	rng := rand.New(rand.NewPCG(3, 5))
	for y := range h {
		for x := range w {
			c := at(float64(x)+0.5, float64(y)+0.5)
			n := rng.NormFloat64() * noise
			put := func(v float64) uint8 { return uint8(max(0, min(255, math.Round(v+n)))) }
			m.SetRGBA(x, y, color.RGBA{put(c[0]), put(c[1]), put(c[2]), 255})
		}
	}
	return m
}

// The tables must agree with CIELAB as go-colorful computes it (CIE 15, white of D65
// there: the colours are compared relative to each one's white).
func TestGroundIsCIELAB(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		c := color.RGBA{uint8(rng.UintN(256)), uint8(rng.UintN(256)), uint8(rng.UintN(256)), 255}
		m := image.NewRGBA(image.Rect(0, 0, 3, 3))
		for i := range 9 {
			m.SetRGBA(i%3, i/3, c)
		}
		got := Reduce(m, 100).At(colorimetry.Point{X: 1, Y: 1})
		want := colorimetry.SRGB.XYZ(colorimetry.RGB{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}).Lab(colorimetry.D50)
		assert.InDelta(t, 0, colorimetry.DeltaE76(got, want), 0.1, "%v", c)
		l, _, _ := colorful.Color{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255}.Lab()
		assert.InDelta(t, 100*l, got.L, 2.5, "%v: lightness hardly depends on the white", c)
	}
}

func TestReduceKeepsShapeAndSize(t *testing.T) {
	m := painted(1500, 700, 0, func(x, y float64) [3]float64 { return [3]float64{200, 200, 200} })
	g := Reduce(m, 500)
	assert.Equal(t, 500, g.Width)
	assert.InDelta(t, 233, g.Height, 1)
	assert.InDelta(t, 3, g.Scale, 1e-9)
	assert.Equal(t, 700, Reduce(m, 2000).Height)
	assert.Zero(t, Reduce(image.NewRGBA(image.Rect(0, 0, 0, 0)), 10).Width)
}

// Four patches: upright, turned, round, and two that touch.
func TestFindFindsPatchesOfEveryShape(t *testing.T) {
	const turn = 0.35
	m := painted(400, 300, 1, func(x, y float64) [3]float64 {
		u, v := (x-200)*math.Cos(turn)+(y-70)*math.Sin(turn), (y-70)*math.Cos(turn)-(x-200)*math.Sin(turn)
		switch {
		case math.Abs(x-70) < 25 && math.Abs(y-70) < 20:
			return [3]float64{210, 120, 140}
		case math.Abs(u) < 22 && math.Abs(v) < 22:
			return [3]float64{120, 150, 210}
		case math.Hypot(x-320, y-70) < 24:
			return [3]float64{140, 200, 120}
		case x > 60 && x < 100 && y > 180 && y < 220:
			return [3]float64{230, 200, 120}
		case x >= 100 && x < 140 && y > 180 && y < 220:
			return [3]float64{215, 180, 110}
		}
		return [3]float64{240, 238, 232}
	})
	all := Reduce(m, 1000).Find()
	for _, want := range []struct {
		x, y, area, square float64
	}{{70, 70, 50 * 40, 1}, {200, 70, 44 * 44, 1}, {320, 70, math.Pi * 24 * 24, 2 / math.Pi}, {80, 200, 40 * 40, 1}, {120, 200, 40 * 40, 1}} {
		found := 0
		for _, p := range all {
			if p.Middle.Distance(colorimetry.Point{X: want.x, Y: want.y}) > 3 {
				continue
			}
			found++
			assert.InDelta(t, want.area, p.Area, 0.2*want.area)
			assert.InDelta(t, want.square, p.Square, 0.12)
			assert.InDelta(t, 1, areaOf(p.Corners[:])/p.Area, 0.15, "the corners enclose the patch's area")
		}
		assert.Equal(t, 1, found, "patch at %g, %g", want.x, want.y)
	}
}

// What is printed on a patch belongs to it, and a frame is no patch.
func TestFindTakesInWhatAPatchEncloses(t *testing.T) {
	m := painted(400, 200, 0.5, func(x, y float64) [3]float64 {
		switch {
		case math.Abs(x-50) < 5 && math.Abs(y-50) < 8:
			return [3]float64{30, 30, 30}
		case math.Abs(x-50) < 25 && math.Abs(y-50) < 25:
			return [3]float64{200, 120, 160}
		case math.Abs(x-140) < 30 && math.Abs(y-50) < 30 && !(math.Abs(x-140) < 22 && math.Abs(y-50) < 22):
			return [3]float64{40, 90, 160}
		}
		return [3]float64{240, 240, 235}
	})
	var left, right float64
	for _, p := range Reduce(m, 1000).Find() {
		if p.Middle.X < 100 {
			left = max(left, p.Area)
		} else {
			right = max(right, p.Area)
		}
	}
	assert.InDelta(t, 50*50, left, 0.15*50*50)
	assert.InDelta(t, 44*44, right, 0.15*44*44, "what the frame encloses, not the frame")
}

// An angle of two arms is no patch: it fills 0.56 of its box and 0.71 of its hull.
func TestFindFindsNoPatchesInBentShapes(t *testing.T) {
	angle := func(x, y float64) [3]float64 {
		if x > 60 && x < 120 && y > 60 && y < 120 && !(x > 80 && y < 100) {
			return [3]float64{200, 120, 160}
		}
		return [3]float64{240, 240, 235}
	}
	assert.Empty(t, Reduce(painted(400, 400, 0.5, angle), 1000).Find())
	square := func(x, y float64) [3]float64 {
		if x > 60 && x < 120 && y > 60 && y < 120 {
			return [3]float64{200, 120, 160}
		}
		return [3]float64{240, 240, 235}
	}
	assert.Len(t, Reduce(painted(400, 400, 0.5, square), 1000).Find(), 1, "and yet the whole is one")
}

func TestFindFindsNoPatchesInGrain(t *testing.T) {
	m := painted(300, 300, 25, func(x, y float64) [3]float64 { return [3]float64{150, 140, 120} })
	assert.Empty(t, Reduce(m, 300).Find())
}

func TestWithinIsMeanAndSpread(t *testing.T) {
	m := painted(60, 60, 0, func(x, y float64) [3]float64 {
		if x < 30 {
			return [3]float64{100, 100, 100}
		}
		return [3]float64{200, 200, 200}
	})
	g := Reduce(m, 60)
	box := func(x0, x1 float64) [4]colorimetry.Point {
		return [4]colorimetry.Point{{X: x0, Y: 10}, {X: x1, Y: 10}, {X: x1, Y: 50}, {X: x0, Y: 50}}
	}
	left, spread := g.Within(box(5, 25))
	assert.InDelta(t, 0, spread, 1e-3)
	right, _ := g.Within(box(35, 55))
	both, spread := g.Within(box(20, 40))
	assert.InDelta(t, (left.L+right.L)/2, both.L, 0.01)
	assert.InDelta(t, (right.L-left.L)/2, spread, 0.01)
	_, spread = g.Within(box(-40, -20))
	assert.Zero(t, spread, "outside the ground there is nothing to spread")
}

func FuzzFind(f *testing.F) {
	f.Add(uint8(20), []byte{1, 2, 3, 200, 100, 50, 7})
	f.Add(uint8(3), []byte{255})
	f.Fuzz(func(t *testing.T, width uint8, data []byte) {
		w := int(width)%64 + 1
		h := min(64, len(data)/w+1)
		m := image.NewRGBA(image.Rect(0, 0, w*3, h*3)) // blocks, so that there are flat areas
		for y := range h * 3 {
			for x := range w * 3 {
				if k := y/3*w + x/3; k < len(data) {
					m.SetRGBA(x, y, color.RGBA{data[k] & 0xe0, data[k] << 3, data[k] << 6, 255})
				}
			}
		}
		g := Reduce(m, 150)
		for _, p := range g.Find() {
			require.True(t, g.Has(p.Middle))
			require.True(t, p.Area > 0 && p.Convex > 0 && p.Square > 0 && !math.IsNaN(p.Colour.L))
		}
	})
}
