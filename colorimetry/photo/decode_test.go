package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/colorimetry"
)

// oneLine fails for an error that is no single plain line.
func oneLine(t *testing.T, err error, what string) {
	t.Helper()
	assert.NotContains(t, err.Error(), "\n", what)
	assert.Less(t, len(err.Error()), 300, what)
	assert.Contains(t, err.Error(), ": ", what)
}

// What it is comes from the bytes (fault C19): known formats that are not
// read are named, and what is none is called none.
func TestNotAPhoto(t *testing.T) {
	for name, file := range map[string]string{
		"AVIF":                     "\x00\x00\x00\x1cftypavif\x00\x00\x00\x00avifmif1miaf",
		"video":                    "\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00mp42isom",
		"BigTIFF":                  "II+\x00\x08\x00\x00\x00",
		"raw camera":               "FUJIFILMCCD-RAW 0201",
		"raw of a kind like video": "\x00\x00\x00\x18ftypcrx \x00\x00\x00\x01crx isom",
		"GIF":                      "GIF89a\x01\x00\x01\x00",
		"PDF":                      "%PDF-1.7\n",
		"BMP":                      "BM\x46\x00\x00\x00\x00\x00\x00\x00\x36\x00\x00\x00\x28\x00\x00\x00" + strings.Repeat("\x00", 20),
		"ZIP":                      "PK\x03\x04\x14\x00",
		"empty":                    "",
		"text":                     "<html>not found</html>",
		"no photo":                 "\x00\x01\x02\x03\xff\xfe",
		"JPEG XL":                  "\xff\x0a\x00\x00",
		"one byte":                 "\xff",
		"no photo, UT":             strings.Repeat("é", 300),
	} {
		_, err := Decode([]byte(file), Limits{})
		var e *NotPhotoError
		require.ErrorAs(t, err, &e, name)
		oneLine(t, err, name)
		word, _, _ := strings.Cut(name, " ")
		switch word {
		case "no":
			word = "no photo"
		case "one":
			word = "no photo"
		}
		assert.Contains(t, err.Error(), word, name)
	}
	_, err := Decode([]byte("GIF89a\x01\x00"), Limits{})
	assert.Contains(t, err.Error(), "valid but not supported")
}

