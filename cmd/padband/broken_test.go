package main

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// jpegOfSize is the demo photo with another size in its frame header.
func jpegOfSize(t *testing.T, data []byte, width, height uint16) []byte {
	t.Helper()
	at := bytes.Index(data, []byte{0xff, 0xc0})
	require.Positive(t, at, "no frame header")
	out := bytes.Clone(data)
	binary.BigEndian.PutUint16(out[at+5:], height)
	binary.BigEndian.PutUint16(out[at+7:], width)
	return out
}

// pngHeader is a PNG of a header, an empty picture and an end.
func pngHeader(width, height uint32) []byte {
	chunk := func(kind string, body []byte) []byte {
		b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
		b = append(append(b, kind...), body...)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
	}
	size := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, width), height)
	return bytes.Join([][]byte{[]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(size, 8, 2, 0, 0, 0)), chunk("IDAT", nil), chunk("IEND", nil)}, nil)
}

// Photos cut short, or with a size that no file can hold.
func TestBrokenPhotos(t *testing.T) {
	dir := folder(t, "orchard-well")
	name := filepath.Join(dir, "p.jpg")
	good, err := os.ReadFile(name)
	require.NoError(t, err)
	for _, c := range []struct {
		data []byte
		want string
	}{
		{good[:1], "this is no photo"},
		{good[:20], "damaged or cut short (it ends within its header): send it again"},
		{good[:len(good)/2], "damaged or cut short (its end marker is missing): send it again"},
		{good[:len(good)-2], "damaged or cut short (its end marker is missing): send it again"},
		{jpegOfSize(t, good, 65535, 65535), "too large: 65535 x 65535 is 4294.8 megapixels, the limit is 200.0"},
		{jpegOfSize(t, good, 65535, 3000), "bytes cannot hold its 65535 x 3000 pixels"},
		{jpegOfSize(t, good, 2016, 0), "(its header says 2016 x 0 pixels)"},
		{jpegOfSize(t, good, 0, 1512), "(its header says 0 x 1512 pixels)"},
		{pngHeader(255, 1_677_721_600), "too large: 255 x 1677721600 is 427819.0 megapixels"},
		{pngHeader(100, 100), "the PNG photo is damaged or cut short"},
	} {
		write(t, name, c.data)
		line := refused(t, "read", name)
		assert.Contains(t, line, "p.jpg: ")
		assert.Contains(t, line, c.want)
	}
}

// Marks with one thing wrong each.
func TestBrokenMarks(t *testing.T) {
	dir := folder(t, "orchard-well")
	name := filepath.Join(dir, "p.marks.json")
	const pad = `{"regions": [{"role": "pad", "analyte": "nitrate", %s}]}`
	for text, want := range map[string]string{
		"":                           "the file is empty",
		`{"format": 1, "format": 1}`: "format: is there twice; keep one of them",
		`{"format": 2}`:              "this program knows format 1 only",
		strings.Repeat("[", 100_000): "is not JSON at line 1, column",
		strings.Repeat(`{"regions": `, 40) + "1" + strings.Repeat("}", 40):               "is nested over 32 levels deep",
		strings.Replace(pad, "%s", `"rect": [1e999, 1, 9, 9]`, 1):                        "regions[0].rect[0]: is 1e999, a number beyond 1000000000",
		strings.Replace(pad, "%s", `"rect": [1, 1, -9, 9]`, 1):                           "regions[0].rect: is -9 by 9 pixels",
		strings.Replace(pad, "%s", `"polygon": [[0, 0], [90, 90], [90, 0], [0, 90]]`, 1): "regions[0].polygon: crosses or touches itself",
		strings.Replace(pad, "%s", `"circle": [9, 9, 3], "rect": [1, 1, 9, 9]`, 1):       "a region has one shape",
		"\xff\xfe{\x00": "is not UTF-8 text; save it as UTF-8",
	} {
		write(t, name, []byte(text))
		line := refused(t, "read", filepath.Join(dir, "p.jpg"))
		assert.Contains(t, line, "p.marks.json: ")
		assert.Contains(t, line, want)
	}
}

func TestTwoAnalytesOfOneName(t *testing.T) {
	name := filepath.Join(t.TempDir(), "c.json")
	const analyte = `{"name": "nitrate", "unit": "mg/L", "swatches": [{"value": 0}, {"value": 5}]}`
	write(t, name, []byte(`{"chart": "c", "analytes": [`+analyte+", "+analyte+"]}"))
	assert.Contains(t, refused(t, "chart", "check", name), `c.json: analytes[1].name: is "nitrate", as is analytes[0]; give each its own name`)
}
