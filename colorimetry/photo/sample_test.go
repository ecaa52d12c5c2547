package photo

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

var padColour = color.NRGBA{236, 120, 170, 255}

// labOf is the exact colour of 8-bit sRGB codes.
func labOf(c color.NRGBA) colorimetry.Lab { return xyzOf(c).Lab(colorimetry.D50) }

func xyzOf(c color.NRGBA) colorimetry.XYZ {
	return colorimetry.SRGB.XYZ(colorimetry.RGB{R: float64(c.R) / 255, G: float64(c.G) / 255, B: float64(c.B) / 255})
}

// noisy paints a pad of 100 by 100 with sensor noise of the given spread, in codes.
func noisy(c color.NRGBA, spread float64, seed uint64) *image.NRGBA {
	rng := rand.New(rand.NewPCG(seed, 1))
	m := image.NewNRGBA(image.Rect(0, 0, 100, 100))
	add := func(v uint8) uint8 {
		return uint8(math.Max(0, math.Min(255, math.Round(float64(v)+spread*rng.NormFloat64()))))
	}
	for y := range 100 {
		for x := range 100 {
			m.SetNRGBA(x, y, color.NRGBA{add(c.R), add(c.G), add(c.B), 255})
		}
	}
	return m
}

func sampleOf(t *testing.T, m image.Image, r colorimetry.Region) colorimetry.Sample {
	t.Helper()
	return mustSample(t, mustDecode(t, pngOf(t, m)), r)
}

var whole = colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: 0, Y: 0}, {X: 100, Y: 100}}}

// Glare over up to two fifths of a pad, as one blot, does not move its colour; the
// share left out is told (fault B19).
func TestGlare(t *testing.T) {
	clean := labOf(padColour)
	for _, share := range []int{0, 10, 25, 40} {
		m := noisy(padColour, 3, 1)
		shine := noisy(color.NRGBA{250, 232, 240, 255}, 3, 2)
		for y := range 100 {
			for x := range share {
				m.SetNRGBA(x, y, shine.NRGBAAt(x, y))
			}
		}
		s := sampleOf(t, m, whole)
		near(t, clean, lab(s), 1, "glare")
		assert.InDelta(t, float64(share)/100, s.Glare, 0.08, "share %d", share)
	}
}

// Sparkles and dust, pixel by pixel.
func TestSparklesAndDust(t *testing.T) {
	m := noisy(padColour, 3, 3)
	rng := rand.New(rand.NewPCG(4, 4))
	for range 500 {
		m.SetNRGBA(rng.IntN(100), rng.IntN(100), color.NRGBA{255, 255, 255, 255})
	}
	for range 12 { // hairs and crumbs
		x, y := rng.IntN(95), rng.IntN(95)
		fill(m, image.Rect(x, y, x+4, y+2), color.NRGBA{20, 15, 10, 255})
	}
	s := sampleOf(t, m, whole)
	near(t, labOf(padColour), lab(s), 0.5, "sparkles and dust")
	assert.InDelta(t, 0.05, s.Glare, 0.02)
	assert.InDelta(t, 0.05, s.Clipped, 0.02, "clipped pixels count whether or not they are left out")
}

// Fine texture averages in linear light: a checkerboard of black and white is
// half as light, Y = 0.5, not the darker mean of its codes (fault B19).
func TestCheckerboardInLinearLight(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 100, 100))
	for y := range 100 {
		for x := range 100 {
			v := uint8(255 * ((x + y) % 2))
			m.SetNRGBA(x, y, color.NRGBA{v, v, v, 255})
		}
	}
	s := sampleOf(t, m, whole)
	assert.InDelta(t, 0.5, s.XYZ.Y, 0.02)
	assert.InDelta(t, 0.5, s.Clipped, 0.03)
	assert.InDelta(t, 0.5, s.Floor, 0.03)
	assert.Zero(t, s.Glare)
}

