package photo

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
	"padband/colorimetry/photo/heif"
)

// patchColours are what heif-convert 1.15.1 writes for the middles of the four
// patches of patches.heic, its own way from luma and chroma to colour.
var patchColours = [4][3]float64{{236, 120, 169}, {60, 180, 80}, {250, 250, 250}, {19, 30, 110}}

func checkPatches(t *testing.T, p *Photo, space colorimetry.RGBSpace, what string) {
	t.Helper()
	for i, c := range patchColours {
		want := space.XYZ(colorimetry.RGB{R: c[0] / 255, G: c[1] / 255, B: c[2] / 255}).Lab(colorimetry.D50)
		near(t, want, lab(mustSample(t, p, rect(t, float64(64*(i%2)+8), float64(64*(i/2)+8), 48, 48))), 0.5, what) // half a code of rounding
	}
}

// Pictures with colour at every pixel, every second one, and every second one both ways.
func TestHEICPlanes(t *testing.T) {
	for _, name := range []string{"patches.heic", "patches422.heic", "patches444.heic"} {
		p := mustDecodeHEIC(t, photoFile(t, name))
		assert.Equal(t, "HEIC", p.Facts.Format)
		assert.Equal(t, 8, p.Facts.Depth)
		assert.Equal(t, []string{"no-profile"}, codes(p), "no colour box: sRGB, and said")
		checkPatches(t, p, colorimetry.SRGB, name)
	}
	g := mustDecodeHEIC(t, photoFile(t, "grey.heic"))
	for i, v := range []float64{158, 157, 250, 45} { // as heif-convert 1.15.1 writes them
		want := colorimetry.SRGB.XYZ(colorimetry.RGB{R: v / 255, G: v / 255, B: v / 255}).Lab(colorimetry.D50)
		near(t, want, lab(mustSample(t, g, rect(t, float64(64*(i%2)+8), float64(64*(i/2)+8), 48, 48))), exact, "grey")
	}
}

// The chroma beside a sharp edge is as coded, not smoothed: left of the edge
// at column 64 it is that of the left patch, right of it that of the right one.
// The codes are those that heif-convert 1.15.1 writes as y4m.
func TestHEICChromaIsAsCoded(t *testing.T) {
	p, err := heif.Read(photoFile(t, "patches.heic"))
	require.NoError(t, err)
	img, err := libraryDecoder(p.Repack(), p.Width, p.Height)
	require.NoError(t, err)
	m := img.(*image.YCbCr)
	assert.Equal(t, []byte{133, 133, 98, 98}, m.Cb[10*m.CStride+30:][:4])
	assert.Equal(t, []byte{182, 182, 76, 76}, m.Cr[10*m.CStride+30:][:4])
}

// Ten bits: the decoder cuts the lowest two off, and a reading is that of the
// middle of what they may have been. The file's column x holds the codes 4x to
// 4x + 3, row by row, without loss.
func TestHEICTenBits(t *testing.T) {
	p := mustDecodeHEIC(t, photoFile(t, "ramp10.heic"))
	assert.Equal(t, 10, p.Facts.Depth)
	for _, x := range []int{30, 100, 200, 255} {
		for y := range 4 {
			q := p.read(x, y+1) // row 0 has samples that the decoder spoils
			luma := 0.299*q.r + 0.587*q.g + 0.114*q.b
			assert.InDelta(t, float64(4*x+(y+1)%4)/1023, luma, 1.5/1023+1e-12, "0.375 of an 8-bit code")
			assert.InDelta(t, (4*float64(x)+1.5)/1023, luma, 1e-12)
			assert.InDelta(t, 0, q.r-luma, 1e-12, "grey stays grey")
		}
	}
}

