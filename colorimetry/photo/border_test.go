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

// tenToNinety is the distance from 10 % to 90 % of an edge blurred by a
// Gaussian of standard deviation 1: twice the 90 % quantile of the standard
// normal distribution, 1.2815515655 (testdata/checks/normal_quantiles.csv).
const tenToNinety = 2 * 1.2815515655

// patchAt is a square patch of the brightness in, among the brightness out
// (both linear), its middle, side, turn (radians) and blur (pixels) given, with
// sensor noise of a spread in linear light.
type patchAt struct {
	x, y, side, turn, blur, noise float64
	in, out                       float64
}

func (p patchAt) paint(w, h int) image.Image {
	m := image.NewNRGBA64(image.Rect(0, 0, w, h))
	rng := rand.New(rand.NewPCG(7, 7))
	sin, cos := math.Sincos(p.turn)
	within := func(u float64) float64 {
		s := math.Max(p.blur, 1e-3) * math.Sqrt2
		return (math.Erf((u+p.side/2)/s) - math.Erf((u-p.side/2)/s)) / 2
	}
	for j := range h {
		for i := range w {
			dx, dy := float64(i)+0.5-p.x, float64(j)+0.5-p.y
			v := p.out + (p.in-p.out)*within(cos*dx+sin*dy)*within(cos*dy-sin*dx) + p.noise*rng.NormFloat64()
			c := code16(colorimetry.SRGB.Encode(math.Max(0, v)))
			m.SetNRGBA64(i, j, color.NRGBA64{c, c, c, 0xffff})
		}
	}
	return m
}

// mark is a mark drawn in by a share of the side from each edge.
func (p patchAt) mark(t *testing.T, share float64) colorimetry.Region {
	t.Helper()
	d := p.side * (0.5 - share)
	sin, cos := math.Sincos(p.turn)
	var corners []colorimetry.Point
	for _, k := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		corners = append(corners, colorimetry.Point{X: p.x + d*(k[0]*cos-k[1]*sin), Y: p.y + d*(k[0]*sin+k[1]*cos)})
	}
	r, err := colorimetry.NewPolygon(corners...)
	require.NoError(t, err)
	return r
}

// The width of an edge of known blur. Reading whole pixels along a slant adds
// a box of a pixel to the blur, and noise a little more.
func TestEdgeOfKnownBlur(t *testing.T) {
	for _, c := range []struct {
		what  string
		p     patchAt
		share float64
	}{
		{"dark patch", patchAt{x: 110, y: 105, side: 100, in: 0.2, out: 0.8}, 0.13},
		{"bright patch", patchAt{x: 110, y: 105, side: 100, in: 0.8, out: 0.25}, 0.13},
		{"pale patch", patchAt{x: 110, y: 105, side: 100, in: 0.6, out: 0.8, noise: 0.004}, 0.13},
		{"turned", patchAt{x: 110, y: 105, side: 100, turn: 0.35, in: 0.3, out: 0.8}, 0.13},
		{"noisy", patchAt{x: 110, y: 105, side: 100, in: 0.2, out: 0.8, noise: 0.02}, 0.13},
		{"marked to its edge", patchAt{x: 110, y: 105, side: 100, in: 0.3, out: 0.8}, 0},
	} {
		for _, blur := range []float64{1, 2, 4, 8} {
			c.p.blur = blur
			s := sampleOf(t, c.p.paint(220, 210), c.p.mark(t, c.share))
			assert.InDelta(t, tenToNinety*blur, s.Edge, 0.3+0.07*tenToNinety*blur, "%s, blur %v", c.what, blur)
			assert.InDelta(t, 100*(1-2*c.share), s.Side, 1e-6)
		}
	}
}

// A circle's normals and a polygon gone round the other way find the same edge.
func TestEdgeOfOtherShapes(t *testing.T) {
	p := patchAt{x: 110, y: 105, side: 100, blur: 3, in: 0.2, out: 0.8}
	m := p.paint(220, 210)
	disc, err := colorimetry.NewCircle(colorimetry.Point{X: p.x, Y: p.y}, 40)
	require.NoError(t, err)
	square := p.mark(t, 0.13)
	back, err := colorimetry.NewPolygon(square.Points[0], square.Points[3], square.Points[2], square.Points[1])
	require.NoError(t, err)
	// On the slant through a corner the two blurred sides fall together, so a
	// circle in a square sees some edges a little narrower.
	assert.InDelta(t, 3*tenToNinety, sampleOf(t, m, disc).Edge, 1.2)
	assert.InDelta(t, 3*tenToNinety, sampleOf(t, m, square).Edge, 0.5)
	assert.InDelta(t, 3*tenToNinety, sampleOf(t, m, back).Edge, 0.5)
}

func TestSharpEdgeIsUnderTwoPixels(t *testing.T) {
	p := patchAt{x: 64, y: 48, side: 50, in: 0.2, out: 0.8}
	s := sampleOf(t, p.paint(128, 96), p.mark(t, 0.13))
	assert.Greater(t, s.Edge, 0.3)
	assert.Less(t, s.Edge, 1.5)
	j := mustSample(t, mustDecode(t, jpegOf(t, p.paint(128, 96))), p.mark(t, 0.13))
	assert.Greater(t, j.Edge, 0.3)
	assert.Less(t, j.Edge, 2.0)
}