// A PNG is a PNG and a JPEG a JPEG whatever the name was; the facts say which.
func TestFormatFromBytes(t *testing.T) {
	m := scene(32, 32)
	p := mustDecode(t, pngOf(t, m))
	assert.Equal(t, "PNG", p.Facts.Format)
	assert.Equal(t, 8, p.Facts.Depth)
	j := mustDecode(t, jpegOf(t, m))
	assert.Equal(t, "JPEG", j.Facts.Format)
	// SHA-256 of the whole file: of three known letters in FIPS 180-2, appendix B.1, from memory.
	assert.Equal(t, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", <-digest([]byte("abc")))
	assert.Len(t, j.Facts.SHA256, 64)
}

// Cut-off files (fault C01): the picture is refused even when only the end
// marker is missing, and the advice is to send it again.
func TestCutShort(t *testing.T) {
	noise := scene(160, 120)
	for name, file := range map[string][]byte{"JPEG": jpegOf(t, noise), "PNG": pngOf(t, noise)} {
		n := len(file)
		for _, keep := range []int{n - 1, n - 2, n - 40, n / 2, n / 10, 700, 60, 20, 9, 3} {
			_, err := Decode(file[:keep], Limits{})
			require.Error(t, err, "%s of %d bytes, %d kept", name, n, keep)
			oneLine(t, err, name)
			if keep > 8 {
				var e *BrokenError
				require.ErrorAs(t, err, &e, "%s, %d kept", name, keep)
				assert.Contains(t, err.Error(), "send it again")
			}
		}
	}
}

// A progressive JPEG cut at 60 %, and one whose end marker was put back.
func TestProgressiveCutShort(t *testing.T) {
	file, err := os.ReadFile("../../testdata/photos/progressive.jpg")
	require.NoError(t, err)
	mustDecode(t, file)
	for _, part := range [][]byte{file[:len(file)*6/10], join(file[:len(file)*6/10], []byte{0xff, 0xd9}), file[:len(file)-2]} {
		_, err = Decode(part, Limits{})
		var e *BrokenError
		assert.ErrorAs(t, err, &e)
	}
}

// A JPEG whose colour planes come in later scans that are not there would be
// handed over as a finished picture, in green.
func TestMissingColourPlane(t *testing.T) {
	file, err := os.ReadFile("../../testdata/photos/three_scans.jpg")
	require.NoError(t, err)
	mustDecode(t, file)
	first := findMarker(t, file, 0xda)
	second := first + 2 + bytes.Index(file[first+2:], []byte{0xff, 0xda})
	_, err = Decode(join(file[:second], []byte{0xff, 0xd9}), Limits{})
	var e *BrokenError
	require.ErrorAs(t, err, &e)
	assert.Contains(t, err.Error(), "colour plane")
}

// A scan that only refines does not begin a colour plane.
func TestScanThatRefines(t *testing.T) {
	w := jpegWalk{scanned: map[byte]bool{}}
	w.scan([]byte{1, 7, 0, 1, 63, 0})
	assert.Empty(t, w.scanned)
	w.scan([]byte{2, 7, 0, 8, 0, 0, 0, 1})
	assert.Equal(t, map[byte]bool{7: true, 8: true}, w.scanned)
}

// Restart markers lost or changed are refused, not guessed (fault C03).
func TestRestartMarkers(t *testing.T) {
	file, err := os.ReadFile("../../testdata/photos/restart.jpg")
	require.NoError(t, err)
	mustDecode(t, file)
	at := findMarker(t, file, 0xd1)
	for name, bad := range map[string][]byte{
		"removed": join(file[:at], file[at+2:]),
		"changed": edited(file, at+1, 0xd5),
	} {
		_, err := Decode(bad, Limits{})
		var e *BrokenError
		assert.ErrorAs(t, err, &e, name)
	}
}

// Colour planes sampled in ways that are valid and rare (fault C04): the
// message says unusual, not damaged.
func TestUnusualSampling(t *testing.T) {
	file := jpegOf(t, scene(64, 64))
	at := findMarker(t, file, 0xc0) + 11 // sampling of the first channel; the next ones 3 further each
	set := func(y, cb, cr byte) []byte {
		return edited(edited(edited(file, at, y), at+3, cb), at+6, cr)
	}
	for name, bad := range map[string][]byte{
		"1x4": set(0x14, 0x11, 0x11), "3x1": set(0x31, 0x11, 0x11), "mixed": set(0x22, 0x11, 0x12), "chroma finer": set(0x11, 0x22, 0x22),
		"12 bit":     edited(file, findMarker(t, file, 0xc0)+4, 12),
		"arithmetic": edited(file, findMarker(t, file, 0xc0)+1, 0xc9),
		"lossless":   edited(file, findMarker(t, file, 0xc0)+1, 0xc3),
	} {
		_, err := Decode(bad, Limits{})
		var e *UnsupportedError
		require.ErrorAs(t, err, &e, name)
		assert.Contains(t, err.Error(), "unusual JPEG", name)
		assert.Contains(t, err.Error(), "export it again", name)
		oneLine(t, err, name)
	}
}

// Ink pictures are refused in words.
func TestInkJPEG(t *testing.T) {
	file, err := os.ReadFile("../../testdata/photos/ink.jpg")
	require.NoError(t, err)
	_, err = Decode(file, Limits{})
	var e *UnsupportedError
	require.ErrorAs(t, err, &e)
	assert.Contains(t, err.Error(), "CMYK")
}

// A second picture behind the first is none of ours (fault B12).
func TestPictureBehindThePicture(t *testing.T) {
	m := scene(48, 32)
	one := jpegOf(t, m)
	grey := image.NewGray(image.Rect(0, 0, 48, 32))
	two := join(one, make([]byte, 512), jpegOf(t, grey))
	r := rect(t, 2, 2, 16, 12)
	assert.Equal(t, mustSample(t, mustDecode(t, one), r), mustSample(t, mustDecode(t, two), r))
}

// A JPEG that does not say which kind of channels it holds (fault B15).
func TestChannelKinds(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 32, 32))
	fill(m, m.Rect, color.NRGBA{236, 120, 170, 255})
	want := colorimetry.SRGB.XYZ(colorimetry.RGB{R: 236.0 / 255, G: 120.0 / 255, B: 170.0 / 255}).Lab(colorimetry.D50)
	r := rect(t, 0, 0, 32, 32)
	bare := mustDecode(t, bareJPEG(t, m))
	assert.Contains(t, codes(bare), "no-marker")
	near(t, want, lab(mustSample(t, bare, r)), 1, "bare")
	assert.NotContains(t, codes(mustDecode(t, jpegOf(t, m))), "no-marker")
	assert.NotContains(t, codes(mustDecode(t, afterSOI(bareJPEG(t, m), exifSegment(orientationBlock(1))))), "no-marker", "Exif files are luma and chroma")
	// Adobe technical note 5116, from memory: "Adobe", version, two words of flags, the transform.
	adobe := append([]byte("Adobe"), 0, 100, 0, 0, 0, 0, 1)
	marked := func(body []byte) []string {
		return codes(mustDecode(t, afterSOI(bareJPEG(t, m), segmentOf(0xee, body))))
	}
	assert.NotContains(t, marked(adobe), "no-marker", "an Adobe marker says luma and chroma")
	assert.Contains(t, marked(adobe[:11]), "no-marker", "an Adobe marker that breaks off")
	assert.Contains(t, marked([]byte("Orchard 2027")), "no-marker", "another maker's marker")

	file, err := os.ReadFile("../../testdata/photos/rgb_ids.jpg") // red, green and blue, ids R, G, B, no marker
	require.NoError(t, err)
	p := mustDecode(t, file)
	assert.Contains(t, codes(p), "no-marker")
	near(t, want, lab(mustSample(t, p, r)), 1, "ids R, G, B")
	sof, sos := findMarker(t, file, 0xc0), findMarker(t, file, 0xda)
	plain := append([]byte(nil), file...)
	for k := range 3 {
		plain[sof+10+3*k], plain[sos+5+2*k] = byte(k+1), byte(k+1)
	}
	assert.Contains(t, codes(mustDecode(t, plain)), "no-marker", "ids 1, 2, 3: nothing tells, so it is said")
}