// Ten bits of colour: the file's columns of 32 pixels hold luma 511 or 512 and
// chroma 552 + k and 532 + k, as dec265 (libde265 1.0.11) writes them. What
// they mean is the nclx box's to say; the decoder converts by it and back.
// Expected are the formulas of ITU-T H.273, 8.3, with shares and ranges written out here.
func TestHEICTenBitColour(t *testing.T) {
	luma := []float64{511, 511, 511, 511, 511, 512, 511, 511, 512, 511, 512, 512, 512, 512, 512, 512}
	for _, row := range []struct {
		props                  []([]byte)
		kr, kb                 float64
		zero, span, spanChroma float64
	}{
		{nil, 0.299, 0.114, 0, 1023, 1023}, // the coded picture itself says BT.601 and full
		{[][]byte{codeProp(1, 13, 6, 1)}, 0.299, 0.114, 0, 1023, 1023},
		{[][]byte{codeProp(1, 13, 2, 1)}, 0.299, 0.114, 0, 1023, 1023},
		{[][]byte{codeProp(1, 13, 1, 1)}, 0.2126, 0.0722, 0, 1023, 1023},
		{[][]byte{codeProp(12, 13, 9, 1)}, 0.2627, 0.0593, 0, 1023, 1023},
		{[][]byte{codeProp(1, 13, 5, 0)}, 0.299, 0.114, 64, 876, 896},
		{[][]byte{codeProp(1, 13, 1, 0)}, 0.2126, 0.0722, 64, 876, 896},
		{[][]byte{codeProp(12, 13, 9, 0)}, 0.2627, 0.0593, 64, 876, 896},
	} {
		p := mustDecodeHEIC(t, heicWith(t, "chroma10.heic", row.props...))
		var sum [3]float64
		for k := range luma {
			y, cb, cr := (luma[k]-row.zero)/row.span, (40+float64(k))/row.spanChroma, (20+float64(k))/row.spanChroma
			r, b := y+2*(1-row.kr)*cr, y+2*(1-row.kb)*cb
			g := (y - row.kr*r - row.kb*b) / (1 - row.kr - row.kb)
			q := p.read(32*k+16, 30)
			for i, d := range [3]float64{q.r - r, q.g - g, q.b - b} {
				assert.InDelta(t, 0, 255*d, 1.8, "%q, column %d, channel %d", row.props, k, i)
				sum[i] += 255 * d / 16
			}
		}
		for i := range sum {
			assert.InDelta(t, 0, sum[i], 0.45, "%q: the mean of channel %d, in 8-bit codes", row.props, i)
		}
	}
	_, err := Decode(heicWith(t, "chroma10.heic", codeProp(1, 13, 7, 1)), withHEIC)
	var unusual *UnsupportedError
	require.ErrorAs(t, err, &unusual)
}

// What the numbers mean is said by the item's own boxes, before what the coded
// picture says of itself.
func TestHEICColour(t *testing.T) {
	full601 := codeProp(2, 2, 6, 1)
	for _, row := range []struct {
		name  string
		props [][]byte
		space colorimetry.RGBSpace
		says  string
	}{
		{"nothing", nil, colorimetry.SRGB, nameNone},
		{"nclx that says nothing", [][]byte{full601}, colorimetry.SRGB, nameNone},
		{"nclx sRGB", [][]byte{codeProp(1, 13, 5, 1)}, colorimetry.SRGB, "sRGB"},
		{"nclx P3", [][]byte{codeProp(12, 13, 6, 1)}, colorimetry.DisplayP3, "Display P3"},
		{"profile", [][]byte{iccProp(profileAdobe())}, colorimetry.AdobeRGB, "Test Adobe RGB"},
		{"profile of the other kind", [][]byte{box("colr", []byte("rICC"), profileP3())}, colorimetry.DisplayP3, "Test P3"},
		{"profile and nclx", [][]byte{codeProp(12, 13, 6, 1), iccProp(profileAdobe())}, colorimetry.AdobeRGB, "Test Adobe RGB"},
		{"nclx and profile", [][]byte{iccProp(profileAdobe()), codeProp(12, 13, 6, 1)}, colorimetry.AdobeRGB, "Test Adobe RGB"},
	} {
		p := mustDecodeHEIC(t, heicWith(t, "patches.heic", row.props...))
		assert.Equal(t, row.says, p.Facts.Profile, row.name)
		checkPatches(t, p, row.space, row.name)
	}
	for name, props := range map[string][][]byte{
		"two profiles": {iccProp(profileP3()), iccProp(profileP3())}, "grey profile": {iccProp(greyProfile(2))}, "unknown codes": {codeProp(10, 13, 6, 1)},
	} {
		assert.Equal(t, []string{"profile-dropped"}, codes(mustDecodeHEIC(t, heicWith(t, "patches.heic", props...))), name)
	}
}