// A slope over the region is told per pixel, and the centre is the colour at Place.
func TestGradient(t *testing.T) {
	m := image.NewNRGBA64(image.Rect(0, 0, 100, 100))
	for y := range 100 {
		for x := range 100 {
			v := code16(colorimetry.SRGB.Encode(0.3 + 0.002*(float64(x)+0.5) - 0.001*(float64(y)+0.5)))
			m.SetNRGBA64(x, y, color.NRGBA64{v, v, v, 0xffff})
		}
	}
	for _, r := range []colorimetry.Region{whole, rect(t, 20, 10, 41, 33), rect(t, 55.5, 60.5, 12, 30)} {
		s := sampleOf(t, m, r)
		assert.InDelta(t, 0.002, s.Slope[0].Y, 1e-5)
		assert.InDelta(t, -0.001, s.Slope[1].Y, 1e-5)
		assert.InDelta(t, 0.002*colorimetry.D50.X, s.Slope[0].X, 1e-5)
		assert.InDelta(t, 0.3+0.002*s.Place.X-0.001*s.Place.Y, s.XYZ.Y, 1e-4)
		assert.InDelta(t, r.Centroid().X, s.Place.X, 2.5)
		assert.Zero(t, s.Glare)
	}
}

// A hard edge at an odd column under halved colour planes (fault B20): with
// the margin that is kept, the pad's colour is that of its middle.
func TestHardEdgeUnderHalvedColour(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 128, 96))
	fill(m, m.Rect, color.NRGBA{40, 90, 60, 255})
	fill(m, image.Rect(33, 17, 83, 67), padColour)
	p := mustDecode(t, jpegOf(t, m))
	assert.Equal(t, 2, p.chroma)
	s := mustSample(t, p, rect(t, 33, 17, 50, 50))
	near(t, labOf(padColour), lab(s), 1.2, "marked to its edge")
	assert.Less(t, s.InsetShift, 1.0)
	assert.GreaterOrEqual(t, s.Place.X, 55.0)
	// Marked 3 pixels too wide, the neighbour's colour is not taken in.
	near(t, labOf(padColour), lab(mustSample(t, p, rect(t, 30, 14, 56, 56))), 1.5, "marked 3 pixels too wide")
}

// The margin: never less than 2 pixels, 4 where colour has a quarter of the columns.
func TestMargin(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 40, 40))
	fill(m, m.Rect, color.NRGBA{255, 0, 0, 255})
	fill(m, image.Rect(12, 12, 28, 28), padColour)
	r := rect(t, 10, 10, 20, 20)
	s := sampleOf(t, m, r)
	near(t, labOf(padColour), lab(s), 0.01, "2 pixels of the neighbour within the mark")
	assert.Equal(t, 16*16, s.Pixels)
	assert.InDelta(t, 0, s.InsetShift, 1e-9)
	p := mustDecode(t, pngOf(t, m))
	p.chroma = 4
	s, err := p.Sample(r)
	require.NoError(t, err)
	assert.Equal(t, 12*12, s.Pixels)
	inner := rect(t, 12, 12, 16, 16)
	assert.Equal(t, 12*12, sampleOf(t, m, inner).Pixels)
	assert.Equal(t, 8*8, mustSample(t, p, inner).Pixels)
	assert.Equal(t, 4, (&frame{ids: []byte{1, 2, 3}, sampling: []byte{0x41, 0x11, 0x11}}).chromaStep())
}

// A colour that changes towards the edge shows as a shift when the margin is doubled.
func TestInsetShift(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 100, 100))
	for y := range 100 {
		for x := range 100 {
			d := math.Hypot(float64(x)-49.5, float64(y)-49.5)
			v := uint8(200 - d)
			m.SetNRGBA(x, y, color.NRGBA{v, v, v, 255})
		}
	}
	assert.Greater(t, sampleOf(t, m, whole).InsetShift, 0.3)
	assert.Less(t, sampleOf(t, noisy(padColour, 3, 1), whole).InsetShift, 0.3)
}