// Sizes are held to the limits before any pixel is read (faults C07 and C17).
func TestSizes(t *testing.T) {
	j := jpegOf(t, scene(64, 64))
	sof := findMarker(t, j, 0xc0) + 5
	p := pngOf(t, scene(64, 64))
	ihdr := func(w, h uint32) []byte {
		b := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
		return join(p[:8], chunk("IHDR", append(b, 8, 6, 0, 0, 0)), p[33:])
	}
	var large *TooLargeError
	var broken *BrokenError
	for name, file := range map[string][]byte{
		"JPEG 65535 x 65535":         edited(j, sof, 0xff, 0xff, 0xff, 0xff),
		"PNG 255 x 1,677,721,600":    ihdr(255, 1677721600),
		"PNG 2^31-1 each way":        ihdr(1<<31-1, 1<<31-1),
		"PNG just above 200 million": ihdr(20000, 10001),
	} {
		_, err := Decode(file, Limits{})
		require.ErrorAs(t, err, &large, name)
		assert.Contains(t, err.Error(), "the limit is 200.0", name)
		oneLine(t, err, name)
	}
	for name, file := range map[string][]byte{
		"JPEG height 0": edited(j, sof, 0, 0), "JPEG width 0": edited(j, sof+2, 0, 0), "JPEG both 0": edited(j, sof, 0, 0, 0, 0),
		"PNG width 0": ihdr(0, 64), "PNG height 0": ihdr(64, 0), "PNG beyond 2^31": ihdr(1<<31, 64),
		"JPEG of 12000 x 12000 in a few bytes": edited(j, sof, 0x2e, 0xe0, 0x2e, 0xe0),
		"PNG of 12000 x 12000 in a few bytes":  ihdr(12000, 12000),
		"PNG without a picture":                join(p[:33], chunk("IEND", nil)),
		"PNG with a late header":               join(p[:33], p[8:33], p[33:]),
		"PNG with a changed checksum":          edited(p, len(p)-20, 0, 0, 0),
		"PNG with changed line ends":           bytes.Replace(p, []byte("\r\n"), []byte("\n"), 1),
		"PNG with a chunk of 2 GB":             join(p[:33], []byte("\x7f\xff\xff\xfftEXt"), p[33:]),
		"JPEG with two frames":                 join(j[:sof-5], j[sof-5:sof+14], j[sof-5:]),
		"JPEG without a frame":                 []byte("\xff\xd8\xff\xd9"),
		"JPEG of two bytes":                    []byte("\xff\xd8"),
	} {
		_, err := Decode(file, Limits{})
		require.ErrorAs(t, err, &broken, name)
		oneLine(t, err, name)
		if strings.Contains(name, "a few bytes") {
			assert.Contains(t, err.Error(), "cannot hold", name)
		}
		if strings.HasSuffix(name, " 0") {
			assert.Contains(t, err.Error(), "its header says", name)
		}
	}
	_, err := Decode(j, Limits{Pixels: 64*64 - 1})
	require.ErrorAs(t, err, &large)
	_, err = Decode(j, Limits{Pixels: 64 * 64})
	require.NoError(t, err)
	_, err = Decode(j, Limits{Bytes: int64(len(j)) - 1})
	require.ErrorAs(t, err, &large)
	assert.Contains(t, err.Error(), "bytes")
}

