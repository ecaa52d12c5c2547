package main

import (
	"bytes"
	"encoding/json"
	"image"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/tiff"
)

// readValues reads a photo with the kitchen's marks: values by analyte, and the
// widths of their bands.
func readValues(t *testing.T, name string, photo []byte) (values, widths map[string]float64) {
	t.Helper()
	dir := t.TempDir()
	var marks map[string]any
	require.NoError(t, json.Unmarshal([]byte(readText(t, root+"testdata/demo/kitchen.marks.json")), &marks))
	delete(marks["photo"].(map[string]any), "sha256") // that of the JPEG
	data, err := json.Marshal(marks)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "kitchen.marks.json"), data, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, name), photo, 0o600))
	code, out, errOut := call("read", "--json", filepath.Join(dir, name))
	require.Zero(t, code, errOut)
	var doc struct {
		Readings []struct {
			Analyte string
			Value   float64
			Band    struct{ Low, High float64 }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &doc))
	values, widths = map[string]float64{}, map[string]float64{}
	for _, r := range doc.Readings {
		values[r.Analyte], widths[r.Analyte] = r.Value, r.Band.High-r.Band.Low
	}
	require.Len(t, values, 3)
	return values, widths
}

// The demo scene reads the same in every format, within a tenth of its band.
// kitchen.heic and kitchen.webp were made of the JPEG with heif-enc -q 75
// (libheif 1.15.1) and cwebp -q 95 -metadata all (libwebp 1.2.4); what these
// two lose is theirs, and a colour read by the wrong matrix or range is more.
func TestDemoInEveryFormat(t *testing.T) {
	original := []byte(readText(t, root+"testdata/demo/kitchen.jpg"))
	m, err := jpeg.Decode(bytes.NewReader(original))
	require.NoError(t, err)
	encoded := func(encode func(*bytes.Buffer, image.Image) error) []byte {
		var b bytes.Buffer
		require.NoError(t, encode(&b, m))
		return b.Bytes()
	}
	photos := map[string][]byte{
		"kitchen.png": encoded(func(b *bytes.Buffer, m image.Image) error { return png.Encode(b, m) }),
		"kitchen.tiff": encoded(func(b *bytes.Buffer, m image.Image) error {
			return tiff.Encode(b, m, &tiff.Options{Compression: tiff.Deflate})
		}),
		"kitchen.webp": []byte(readText(t, root+"testdata/photos/kitchen.webp")),
		"kitchen.heic": []byte(readText(t, root+"testdata/photos/kitchen.heic")),
		"heic.jpg":     []byte(readText(t, root+"testdata/photos/kitchen.heic")), // the bytes say what it is
	}
	photos["kitchen.jpeg"] = original
	want, widths := readValues(t, "kitchen.jpg", original)
	for name, data := range photos {
		if name == "heic.jpg" {
			name = "kitchen.jpg"
		}
		got, _ := readValues(t, name, data)
		for analyte, v := range want {
			assert.InDelta(t, v, got[analyte], widths[analyte]/10, "%s, %s", name, analyte)
		}
	}
}