// A large patch is looked at in wider steps; the width still holds.
func TestEdgeOfALargePatch(t *testing.T) {
	p := patchAt{x: 400, y: 300, side: 400, blur: 12, in: 0.2, out: 0.8}
	assert.InDelta(t, 12*tenToNinety, sampleOf(t, p.paint(800, 600), p.mark(t, 0.13)).Edge, 2)
}

func TestNoEdgeIsZero(t *testing.T) {
	even := patchAt{x: 64, y: 48, side: 40, in: 0.5, out: 0.5}
	assert.Zero(t, sampleOf(t, even.paint(128, 96), even.mark(t, 0.13)).Edge)
	even.noise = 0.01
	assert.Zero(t, sampleOf(t, even.paint(128, 96), even.mark(t, 0.13)).Edge, "noise alone")
	faint := patchAt{x: 64, y: 48, side: 40, in: 0.5, out: 0.53, noise: 0.002}
	assert.Zero(t, sampleOf(t, faint.paint(128, 96), faint.mark(t, 0.13)).Edge, "contrast under 12 %")
}

// At the photo's corner two sides are left; a region that fills the photo has none.
func TestEdgeAtThePhotosBorder(t *testing.T) {
	p := patchAt{x: 10, y: 10, side: 100, blur: 2, in: 0.2, out: 0.8}
	assert.InDelta(t, 2*tenToNinety, sampleOf(t, p.paint(128, 96), rect(t, 0, 0, 56, 56)).Edge, 0.7)
	assert.Zero(t, sampleOf(t, p.paint(50, 50), rect(t, 0, 0, 50, 50)).Edge)
}

// The neighbour beyond a gap does not widen the edge, and the place of a
// profile's first extreme counts.
func TestEdgeStopsAtTheGap(t *testing.T) {
	left := patchAt{x: 80, y: 80, side: 60, blur: 2, in: 0.5, out: 0.8}.paint(240, 160)
	m := image.NewNRGBA64(left.Bounds())
	for y := range 160 {
		for x := range 240 {
			m.Set(x, y, left.At(x, y))
			if x >= 124 {
				m.SetNRGBA64(x, y, color.NRGBA64{0, 0, 0, 0xffff})
			}
		}
	}
	assert.InDelta(t, 2*tenToNinety, sampleOf(t, m, rect(t, 58, 58, 44, 44)).Edge, 0.6)
}

func TestWidthOfALine(t *testing.T) {
	ramp := []float64{0, 0, 0, 0, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 10, 10}
	for i := range ramp {
		ramp[i] = 0.2 + 0.05*ramp[i]
	}
	w, ok := riseWidth(ramp, 8)
	require.True(t, ok)
	assert.InDelta(t, 8, w, 1e-9, "from 10 to 90 % of a ramp of 10 places")
	sharpened := append([]float64(nil), ramp...)
	sharpened[4], sharpened[14] = 0.19, 0.71
	w, ok = riseWidth(sharpened, 8)
	require.True(t, ok)
	assert.InDelta(t, 8, w, 0.5)
	for _, line := range [][]float64{nil, ramp[:4], {0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2}} {
		_, ok = riseWidth(line, 8)
		assert.False(t, ok)
	}
	_, ok = riseWidth([]float64{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0}, 8)
	assert.False(t, ok, "black has no edge")
}

// A patch differs from what lies beside all of its sides; a mark on a band of one
// colour does not along the band, and a slope of the light counts nowhere. The
// expected distance is L* of the ratio of brightness (CIE 15), from 100.
func TestBesideOfAPatchAndOfABand(t *testing.T) {
	beside := func(p patchAt, stretch float64, mark colorimetry.Region) float64 {
		m := p.paint(200, 200).(*image.NRGBA64)
		for j := range 200 {
			for i := range 200 {
				c := m.NRGBA64At(i, j)
				if stretch > 0 { // a band from top to bottom, in light that slopes along it
					v := p.out
					if math.Abs(float64(i)+0.5-p.x) < p.side/2 {
						v = p.in
					}
					k := code16(colorimetry.SRGB.Encode(v * (1 + stretch*(float64(j)-p.y))))
					c = color.NRGBA64{k, k, k, 0xffff}
				}
				m.SetNRGBA64(i, j, c)
			}
		}
		photo := mustDecode(t, pngOf(t, m))
		return photo.Beside(mark, mustSample(t, photo, mark).XYZ)
	}
	p := patchAt{x: 100, y: 100, side: 80, in: 0.7, out: 0.6}
	want := 100 - (116*math.Cbrt(0.6/0.7) - 16)
	assert.InDelta(t, want, beside(p, 0, p.mark(t, 0.13)), 0.3)
	assert.InDelta(t, 0.001, beside(p, 1e-9, p.mark(t, 0.13)), 0.05, "on a band")
	assert.InDelta(t, 0.001, beside(p, 0.001, p.mark(t, 0.13)), 0.2, "on a band in light that slopes")
	assert.InDelta(t, 0.001, beside(patchAt{x: 100, y: 100, side: 80, in: 0.6, out: 0.6}, 0, p.mark(t, 0.13)), 0.05, "no patch")
}

// At the photo's rim there is nothing to look at.
func TestBesideAtTheRim(t *testing.T) {
	p := patchAt{x: 30, y: 100, side: 80, in: 0.7, out: 0.6}
	photo := mustDecode(t, pngOf(t, p.paint(200, 200)))
	mark := rect(t, 1, 60, 60, 80)
	assert.Zero(t, photo.Beside(mark, mustSample(t, photo, mark).XYZ))
}
