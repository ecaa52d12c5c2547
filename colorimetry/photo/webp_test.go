package photo

import (
	"image"
	"image/color"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

func photoFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("../../testdata/photos/" + name)
	require.NoError(t, err)
	return data
}

// A lossless WebP gives the samples of the PNG of the same picture to the last
// bit, in all eight orientations.
func TestWebPEightOrientations(t *testing.T) {
	m := scene(97, 61)
	want := mustDecode(t, pngOf(t, m))
	for n := 1; n <= 8; n++ {
		p := mustDecode(t, losslessWebP(storedFor(m, n), nil, riffChunk("EXIF", orientationBlock(n))))
		assert.Equal(t, "WebP", p.Facts.Format)
		assert.Equal(t, n, p.Facts.Orientation)
		assert.Equal(t, []int{97, 61}, []int{p.Width, p.Height})
		for i, r := range turnMarks(t) {
			assert.Equal(t, mustSample(t, want, r), mustSample(t, p, r), "orientation %d, mark %d", n, i)
		}
	}
	labelled := losslessWebP(storedFor(m, 6), nil, riffChunk("EXIF", join([]byte("Exif\x00\x00"), orientationBlock(6))))
	assert.Equal(t, 6, mustDecode(t, labelled).Facts.Orientation, "as some writers put it, with JPEG's label")
}

// One scene in sRGB, Display P3 and Adobe RGB, each said by an ICCP chunk.
func TestWebPTwinsInThreeSpaces(t *testing.T) {
	for name, c := range map[string]struct {
		space   colorimetry.RGBSpace
		profile []byte
	}{"sRGB": {colorimetry.SRGB, profileSRGB()}, "P3": {colorimetry.DisplayP3, profileP3()}, "Adobe RGB": {colorimetry.AdobeRGB, profileAdobe()}} {
		m := twin(c.space, false).(*image.NRGBA)
		p := mustDecode(t, losslessWebP(m, riffChunk("ICCP", c.profile), nil))
		assert.Equal(t, "Test "+name, p.Facts.Profile)
		checkTwin(t, p, 0.35, name)
	}
	odd := scene(16, 16)
	assert.Equal(t, []string{"no-profile"}, codes(mustDecode(t, losslessWebP(odd, nil, nil))))
	for name, file := range map[string][]byte{
		"twice":    losslessWebP(odd, join(riffChunk("ICCP", profileP3()), riffChunk("ICCP", profileP3())), nil),
		"too late": losslessWebP(odd, nil, riffChunk("ICCP", profileP3())),
		"empty":    losslessWebP(odd, riffChunk("ICCP", nil), nil),
		"grey":     losslessWebP(odd, riffChunk("ICCP", greyProfile(2)), nil),
	} {
		assert.Equal(t, []string{"profile-dropped"}, codes(mustDecode(t, file)), name)
	}
	plain := webpOf(losslessChunk(odd, 1), riffChunk("ICCP", profileP3()), riffChunk("EXIF", orientationBlock(6)))
	p := mustDecode(t, plain)
	assert.Equal(t, []string{"no-profile"}, codes(p), "a file that is not extended has no such parts")
	assert.Zero(t, p.Facts.Orientation)
}

// Lossy WebP holds BT.601 in narrow codes, not JPEG's full ones. The numbers
// are what dwebp 1.2.4 writes for the middles of the file's four patches.
func TestWebPLossyColour(t *testing.T) {
	p := mustDecode(t, photoFile(t, "lossy.webp"))
	for i, c := range [4][3]float64{{236, 121, 171}, {61, 180, 80}, {250, 250, 250}, {20, 30, 111}} {
		x, y := float64(32*(i%2)), float64(32*(i/2))
		want := colorimetry.SRGB.XYZ(colorimetry.RGB{R: c[0] / 255, G: c[1] / 255, B: c[2] / 255}).Lab(colorimetry.D50)
		near(t, want, lab(mustSample(t, p, rect(t, x+4, y+4, 24, 24))), 0.5, "patch") // half a code of rounding
	}
}

