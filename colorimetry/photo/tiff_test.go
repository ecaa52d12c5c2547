package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/tiff"

	"padband/colorimetry"
)

// A TIFF gives the samples of the PNG of the same picture to the last bit, in
// all eight orientations of its own tag.
func TestTIFFEightOrientations(t *testing.T) {
	m := scene(97, 61)
	want := mustDecode(t, pngOf(t, m))
	for n := 1; n <= 8; n++ {
		p := mustDecode(t, rgbTIFF(storedFor(m, n), short(274, uint16(n))))
		assert.Equal(t, "TIFF", p.Facts.Format)
		assert.Equal(t, n, p.Facts.Orientation)
		assert.Equal(t, []int{97, 61}, []int{p.Width, p.Height})
		for i, r := range turnMarks(t) {
			assert.Equal(t, mustSample(t, want, r), mustSample(t, p, r), "orientation %d, mark %d", n, i)
		}
	}
}

// What the camera says stands in the same table as the picture, however large the file.
func TestTIFFFacts(t *testing.T) {
	p := mustDecode(t, rgbTIFF(scene(200, 160), short(274, 3), entry{271, 2, 8, []byte("Orchard\x00")}, entry{272, 2, 9, []byte("Pocket 3\x00")}))
	assert.Equal(t, []string{"Orchard", "Pocket 3"}, []string{p.Facts.Make, p.Facts.Model})
	assert.Equal(t, 3, p.Facts.Orientation)
	assert.Equal(t, []string{"no-profile"}, codes(p))
	assert.Contains(t, codes(mustDecode(t, rgbTIFF(scene(20, 20), short(274, 9)))), "orientation-unknown")
}

// One scene in sRGB, Display P3 and Adobe RGB, each said by the ICC tag.
func TestTIFFTwinsInThreeSpaces(t *testing.T) {
	for name, c := range map[string]struct {
		space   colorimetry.RGBSpace
		profile []byte
	}{"sRGB": {colorimetry.SRGB, profileSRGB()}, "P3": {colorimetry.DisplayP3, profileP3()}, "Adobe RGB": {colorimetry.AdobeRGB, profileAdobe()}} {
		p := mustDecode(t, rgbTIFF(twin(c.space, false).(*image.NRGBA), iccTag(c.profile)))
		assert.Equal(t, "Test "+name, p.Facts.Profile)
		checkTwin(t, p, 0.35, name)
	}
	outside := iccTag(profileP3())
	outside.count = 1 << 31
	p := mustDecode(t, rgbTIFF(scene(20, 20), outside))
	assert.Equal(t, []string{"profile-dropped"}, codes(p))
}

// Every way a TIFF can store a grey or a colour gives the same numbers.
func TestTIFFKinds(t *testing.T) {
	bounds := image.Rect(0, 0, 20, 20)
	grey8, grey16 := image.NewGray(bounds), image.NewGray16(bounds)
	fill(grey8, bounds, color.Gray{119})
	fill(grey16, bounds, color.Gray16{119 * 257})
	rgb8, rgb16 := image.NewNRGBA(bounds), image.NewNRGBA64(bounds)
	fill(rgb8, bounds, color.NRGBA{119, 119, 119, 255})
	fill(rgb16, bounds, color.NRGBA64{119 * 257, 119 * 257, 119 * 257, 0xffff})
	palette := image.NewPaletted(bounds, color.Palette{color.NRGBA{0, 0, 0, 255}, color.NRGBA{119, 119, 119, 255}})
	fill(palette, bounds, color.NRGBA{119, 119, 119, 255})
	negative := tiffParts(20, 20, 1, 8)
	negative[262] = short(262, 0)
	files := map[string][]byte{"negative grey": tiffOf(negative, bytes.Repeat([]byte{255 - 119}, 400))}
	for name, m := range map[string]image.Image{"grey": grey8, "grey 16": grey16, "colour": rgb8, "colour 16": rgb16, "palette": palette} {
		for _, kind := range []tiff.CompressionType{tiff.Uncompressed, tiff.Deflate} {
			var b bytes.Buffer
			require.NoError(t, tiff.Encode(&b, m, &tiff.Options{Compression: kind, Predictor: true}))
			files[name+map[tiff.CompressionType]string{tiff.Deflate: ", packed"}[kind]] = b.Bytes()
		}
	}
	// TIFF 6.0, section 8: without SamplesPerPixel (277) there is one sample a pixel.
	silent := tiffParts(20, 20, 1, 8)
	delete(silent, 277)
	files["grey without its number of samples"] = tiffOf(silent, bytes.Repeat([]byte{119}, 400))
	// Source: testdata/checks/srgb_p3_lab_crosscheck.csv, row 4.
	want := colorimetry.Lab{L: 50.0344387925}
	for name, file := range files {
		s := mustSample(t, mustDecode(t, file), rect(t, 0, 0, 20, 20))
		near(t, want, lab(s), 0.001, name)
		assert.Zero(t, s.Clipped+s.Floor+s.Glare+s.Transparent, name)
	}
	assert.Equal(t, 16, mustDecode(t, files["colour 16"]).Facts.Depth)
	assert.Equal(t, 8, mustDecode(t, files["palette"]).Facts.Depth)
}

