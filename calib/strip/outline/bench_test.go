package outline

import (
	"bytes"
	"image"
	"image/jpeg"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/calib/scene/table"
	"padband/charts"
	"padband/colorimetry/photo"
)

// largePhoto is a rendered scene at twice its size: a JPEG of 12 megapixels.
func largePhoto(b *testing.B) ([]byte, charts.Chart) {
	b.Helper()
	s, err := table.Draw(4001)
	require.NoError(b, err)
	small, err := jpeg.Decode(bytes.NewReader(s.Photo))
	require.NoError(b, err)
	w, h := small.Bounds().Dx(), small.Bounds().Dy()
	large := image.NewRGBA(image.Rect(0, 0, 2*w, 2*h))
	for y := range 2 * h {
		for x := range 2 * w {
			large.Set(x, y, small.At(x/2, y/2))
		}
	}
	var out bytes.Buffer
	require.NoError(b, jpeg.Encode(&out, large, &jpeg.Options{Quality: 90}))
	return out.Bytes(), s.Chart
}

// What the search takes beside the bare decode of the same photo, and beside the
// reduced picture that it looks at.
func BenchmarkBareDecode12MP(b *testing.B) {
	data, _ := largePhoto(b)
	for b.Loop() {
		_, err := jpeg.Decode(bytes.NewReader(data))
		require.NoError(b, err)
	}
}

func BenchmarkGlance12MP(b *testing.B) {
	data, _ := largePhoto(b)
	for b.Loop() {
		_, _, _, err := photo.Glance(data, photo.Limits{}, Longest)
		require.NoError(b, err)
	}
}

func BenchmarkFind12MP(b *testing.B) {
	data, chart := largePhoto(b)
	p, m, _, err := photo.Glance(data, photo.Limits{}, Longest)
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		Find(m, p.Width, p.Height, chart)
	}
}