// The matrix and the range that the nclx box gives are those that count. The
// numbers are those of the first patch's planes, luma 160, chroma 133 and 182,
// by the formulas of ITU-T H.273, 8.3, worked out by hand for three of them.
func TestHEICMatrixAndRange(t *testing.T) {
	for _, row := range []struct {
		matrix  int
		full    byte
		r, g, b float64 // of 255
	}{
		{6, 1, 160 + 1.402*54, 160 - 0.344136*5 - 0.714136*54, 160 + 1.772*5},
		{1, 1, 160 + 1.5748*54, 160 - 0.187324*5 - 0.468124*54, 160 + 1.8556*5},
		{6, 0, 1.164384*144 + 1.596027*54, 1.164384*144 - 0.391762*5 - 0.812968*54, 1.164384*144 + 2.017232*5},
		{1, 0, 1.164384*144 + 1.792741*54, 1.164384*144 - 0.213249*5 - 0.532909*54, 1.164384*144 + 2.112402*5},
		{9, 1, 160 + 1.4746*54, 160 - 0.164553*5 - 0.571353*54, 160 + 1.8814*5},
	} {
		q := mustDecodeHEIC(t, heicWith(t, "patches.heic", codeProp(1, 13, row.matrix, row.full))).read(32, 32)
		assert.InDelta(t, row.r, 255*q.r, 1e-3, "%+v", row)
		assert.InDelta(t, row.g, 255*q.g, 1e-3, "%+v", row)
		assert.InDelta(t, row.b, 255*q.b, 1e-3, "%+v", row)
	}
}

// corners names the colours of corners.heic, as stored: 128 x 80 pixels.
var cornerColours = map[byte]colorimetry.RGB{
	'r': {R: 204, G: 64, B: 64}, 'g': {R: 64, G: 184, B: 84}, 'b': {R: 64, G: 94, B: 194}, 'y': {R: 214, G: 204, B: 94},
}

// corner names the colour nearest to a pixel's.
func corner(p *Photo, x, y int) byte {
	q := p.read(p.turn.stored(x, y))
	best, least := byte('?'), 30.0*30
	for name, c := range cornerColours {
		if d := sq(255*q.r-c.R) + sq(255*q.g-c.G) + sq(255*q.b-c.B); d < least {
			best, least = name, d
		}
	}
	return best
}

// Turning and mirroring in all combinations and both orders. The corners, top
// left, top right, bottom left, bottom right, are those that heif-convert
// 1.15.1 writes for the same file.
func TestHEICTurns(t *testing.T) {
	for _, row := range []struct {
		props       [][]byte
		corners     string
		orientation int
	}{
		{nil, "rgby", 1},
		{[][]byte{rotateProp(0)}, "rgby", 1},
		{[][]byte{rotateProp(1)}, "gyrb", 8},
		{[][]byte{rotateProp(2)}, "ybgr", 3},
		{[][]byte{rotateProp(3)}, "bryg", 6},
		{[][]byte{mirrorProp(0)}, "byrg", 4},
		{[][]byte{mirrorProp(1)}, "gryb", 2},
		{[][]byte{rotateProp(1), mirrorProp(0)}, "rbgy", 5},
		{[][]byte{mirrorProp(0), rotateProp(1)}, "ygbr", 7},
		{[][]byte{rotateProp(1), mirrorProp(1)}, "ygbr", 7},
		{[][]byte{mirrorProp(1), rotateProp(1)}, "rbgy", 5},
		{[][]byte{rotateProp(3), mirrorProp(0)}, "ygbr", 7},
		{[][]byte{rotateProp(3), mirrorProp(1)}, "rbgy", 5},
		{[][]byte{rotateProp(2), mirrorProp(0)}, "gryb", 2},
		{[][]byte{rotateProp(2), mirrorProp(1)}, "byrg", 4},
	} {
		p := mustDecodeHEIC(t, heicWith(t, "corners.heic", row.props...))
		w, h := p.Width-1, p.Height-1 // not the edge: the decoder spoils the first samples
		got := string([]byte{corner(p, 2, 2), corner(p, w-2, 2), corner(p, 2, h-2), corner(p, w-2, h-2)})
		assert.Equal(t, row.corners, got, "%q", row.props)
		assert.Equal(t, row.orientation, p.Facts.Orientation, "%q", row.props)
		size := []int{128, 80}
		if row.orientation >= 5 {
			size = []int{80, 128}
		}
		assert.Equal(t, size, []int{p.Width, p.Height})
		assert.Equal(t, []int{128, 80}, []int{p.Facts.StoredWidth, p.Facts.StoredHeight})
	}
}