// Colours under alpha are read as if opaque, and it is said; where the file
// says that alpha means nothing, it means nothing.
func TestWebPAlpha(t *testing.T) {
	p, opaque := mustDecode(t, photoFile(t, "alpha.webp")), mustDecode(t, photoFile(t, "lossy.webp"))
	for i, share := range []float64{0, 1} {
		r := rect(t, float64(32*i+4), 4, 24, 24)
		s := mustSample(t, p, r)
		near(t, lab(mustSample(t, opaque, r)), lab(s), 0.6, "under alpha")
		assert.Equal(t, share, s.Transparent)
	}
	m := image.NewNRGBA(image.Rect(0, 0, 20, 20))
	fill(m, m.Rect, color.NRGBA{240, 160, 195, 0})
	all := rect(t, 0, 0, 20, 20)
	_, err := mustDecode(t, webpOf(losslessChunk(m, 1))).Sample(all)
	var e *TransparentError
	require.ErrorAs(t, err, &e)
	s := mustSample(t, mustDecode(t, webpOf(losslessChunk(m, 0))), all)
	assert.Zero(t, s.Transparent)
	near(t, colorimetry.SRGB.XYZ(colorimetry.RGB{R: 240.0 / 255, G: 160.0 / 255, B: 195.0 / 255}).Lab(colorimetry.D50), lab(s), exact, "alpha that means nothing")
}

// WebP files that are broken, too large or of a kind that is not read.
func TestWebPRefused(t *testing.T) {
	m := scene(24, 20)
	picture := losslessChunk(m, 1)
	huge := []byte("RIFF\x14\x00\x00\x00WEBPVP8L\x08\x00\x00\x00\x2f\xff\xff\xff\x0f\x88\x88\x08") // 16384 x 16384 in 28 bytes
	var large *TooLargeError
	_, err := Decode(huge, Limits{})
	require.ErrorAs(t, err, &large)
	oneLine(t, err, "huge")
	var unusual *UnsupportedError
	_, err = Decode(huge, Limits{Pixels: 1 << 30})
	require.ErrorAs(t, err, &unusual)
	assert.EqualError(t, err, "this WebP packs 16384 x 16384 pixels into 28 bytes, as no photo does: send the original photo")
	_, err = Decode(webpOf(extendedHeader(2, 24, 20), riffChunk("ANIM", make([]byte, 6)), riffChunk("ANMF", picture)), Limits{})
	require.ErrorAs(t, err, &unusual)
	assert.Contains(t, err.Error(), "animation")
	lossy := photoFile(t, "lossy.webp")
	var broken *BrokenError
	for name, file := range map[string][]byte{
		"no picture":          webpOf(riffChunk("XMP ", nil)),
		"two pictures":        webpOf(picture, picture),
		"another size":        webpOf(extendedHeader(0, 25, 20), picture),
		"two headers":         webpOf(extendedHeader(0, 24, 20), extendedHeader(0, 24, 20), picture),
		"late header":         webpOf(picture, extendedHeader(0, 24, 20)),
		"short header":        webpOf(riffChunk("VP8X", make([]byte, 9)), picture),
		"part past the end":   webpOf(edited(picture, 4, 0xff, 0xff, 0xff, 0x7f)),
		"half a part":         webpOf([]byte("VP8L\x00")),
		"end missing":         webpOf(picture)[:len(picture)],
		"alpha of lossless":   webpOf(extendedHeader(16, 24, 20), riffChunk("ALPH", make([]byte, 1+24*20)), picture),
		"alpha unannounced":   webpOf(riffChunk("ALPH", make([]byte, 1+24*20)), picture),
		"two alphas":          webpOf(extendedHeader(16, 24, 20), riffChunk("ALPH", make([]byte, 481)), riffChunk("ALPH", make([]byte, 481)), picture),
		"another version":     webpOf(edited(picture, 12, 0xff)),
		"lossless, no magic":  webpOf(edited(picture, 8, 0)),
		"lossy, no key frame": edited(lossy, 20, 0x01),
		"lossy, no magic":     edited(lossy, 23, 0),
		"lossy, width 0":      edited(lossy, 26, 0, 0),
		"length below 4":      edited(lossy, 4, 1, 0, 0, 0),
		"picture cut":         webpOf(riffChunk("VP8L", picture[8:len(picture)/2])),
	} {
		_, err := Decode(file, Limits{})
		require.ErrorAs(t, err, &broken, name)
		assert.Contains(t, err.Error(), "the WebP photo", name)
		oneLine(t, err, name)
	}
}