// Clipped and floor: a channel at its end, on unclipped numbers.
func TestClippedAndFloor(t *testing.T) {
	m := noisy(color.NRGBA{128, 128, 128, 255}, 0, 1)
	fill(m, image.Rect(0, 0, 30, 100), color.NRGBA{128, 255, 128, 255})
	fill(m, image.Rect(80, 0, 100, 100), color.NRGBA{128, 128, 0, 255})
	s := sampleOf(t, m, whole)
	assert.InDelta(t, 0.28, s.Clipped, 0.06)
	assert.InDelta(t, 0.18, s.Floor, 0.06)
	wide := image.NewNRGBA64(image.Rect(0, 0, 20, 20))
	fill(wide, wide.Rect, color.NRGBA64{65534, 1, 30000, 0xffff})
	s = sampleOf(t, wide, rect(t, 0, 0, 20, 20))
	assert.Zero(t, s.Clipped+s.Floor, "one code of 16 bits from the end")
	// A JPEG colour beyond red's end: luma 255 with red difference 200.
	ycc := image.NewYCbCr(image.Rect(0, 0, 32, 32), image.YCbCrSubsampleRatio420)
	for i := range ycc.Y {
		ycc.Y[i] = 200
	}
	for i := range ycc.Cb {
		ycc.Cb[i], ycc.Cr[i] = 128, 200
	}
	read, _, err := readerFor(ycc, matrixJFIF)
	require.NoError(t, err)
	q := read(3, 3)
	// JFIF: R = Y + 1.402 (Cr - 128).
	assert.InDelta(t, (200+1.402*72)/255, q.r, 1e-12)
	assert.InDelta(t, (200-0.714136286201*72)/255, q.g, 1e-9)
	assert.InDelta(t, 200.0/255, q.b, 1e-12)
}

// The covariance is that of one pixel, and the effective number says what the
// centre is worth: about all pixels where each has noise of its own, a quarter
// where two by two share theirs.
func TestSpreadAndEffective(t *testing.T) {
	const spread = 6.0
	alone := noisy(color.NRGBA{150, 150, 150, 255}, spread, 9)
	s := sampleOf(t, alone, whole)
	step := (colorimetry.SRGB.Decode(151.0/255) - colorimetry.SRGB.Decode(149.0/255)) / 2
	y := colorimetry.SRGB.ToXYZ[1]
	want := sq(spread*step) * (sq(y[0]) + sq(y[1]) + sq(y[2]))
	assert.InEpsilon(t, want, s.Cov[1][1], 0.15)
	assert.Greater(t, s.Effective, 0.6*float64(s.Pixels))
	tied := image.NewNRGBA(alone.Rect)
	for y := range 100 {
		for x := range 100 {
			tied.SetNRGBA(x, y, alone.NRGBAAt(x/2*2, y/2*2))
		}
	}
	st := sampleOf(t, tied, whole)
	assert.Less(t, st.Effective, 0.4*float64(st.Pixels))
	assert.Greater(t, st.Effective, 0.12*float64(st.Pixels))
	small := sampleOf(t, tied, rect(t, 20, 20, 20, 20)) // its blocks are single pixels that touch
	assert.Less(t, small.Effective, 0.4*float64(small.Pixels))
}

// Over many noisy pads the centres scatter as their own covariance says.
func TestCentreScattersAsItSays(t *testing.T) {
	var got, said float64
	const n = 150
	r := rect(t, 10, 10, 40, 30)
	truth := xyzOf(color.NRGBA{150, 150, 150, 255}).Y
	var bias float64
	for seed := range uint64(n) {
		s := sampleOf(t, noisy(color.NRGBA{150, 150, 150, 255}, 8, 100+seed), r)
		got += sq(s.XYZ.Y - truth)
		bias += (s.XYZ.Y - truth) / n
		said += s.Cov[1][1] / s.Effective
	}
	// The curve lifts the mean of noisy codes a little; that is no scatter.
	assert.InDelta(t, 1.3, said/(got-n*sq(bias)), 0.5)
}

