package photo

import (
	"encoding/binary"
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

func gammaChunk(g uint32) []byte { return chunk("gAMA", binary.BigEndian.AppendUint32(nil, g)) }

func chrmChunk(v ...uint32) []byte {
	var b []byte
	for _, x := range v {
		b = binary.BigEndian.AppendUint32(b, x)
	}
	return chunk("cHRM", b)
}

// chrmSRGB are the sRGB primaries and D65.
func chrmSRGB() []byte { return chrmChunk(31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000) }

// flat is a PNG of one colour.
func flat(t *testing.T, r, g, b uint8) []byte {
	m := image.NewNRGBA(image.Rect(0, 0, 20, 20))
	fill(m, m.Rect, color.NRGBA{r, g, b, 255})
	return pngOf(t, m)
}

// Of several colour statements one counts: cICP, iCCP, sRGB, then gAMA with
// cHRM (PNG specification, third edition, 4.3; fault B08).
func TestPNGColourOrder(t *testing.T) {
	file := flat(t, 236, 120, 170)
	c := colorimetry.RGB{R: 236.0 / 255, G: 120.0 / 255, B: 170.0 / 255}
	pure := func(g float64) colorimetry.Lab {
		lin := colorimetry.XYZ{X: math.Pow(c.R, 1/g), Y: math.Pow(c.G, 1/g), Z: math.Pow(c.B, 1/g)}
		return colorimetry.SRGB.ToXYZ.Apply(lin).Lab(colorimetry.D50)
	}
	srgb := colorimetry.SRGB.XYZ(c).Lab(colorimetry.D50)
	p3 := colorimetry.DisplayP3.XYZ(c).Lab(colorimetry.D50)
	adobe := colorimetry.AdobeRGB.XYZ(c).Lab(colorimetry.D50)
	cicpP3, cicpSRGB := chunk("cICP", []byte{12, 13, 0, 1}), chunk("cICP", []byte{1, 13, 0, 1})
	icc, tag, linear := iccpChunk(profileAdobe()), chunk("sRGB", []byte{0}), gammaChunk(100000)
	for _, row := range []struct {
		name   string
		chunks [][]byte
		want   colorimetry.Lab
		says   string
	}{
		{"nothing", nil, srgb, nameNone},
		{"sRGB", [][]byte{tag}, srgb, "sRGB"},
		{"cICP P3", [][]byte{cicpP3}, p3, "Display P3"},
		{"cICP sRGB", [][]byte{cicpSRGB}, srgb, "sRGB"},
		{"iCCP", [][]byte{icc}, adobe, "Test Adobe RGB"},
		{"all, P3 first", [][]byte{cicpP3, icc, tag, linear, chrmSRGB()}, p3, "Display P3"},
		{"all, P3 last", [][]byte{chrmSRGB(), linear, tag, icc, cicpP3}, p3, "Display P3"},
		{"cICP sRGB over iCCP", [][]byte{icc, cicpSRGB}, srgb, "sRGB"},
		{"iCCP over the rest", [][]byte{linear, tag, icc, chrmSRGB()}, adobe, "Test Adobe RGB"},
		{"sRGB over gAMA", [][]byte{linear, tag}, srgb, "sRGB"},
		{"gAMA 1", [][]byte{linear}, pure(1), "gamma 1 with sRGB primaries"},
		{"gAMA 0.45455", [][]byte{gammaChunk(45455)}, pure(0.45455), "gamma 0.45455 with sRGB primaries"},
		{"gAMA and cHRM", [][]byte{gammaChunk(45455), chrmSRGB()}, pure(0.45455), "gamma 0.45455 with its own primaries"},
		{"cHRM alone", [][]byte{chrmSRGB()}, srgb, nameNone},
	} {
		p := mustDecode(t, afterIHDR(file, row.chunks...))
		assert.Equal(t, row.says, p.Facts.Profile, row.name)
		near(t, row.want, lab(mustSample(t, p, rect(t, 0, 0, 20, 20))), exact, row.name)
	}
	require.Greater(t, colorimetry.DeltaE76(srgb, pure(0.45455)), 0.3, "a gamma of 0.45455 is not the sRGB curve")
}

// Adobe RGB stated by gAMA and cHRM alone. Chromaticities and the exponent
// 563/256 are those of the Adobe RGB (1998) specification, from memory.
func TestPNGChromaticities(t *testing.T) {
	file := afterIHDR(flat(t, 90, 200, 60), gammaChunk(45471), chrmChunk(31270, 32900, 64000, 33000, 21000, 71000, 15000, 6000))
	want := colorimetry.AdobeRGB.XYZ(colorimetry.RGB{R: 90.0 / 255, G: 200.0 / 255, B: 60.0 / 255}).Lab(colorimetry.D50)
	near(t, want, lab(mustSample(t, mustDecode(t, file), rect(t, 0, 0, 20, 20))), exact, "Adobe RGB by cHRM")
}

func TestPNGColourNonsense(t *testing.T) {
	file := flat(t, 236, 120, 170)
	for name, c := range map[string][]byte{
		"iCCP that cannot be unpacked": chunk("iCCP", []byte("name\x00\x00junk")),
		"iCCP without a name":          chunk("iCCP", []byte("\x00\x00junk")),
		"iCCP cut":                     chunk("iCCP", []byte("name")),
		"iCCP empty":                   iccpChunk(nil),
		"iCCP twice":                   join(iccpChunk(profileP3()), iccpChunk(profileP3())),
		"iCCP of 64 MB":                iccpChunk(make([]byte, 64<<20)),
		"gAMA tiny":                    gammaChunk(1),
		"gAMA huge":                    gammaChunk(4e9),
		"primaries on one line":        join(gammaChunk(45455), chrmChunk(31270, 32900, 30000, 30000, 40000, 40000, 50000, 50000)),
		"white of no light":            join(gammaChunk(45455), chrmChunk(31270, 0, 64000, 33000, 30000, 60000, 15000, 6000)),
	} {
		p, err := Decode(afterIHDR(file, c), Limits{})
		require.NoError(t, err, name)
		assert.Equal(t, []string{"profile-dropped"}, codes(p), name)
	}
	for name, c := range map[string][]byte{
		"PQ": {9, 16, 0, 1}, "HLG": {9, 18, 0, 1}, "XYZ primaries": {10, 13, 0, 1}, "logarithmic": {1, 9, 0, 1},
		"narrow range": {1, 13, 0, 0}, "with a matrix": {1, 13, 1, 1}, "short": {1, 13},
	} {
		_, err := Decode(afterIHDR(file, chunk("cICP", c)), Limits{})
		var u *UnsupportedError
		require.ErrorAs(t, err, &u, name)
		assert.Contains(t, err.Error(), "export", name)
	}
	// A statement behind the picture data is none.
	end := len(file) - 12
	p := mustDecode(t, join(file[:end], chunk("gAMA", []byte{0, 1, 0x86, 0xa0}), file[end:]))
	assert.Equal(t, nameNone, p.Facts.Profile)
}

// Every way a PNG can store a grey or a colour gives the same numbers.
func TestPNGKinds(t *testing.T) {
	bounds := image.Rect(0, 0, 20, 20)
	grey8, grey16 := image.NewGray(bounds), image.NewGray16(bounds)
	fill(grey8, bounds, color.Gray{119})
	fill(grey16, bounds, color.Gray16{119 * 257})
	rgb8, rgb16 := image.NewNRGBA(bounds), image.NewNRGBA64(bounds)
	fill(rgb8, bounds, color.NRGBA{119, 119, 119, 255})
	fill(rgb16, bounds, color.NRGBA64{119 * 257, 119 * 257, 119 * 257, 0xffff})
	palette := image.NewPaletted(bounds, color.Palette{color.NRGBA{0, 0, 0, 255}, color.NRGBA{119, 119, 119, 255}})
	fill(palette, bounds, color.NRGBA{119, 119, 119, 255})
	// Source: testdata/checks/srgb_p3_lab_crosscheck.csv, row 4.
	want := colorimetry.Lab{L: 50.0344387925}
	for name, c := range map[string]struct {
		m     image.Image
		depth int
	}{"grey": {grey8, 8}, "grey 16": {grey16, 16}, "colour": {rgb8, 8}, "colour 16": {rgb16, 16}, "palette of two": {palette, 1}} {
		p := mustDecode(t, pngOf(t, c.m))
		assert.Equal(t, c.depth, p.Facts.Depth, name)
		s := mustSample(t, p, rect(t, 0, 0, 20, 20))
		near(t, want, lab(s), 0.001, name)
		assert.Zero(t, s.Clipped+s.Floor+s.Glare+s.Transparent, name)
	}
}

// A grey picture takes a grey profile, and no RGB profile.
func TestGreyProfile(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 20, 20))
	fill(m, m.Rect, color.Gray{119})
	p := mustDecode(t, withICCP(pngOf(t, m), greyProfile(2)))
	assert.Equal(t, "Test grey", p.Facts.Profile)
	y := math.Pow(119.0/255, 2)
	near(t, colorimetry.Lab{L: 116*math.Cbrt(y) - 16}, lab(mustSample(t, p, rect(t, 0, 0, 20, 20))), exact, "grey")
	assert.Equal(t, []string{"profile-dropped"}, codes(mustDecode(t, withICCP(pngOf(t, m), profileP3()))))
	j := mustDecode(t, jpegOf(t, m, iccSegment(1, 1, greyProfile(2))))
	near(t, colorimetry.Lab{L: 116*math.Cbrt(y) - 16}, lab(mustSample(t, j, rect(t, 0, 0, 20, 20))), 0.3, "grey JPEG")
}

