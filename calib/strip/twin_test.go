package strip

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/scene"
	"padband/colorimetry"
)

// twinSeed draws a scene of three analytes whose colours all lie within sRGB.
const twinSeed = 1

// twinScene is one scene; its tone curve is that of sRGB alone, so that it
// does not matter in which space the camera applies it.
func twinScene(t *testing.T, format scene.Format) scene.Scene {
	t.Helper()
	c, err := scene.Draw(twinSeed, scene.Good)
	require.NoError(t, err)
	c.Width, c.Height, c.Format = 1000, 750, format
	c.Camera.Contrast, c.Camera.Lift, c.Camera.Shoulder = 0, 1, 1
	s, err := scene.Render(c)
	require.NoError(t, err)
	require.Len(t, s.Chart.Analytes, 3)
	return s
}

func readScene(t *testing.T, s scene.Scene, file []byte) *Result {
	t.Helper()
	r, err := Read(Input{Photo: file, Chart: s.Chart, Marks: s.Marks})
	require.NoError(t, err)
	require.Len(t, r.Readings, len(s.Chart.Analytes))
	return r
}

// turn is one row of the published table: where the stored pixel (x, y) of a
// picture of w by h is shown.
type turn struct {
	value uint16
	swaps bool
	goes  func(x, y, w, h int) (int, int)
}

// turns reads the eight orientations of CIPA DC-008, 4.6.4.A, from
// testdata/checks/exif_orientation.csv.
func turns(t *testing.T) []turn {
	t.Helper()
	f, err := os.Open("../../testdata/checks/exif_orientation.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 9)
	one := map[string]func(x, y, w, h int) int{
		"x":     func(x, _, _, _ int) int { return x },
		"y":     func(_, y, _, _ int) int { return y },
		"W-1-x": func(x, _, w, _ int) int { return w - 1 - x },
		"H-1-y": func(_, y, _, h int) int { return h - 1 - y },
	}
	var out []turn
	for _, row := range rows[1:] {
		value, err := strconv.ParseUint(row[0], 10, 16)
		require.NoError(t, err)
		u, v, _ := strings.Cut(strings.Trim(row[5], "()"), ",")
		toX, toY := one[u], one[v]
		require.True(t, toX != nil && toY != nil, "%s", row[5])
		out = append(out, turn{uint16(value), row[4] == "yes", func(x, y, w, h int) (int, int) { return toX(x, y, w, h), toY(x, y, w, h) }})
	}
	return out
}

// stored is the picture that the orientation shows as m.
func (o turn) stored(m *image.RGBA) *image.RGBA {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	if o.swaps {
		w, h = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			u, v := o.goes(x, y, w, h)
			out.SetRGBA(x, y, m.RGBAAt(u, v))
		}
	}
	return out
}

// tagged is a PNG with an eXIf chunk that holds the orientation alone. Source:
// PNG (third edition), 11.3.4.5; TIFF 6.0.
func tagged(t *testing.T, m image.Image, orientation uint16) []byte {
	t.Helper()
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	require.NoError(t, e.Encode(&b, m))
	be := binary.BigEndian
	tiff := be.AppendUint16([]byte("eXIfMM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01"), orientation)
	tiff = append(tiff, 0, 0, 0, 0, 0, 0)
	chunk := append(be.AppendUint32(nil, uint32(len(tiff)-4)), tiff...)
	chunk = be.AppendUint32(chunk, crc32.ChecksumIEEE(tiff))
	const header = 33 // signature and IHDR
	return append(append(append([]byte(nil), b.Bytes()[:header]...), chunk...), b.Bytes()[header:]...)
}

// figures writes every figure of a result with all its digits.
func figures(r *Result) []string {
	out := []string{fmt.Sprintf("light %+v", r.Light), fmt.Sprint(r.Notes)}
	for _, g := range r.Readings {
		out = append(out, fmt.Sprintf("%s %v, band %+v, water band %+v, %s of %v, %s, %+v", g.Analyte.Name, g.Value, g.Band,
			g.WaterBand, g.Range, g.Bracket, g.Reliability, g.Warnings),
			fmt.Sprintf("pad %v, %v off the scale, %v; %v; %v", g.Pad, g.DeltaEToScale, g.Mismatch, g.Swatches, g.Budget))
	}
	return out
}

// One scene stored in eight ways, each turned back by its tag, is one reading:
// the marks are in upright coordinates and serve all eight.
func TestEightOrientationsGiveOneReading(t *testing.T) {
	s := twinScene(t, scene.PNG)
	decoded, err := png.Decode(bytes.NewReader(s.Photo))
	require.NoError(t, err)
	upright, ok := decoded.(*image.RGBA)
	require.True(t, ok, "%T", decoded)
	want := figures(readScene(t, s, s.Photo))
	for _, o := range turns(t) {
		m := o.stored(upright)
		r := readScene(t, s, tagged(t, m, o.value))
		assert.Equal(t, int(o.value), r.Photo.Facts.Orientation)
		assert.Equal(t, m.Rect.Dx(), r.Photo.Facts.StoredWidth)
		assert.Equal(t, want, figures(r), "orientation %d", o.value)
	}
}

// One scene in sRGB and in Display P3 has the same colours and the same readings.
func TestTwoSpacesGiveOneReading(t *testing.T) {
	s, p := twinScene(t, scene.PNGDeep), twinScene(t, scene.PNGP3)
	require.Equal(t, s.Marks, p.Marks)
	a, b := readScene(t, s, s.Photo), readScene(t, p, p.Photo)
	assert.Equal(t, "sRGB", a.Photo.Facts.Profile)
	assert.Equal(t, "Display P3", b.Photo.Facts.Profile)
	for i, x := range a.Readings {
		y := b.Readings[i]
		sameColours(t, x.Analyte.Name+" pad", x.Pad, y.Pad)
		for k := range x.Swatches {
			sameColours(t, fmt.Sprintf("%s swatch %g", x.Analyte.Name, x.Swatches[k].Value), x.Swatches[k].Lab, y.Swatches[k].Lab)
		}
		assert.LessOrEqual(t, math.Abs(x.Value-y.Value), 0.1*bandWidth(x.Band), x.Analyte.Name)
		assert.LessOrEqual(t, math.Abs(x.Band.Low.Value-y.Band.Low.Value), 0.1*bandWidth(x.Band), x.Analyte.Name)
		assert.LessOrEqual(t, math.Abs(x.Band.High.Value-y.Band.High.Value), 0.1*bandWidth(x.Band), x.Analyte.Name)
	}
}

func bandWidth(b calib.Band) float64 { return b.High.Value - b.Low.Value }

func sameColours(t *testing.T, what string, a, b []colorimetry.Lab) {
	t.Helper()
	require.Equal(t, len(a), len(b))
	require.NotEmpty(t, a)
	for i := range a {
		assert.LessOrEqual(t, colorimetry.DeltaE76(a[i], b[i]), 0.5, "%s: %v and %v", what, a[i], b[i])
	}
}