// A turned or cut file gives the same colour, to the last bit of its mean, at the turned place.
func TestHEICTwins(t *testing.T) {
	plain := mustDecodeHEIC(t, heicWith(t, "corners.heic"))
	about := func(p *Photo, x, y, w, h int) colorimetry.XYZ {
		return mustSample(t, p, rect(t, float64(x-w/2)+0.5, float64(y-h/2)+0.5, float64(w), float64(h))).XYZ
	}
	for _, props := range [][][]byte{{rotateProp(1)}, {rotateProp(2), mirrorProp(0)}, {rotateProp(3), mirrorProp(1)}, {cutProp(100, 1, 70, 1, 6, 1, 3, 1), rotateProp(1)}} {
		p := mustDecodeHEIC(t, heicWith(t, "corners.heic", props...))
		for _, at := range []image.Point{{32, 20}, {96, 20}, {32, 60}, {96, 60}} {
			shown := shownAt(p, at)
			w, h := 18, 12
			if p.Facts.Orientation >= 5 {
				w, h = h, w
			}
			want, got := about(plain, at.X, at.Y, 18, 12), about(p, shown.X, shown.Y, w, h)
			assert.InDelta(t, want.X, got.X, 1e-12, "%q at %v", props, at)
			assert.InDelta(t, want.Y, got.Y, 1e-12, "%q at %v", props, at)
			assert.InDelta(t, want.Z, got.Z, 1e-12, "%q at %v", props, at)
		}
	}
}

// shownAt finds where a stored pixel is shown.
func shownAt(p *Photo, stored image.Point) image.Point {
	for y := range p.Height {
		for x := range p.Width {
			if u, v := p.turn.stored(x, y); u == stored.X && v == stored.Y {
				return image.Pt(x, y)
			}
		}
	}
	return image.Pt(-1, -1)
}

// A cut, before and behind a turn.
func TestHEICCut(t *testing.T) {
	p := mustDecodeHEIC(t, heicWith(t, "corners.heic", cutProp(30, 1, 20, 1, 40, 1, 20, 1)))
	assert.Equal(t, []int{30, 20}, []int{p.Width, p.Height})
	u, v := p.turn.stored(0, 0)
	assert.Equal(t, []int{49 + 40, 30 + 20}, []int{u, v}, "(128-30)/2 + 40, (80-20)/2 + 20")
	assert.Equal(t, byte('y'), corner(p, 0, 0))
	p = mustDecodeHEIC(t, heicWith(t, "corners.heic", rotateProp(1), cutProp(30, 1, 20, 1, -40, 2, -50, 1)))
	u, v = p.turn.stored(0, 0)
	assert.Equal(t, []int{127 - 4, 5}, []int{u, v}, "at (80-30)/2 - 20, (128-20)/2 - 50 of the turned picture, which is 80 wide")
	assert.Equal(t, []int{30, 20}, []int{p.Width, p.Height})
}