// Colours are not multiplied by alpha (fault B16): a patch under alpha 200
// has the colour of the opaque one, and says that it was not opaque; a wholly
// transparent one has none.
func TestAlpha(t *testing.T) {
	paint := func(a uint8, share int) []byte {
		m := image.NewNRGBA(image.Rect(0, 0, 20, 20))
		fill(m, m.Rect, color.NRGBA{240, 160, 195, 255})
		fill(m, image.Rect(0, 0, 20, share), color.NRGBA{240, 160, 195, a})
		return pngOf(t, m)
	}
	all := rect(t, 0, 0, 20, 20)
	opaque := mustSample(t, mustDecode(t, paint(255, 20)), all)
	near(t, colorimetry.SRGB.XYZ(colorimetry.RGB{R: 240.0 / 255, G: 160.0 / 255, B: 195.0 / 255}).Lab(colorimetry.D50), lab(opaque), exact, "opaque")
	for _, a := range []uint8{200, 1} {
		s := mustSample(t, mustDecode(t, paint(a, 20)), all)
		assert.Equal(t, opaque.XYZ, s.XYZ)
		assert.Equal(t, 1.0, s.Transparent)
	}
	half := mustSample(t, mustDecode(t, paint(200, 10)), all)
	assert.InDelta(t, 0.5, half.Transparent, 0.01)
	for _, share := range []int{20, 4} {
		_, err := mustDecode(t, paint(0, share)).Sample(all)
		var e *TransparentError
		require.ErrorAs(t, err, &e)
		assert.Greater(t, e.Share, 0.0)
	}
	hole := image.NewPaletted(image.Rect(0, 0, 20, 20), color.Palette{color.NRGBA{240, 160, 195, 200}, color.NRGBA{}})
	s := mustSample(t, mustDecode(t, pngOf(t, hole)), all)
	near(t, lab(opaque), lab(s), 1e-9, "palette")
	assert.Equal(t, 1.0, s.Transparent)
	fill(hole, image.Rect(8, 8, 12, 12), color.NRGBA{})
	_, err := mustDecode(t, pngOf(t, hole)).Sample(all)
	require.Error(t, err)
}

// 16 bits with alpha: each channel from its own place.
func TestDeepAlpha(t *testing.T) {
	m := image.NewNRGBA64(image.Rect(0, 0, 20, 20))
	fill(m, m.Rect, color.NRGBA64{code16(0.8), code16(0.4), code16(0.6), 0x8000})
	s := mustSample(t, mustDecode(t, pngOf(t, m)), rect(t, 0, 0, 20, 20))
	near(t, colorimetry.SRGB.XYZ(colorimetry.RGB{R: 0.8, G: 0.4, B: 0.6}).Lab(colorimetry.D50), lab(s), exact, "16 bits with alpha")
	assert.Equal(t, 1.0, s.Transparent)
}

// A decoder that hands over multiplied colours is undone too.
func TestMultipliedAlpha(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 1, 1))
	m.SetRGBA(0, 0, color.RGBA{100, 50, 25, 125})
	read, _, err := readerFor(m, matrixJFIF)
	require.NoError(t, err)
	q := read(0, 0)
	assert.InDelta(t, 0.8, q.r, 1e-12)
	assert.InDelta(t, 0.4, q.g, 1e-12)
	assert.InDelta(t, 0.2, q.b, 1e-12)
}