// Buffers shorter than their bounds are refused before the first pixel is read (fault C14's kind).
func TestShortBuffers(t *testing.T) {
	r := image.Rect(0, 0, 10, 10)
	short := image.NewNRGBA(r)
	short.Pix = short.Pix[:len(short.Pix)-1]
	ycc := image.NewYCbCr(r, image.YCbCrSubsampleRatio420)
	ycc.Cr = ycc.Cr[:20]
	narrow := image.NewGray(r)
	narrow.Stride = 9
	for _, m := range []image.Image{short, ycc, narrow, image.NewCMYK(r), image.NewGray(image.Rect(1, 0, 5, 5)), image.NewGray(image.Rectangle{})} {
		_, _, err := readerFor(m, matrixJFIF)
		assert.Error(t, err, "%T", m)
	}
}

// A scan of a few bytes can cost a walk over the whole picture, so their number
// is checked before the decoder sees the file.
func TestScansAreCounted(t *testing.T) {
	file := bareJPEG(t, scene(24, 20))
	start, end := findMarker(t, file, markSOS), len(file)-2
	scans := func(n int) []byte {
		return join(file[:start], bytes.Repeat(file[start:end], n), file[end:])
	}
	_, err := readHeader(scans(maxScans), Limits{}.withDefaults())
	assert.NoError(t, err)
	_, err = Decode(scans(maxScans+1), Limits{})
	var unusual *UnsupportedError
	require.ErrorAs(t, err, &unusual)
	oneLine(t, err, "scans")
	assert.EqualError(t, err, "this is an unusual JPEG in over 100 scans: export it again as an ordinary JPEG")
}