// A flat area has no spread and every pixel counts.
func TestFlat(t *testing.T) {
	s := sampleOf(t, noisy(padColour, 0, 1), whole)
	near(t, labOf(padColour), lab(s), 0.002, "flat")
	assert.InDelta(t, 0, s.Cov[1][1], 1e-20)
	assert.Equal(t, float64(s.Pixels), s.Effective)
	assert.InDelta(t, 50, s.Place.X, 1)
	assert.InDelta(t, 50, s.Place.Y, 1)
}

// Outside and too small are errors that say where, never a colour (fault C16).
func TestNoColourOutside(t *testing.T) {
	p := mustDecode(t, pngOf(t, noisy(padColour, 2, 1)))
	for _, r := range []colorimetry.Region{rect(t, 90, 10, 20, 20), rect(t, -5, 10, 20, 20), rect(t, 300, 300, 50, 50), rect(t, 10, 80, 20, 20.01), rect(t, -1e6, 0, 2e6, 50)} {
		s, err := p.Sample(r)
		var e *OutsideError
		require.ErrorAs(t, err, &e)
		assert.Contains(t, err.Error(), "100 x 100")
		assert.Equal(t, colorimetry.Sample{}, s)
		oneLine(t, err, "outside")
	}
	for _, r := range []colorimetry.Region{rect(t, 10, 10, 5, 60), rect(t, 10, 10, 9, 9), rect(t, 50, 50, 0.5, 0.5), rect(t, 3, 3, 90, 1), {Shape: colorimetry.Circle, Points: []colorimetry.Point{{X: 50, Y: 50}}, Radius: 4.5}} {
		s, err := p.Sample(r)
		var e *TooSmallError
		require.ErrorAs(t, err, &e, "%v", r)
		assert.Equal(t, colorimetry.Sample{}, s)
		oneLine(t, err, "small")
	}
	for _, r := range []colorimetry.Region{{}, {Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: math.NaN(), Y: 0}, {X: 10, Y: 10}}}, {Shape: colorimetry.Circle, Points: []colorimetry.Point{{X: 50, Y: 50}}, Radius: math.Inf(1)}} {
		_, err := p.Sample(r)
		var e *colorimetry.RegionError
		require.ErrorAs(t, err, &e)
	}
	// On the border, to the last pixel, is inside.
	near(t, labOf(padColour), lab(mustSample(t, p, rect(t, 80, 80, 20, 20))), 1, "corner")
	near(t, labOf(padColour), lab(mustSample(t, p, rect(t, 10, 10, 10, 10))), 2, "the least")
}

// The three shapes over one pad, the pad among other colours.
func TestShapes(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 100, 100))
	fill(m, m.Rect, color.NRGBA{10, 200, 30, 255})
	for y := range 100 {
		for x := range 100 {
			if math.Hypot(float64(x)-49.5, float64(y)-49.5) < 31 {
				m.SetNRGBA(x, y, padColour)
			}
		}
	}
	star, err := colorimetry.NewPolygon(colorimetry.Point{X: 50, Y: 20}, colorimetry.Point{X: 60, Y: 42}, colorimetry.Point{X: 79, Y: 50}, colorimetry.Point{X: 58, Y: 58}, colorimetry.Point{X: 50, Y: 80}, colorimetry.Point{X: 42, Y: 57}, colorimetry.Point{X: 21, Y: 50}, colorimetry.Point{X: 41, Y: 41})
	require.NoError(t, err)
	disc, err := colorimetry.NewCircle(colorimetry.Point{X: 50, Y: 50}, 30)
	require.NoError(t, err)
	for _, r := range []colorimetry.Region{rect(t, 30, 30, 40, 40), disc, star} {
		s := sampleOf(t, m, r)
		near(t, labOf(padColour), lab(s), 0.01, r.Shape.String())
		assert.InDelta(t, 50, s.Place.X, 2)
		assert.InDelta(t, 50, s.Place.Y, 2)
		assert.Zero(t, s.Glare)
		assert.LessOrEqual(t, float64(s.Pixels), r.Area())
	}
}