// Colours that are multiplied by alpha are divided again, others left alone; both are said.
func TestTIFFAlpha(t *testing.T) {
	want := colorimetry.SRGB.XYZ(colorimetry.RGB{R: 0.8, G: 0.4, B: 0.2}).Lab(colorimetry.D50)
	all := rect(t, 0, 0, 20, 20)
	for name, c := range map[string]struct {
		kind  uint16
		pixel []byte
	}{"multiplied": {1, []byte{100, 50, 25, 125}}, "straight": {2, []byte{204, 102, 51, 125}}} {
		s := mustSample(t, mustDecode(t, tiffOf(tiffParts(20, 20, 4, 8), bytes.Repeat(c.pixel, 400), short(338, c.kind))), all)
		near(t, want, lab(s), exact, name)
		assert.Equal(t, 1.0, s.Transparent, name)
	}
}

// Valid kinds that the decoder does not read, or would read wrongly without a word.
func TestTIFFUnusual(t *testing.T) {
	pixels := make([]byte, 20*20*8)
	plain := func(more ...entry) []byte { return tiffOf(tiffParts(20, 20, 3, 8), pixels, more...) }
	bits := func(v uint16, n int) entry { return tiffParts(1, 1, n, v)[258] }
	for want, file := range map[string][]byte{
		"ink colours (CMYK)":                    tiffOf(tiffParts(20, 20, 4, 8), pixels, short(262, 5)),
		"colour model 6":                        plain(short(262, 6)),
		"colour model 8":                        plain(short(262, 8)),
		"colour model -1":                       plain(entry{262, 12, 1, nil}),
		"signed or floating point":              plain(short(339, 3)),
		"32 bits a channel":                     plain(bits(32, 3)),
		"1 bits a channel":                      tiffOf(tiffParts(20, 20, 1, 1), pixels),
		"a fourth channel of unknown meaning":   tiffOf(tiffParts(20, 20, 4, 8), pixels),
		"2 channels":                            tiffOf(tiffParts(20, 20, 2, 8), pixels, short(262, 1)),
		"5 channels":                            tiffOf(tiffParts(20, 20, 5, 8), pixels),
		"each channel on its own":               plain(short(284, 2)),
		"bits in reverse order":                 plain(short(266, 2)),
		"compression value 7":                   plain(short(259, 7)),
		"this is a raw camera file: valid but ": plain(entry{50706, 1, 4, []byte{1, 4, 0, 0}}),
	} {
		_, err := Decode(file, Limits{})
		var e *UnsupportedError
		require.ErrorAs(t, err, &e, want)
		assert.Contains(t, err.Error(), want)
		oneLine(t, err, want)
	}
	for name, file := range map[string][]byte{
		"filter array":     plain(short(262, 32803)),
		"linear raw":       plain(short(262, 34892)),
		"a small preview":  plain(long(254, 1)),
		"preview as JPEG":  plain(short(259, 6), long(330, 8)),
		"by its magic":     join([]byte("II*\x00\x10\x00\x00\x00CR\x02\x00\x00\x00\x00\x00"), make([]byte, 6)),
		"with its filters": plain(entry{33421, 3, 2, []byte{2, 0, 2, 0}}),
	} {
		_, err := Decode(file, Limits{})
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), "raw camera file", name)
	}
}

// TIFF files that are broken or too large.
func TestTIFFBroken(t *testing.T) {
	m := scene(20, 20)
	file := rgbTIFF(m)
	at := func(tag uint16) int { // place of a tag's value
		for i := 10; ; i += 12 {
			if binary.LittleEndian.Uint16(file[i:]) == tag {
				return i + 8
			}
		}
	}
	var broken *BrokenError
	for name, bad := range map[string][]byte{
		"table outside":        []byte("II*\x00\xff\xff\xff\xff"),
		"table at 0":           edited(file, 4, 0, 0, 0, 0),
		"header cut":           file[:6],
		"table cut":            file[:40],
		"endless table":        edited(file, 8, 0xff, 0xff),
		"strip outside":        edited(file, at(273), 0xff, 0xff, 0xff, 0x7f),
		"strip cut":            file[:len(file)-1],
		"strip too short":      edited(file, at(279), 9, 0, 0, 0),
		"width 0":              edited(file, at(256), 0, 0, 0, 0),
		"width beyond 2^31":    edited(file, at(256), 0xff, 0xff, 0xff, 0xff),
		"no height":            edited(file, at(257)-8, 0xff, 0x00),
		"12000 x 12000 in 1 K": edited(edited(file, at(256), 0xe0, 0x2e), at(257), 0xe0, 0x2e),
		"rows of a strip, 0":   edited(file, at(278)-8, 0, 0),
	} {
		_, err := Decode(bad, Limits{})
		require.ErrorAs(t, err, &broken, name)
		assert.Contains(t, err.Error(), "the TIFF photo", name)
		oneLine(t, err, name)
	}
	var large *TooLargeError
	for _, side := range [][2]byte{{0xff, 0x00}, {0xff, 0x7f}} {
		_, err := Decode(edited(edited(file, at(256), 0xff, 0xff, side[0], side[1]), at(257), 0xff, 0xff, side[0], side[1]), Limits{})
		require.ErrorAs(t, err, &large)
		oneLine(t, err, "large")
	}
}

// Of several pictures in a file the first counts.
func TestTIFFOfTwoPictures(t *testing.T) {
	m := scene(40, 30)
	one := rgbTIFF(m)
	two := bytes.Clone(one)
	n := int(binary.LittleEndian.Uint16(two[8:]))
	binary.LittleEndian.PutUint32(two[10+12*n:], 8) // a next table, which is the first again
	r := rect(t, 2, 2, 16, 12)
	assert.Equal(t, mustSample(t, mustDecode(t, one), r), mustSample(t, mustDecode(t, two), r))
}