// A large region costs what a small one does.
func TestLargeRegionIsThinned(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 2000, 1500))
	fill(m, m.Rect, color.Gray{119})
	p := mustDecode(t, pngOf(t, m))
	for _, r := range []colorimetry.Region{rect(t, 0, 0, 2000, 1500), rect(t, 0, 100, 2000, 12), rect(t, 100, 0, 9, 1500)} {
		s := mustSample(t, p, r)
		assert.LessOrEqual(t, s.Pixels, 20000)
		assert.GreaterOrEqual(t, s.Pixels, 300)
		near(t, colorimetry.Lab{L: 50.0344387925}, lab(s), 0.001, "large")
	}
	band, err := colorimetry.NewPolygon(colorimetry.Point{X: 0, Y: 0}, colorimetry.Point{X: 12, Y: 0}, colorimetry.Point{X: 2000, Y: 1490}, colorimetry.Point{X: 1990, Y: 1500})
	require.NoError(t, err)
	g := gridFor(band, 1)
	assert.GreaterOrEqual(t, g.step[0], 10, "at most 200 cells a side")
	assert.GreaterOrEqual(t, g.step[1], 7)
	mustSample(t, p, band)
}

// Three colours of which each two share brightness, redness or blueness, a third
// of the area each: every measure has its crowd, and no pixel is in all three.
func TestNoMainColour(t *testing.T) {
	m := image.NewNRGBA64(image.Rect(0, 0, 96, 96))
	for i, tone := range []tone{{0.3, 0, 0.1}, {0.3, 0.05, 0}, {0.4, 0, 0}} {
		c := colorimetry.SRGB.RGB(colorimetry.XYZ{X: (tone[0] + tone[1]) * colorimetry.D50.X, Y: tone[0], Z: (tone[0] + tone[2]) * colorimetry.D50.Z})
		fill(m, image.Rect(32*i, 0, 32*i+32, 96), color.NRGBA64{code16(c.R), code16(c.G), code16(c.B), 0xffff})
	}
	p := mustDecode(t, pngOf(t, m))
	s, err := p.Sample(rect(t, 0, 0, 96, 96))
	var mixed *MixedError
	require.ErrorAs(t, err, &mixed)
	assert.Equal(t, colorimetry.Sample{}, s)
	assert.EqualError(t, err, "the region at (48.0, 48.0) holds several colours and no main one: mark an area of one colour")
	_, err = p.Sample(rect(t, 0, 0, 32, 96))
	assert.NoError(t, err, "one of the three alone")
}

// The darkest and the brightest fifth are told even where the centre leaves them
// out: a third of the pad shines, a fifth of it is in shadow.
func TestOuterFifths(t *testing.T) {
	m := noisy(padColour, 1, 5)
	bright, dark := color.NRGBA{250, 232, 240, 255}, color.NRGBA{180, 90, 130, 255}
	for y := range 100 {
		for x := range 100 {
			switch {
			case x < 30:
				m.SetNRGBA(x, y, bright)
			case x >= 75:
				m.SetNRGBA(x, y, dark)
			}
		}
	}
	s := sampleOf(t, m, whole)
	near(t, labOf(padColour), lab(s), 1, "centre")
	near(t, labOf(bright), s.Bright.Lab(colorimetry.D50), 1, "brightest fifth")
	near(t, labOf(dark), s.Dark.Lab(colorimetry.D50), 1, "darkest fifth")
}
