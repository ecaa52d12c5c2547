package strip

import (
	"bytes"
	"encoding/csv"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

const demo = "../../testdata/demo/"

func readDemo(t *testing.T, name string) *Result {
	t.Helper()
	data, err := os.ReadFile(demo + name)
	require.NoError(t, err)
	r, err := Read(Input{Photo: data, Chart: demoChart(t), Marks: demoMarks(t, name)})
	require.NoError(t, err)
	return r
}

func demoChart(t testing.TB) charts.Chart {
	t.Helper()
	c, ok := charts.Find("orchard-well")
	require.True(t, ok)
	return c
}

func demoMarks(t testing.TB, name string) charts.Marks {
	t.Helper()
	data, err := os.ReadFile(demo + strings.TrimSuffix(name, filepath.Ext(name)) + ".marks.json")
	require.NoError(t, err)
	m, err := charts.ParseMarks(data)
	require.NoError(t, err)
	return m
}

// truths are the rendered photos' true values.
func truths(t *testing.T) map[string]map[string]float64 {
	t.Helper()
	f, err := os.Open(demo + "truth.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	out := map[string]map[string]float64{}
	for _, row := range rows[1:] {
		if out[row[0]] == nil {
			out[row[0]] = map[string]float64{}
		}
		v, err := strconv.ParseFloat(row[4], 64)
		require.NoError(t, err)
		out[row[0]][row[1]] = v
	}
	return out
}

func TestDemoBandsCoverTheTruth(t *testing.T) {
	all := truths(t)
	require.Len(t, all, 2)
	for name, values := range all {
		r := readDemo(t, name)
		require.Len(t, r.Readings, 3)
		for _, got := range r.Readings {
			v, known := values[got.Analyte.Name]
			require.True(t, known, got.Analyte.Name)
			assert.LessOrEqual(t, got.Band.Low.Value, v, "%s %s", name, got.Analyte.Name)
			assert.True(t, got.Band.High.Open || got.Band.High.Value >= v, "%s %s", name, got.Analyte.Name)
		}
	}
}

func TestGoodLightIsCalledGoodAndBadLightIsNot(t *testing.T) {
	for _, r := range readDemo(t, "kitchen.jpg").Readings {
		assert.NotEqual(t, calib.Unreliable, r.Reliability, r.Analyte.Name)
	}
	worst := calib.Good
	for _, r := range readDemo(t, "cellar.jpg").Readings {
		worst = worst.Worse(r.Reliability)
	}
	assert.NotEqual(t, calib.Good, worst)
}

func TestErrorsNameTheMark(t *testing.T) {
	data, err := os.ReadFile(demo + "kitchen.jpg")
	require.NoError(t, err)
	m := demoMarks(t, "kitchen.jpg")
	for i := range m.Regions {
		if m.Regions[i].Role == charts.RolePad && m.Regions[i].Analyte == "nitrate" {
			c := m.Regions[i].Region.Centroid()
			tiny, err := colorimetry.NewRect(c.X, c.Y, 3, 3)
			require.NoError(t, err)
			m.Regions[i].Region = tiny
		}
	}
	_, err = Read(Input{Photo: data, Chart: demoChart(t), Marks: m})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "nitrate, pad")
}

func TestMarksOfAnotherPhotoAreRefused(t *testing.T) {
	data, err := os.ReadFile(demo + "kitchen.jpg")
	require.NoError(t, err)
	m := demoMarks(t, "cellar.jpg")
	m.Photo.Width++
	_, err = Read(Input{Photo: data, Chart: demoChart(t), Marks: m})
	assert.ErrorContains(t, err, "another photo")
}

// phonePhoto is a 4032 x 3024 JPEG of 3 to 4 MB with the chart's patches on it.
func phonePhoto(tb testing.TB) ([]byte, charts.Marks) {
	tb.Helper()
	const w, h = 4032, 3024
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	rng := rand.New(rand.NewPCG(7, 7))
	for i := 0; i < len(img.Pix); i += 4 {
		v := uint8(196 + rng.IntN(22))
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = v, v, v-4, 255
	}
	m := charts.Marks{Format: 1, Chart: "orchard-well"}
	patch := func(mark charts.Mark, x, y int, c color.RGBA) {
		for dy := range 200 {
			for dx := range 200 {
				n := uint8(rng.IntN(10))
				img.SetRGBA(x+dx, y+dy, color.RGBA{c.R + n, c.G + n, c.B + n, 255})
			}
		}
		r, err := colorimetry.NewRect(float64(x+20), float64(y+20), 160, 160)
		require.NoError(tb, err)
		mark.Region = r
		m.Regions = append(m.Regions, mark)
	}
	for row, a := range demoChart(tb).Analytes {
		y := 300 + 800*row
		patch(charts.Mark{Role: charts.RolePad, Analyte: a.Name, Part: 1}, 200, y, color.RGBA{200, uint8(180 - 20*row), 190, 255})
		for i, s := range a.Swatches {
			patch(charts.Mark{Role: charts.RoleSwatch, Analyte: a.Name, Part: 1, Value: s.Value}, 800+450*i, y,
				color.RGBA{uint8(225 - 15*i), uint8(220 - 25*i), uint8(210 - 8*i), 255})
		}
	}
	for i := range 9 {
		patch(charts.Mark{Role: charts.RoleWhite, Material: "card"}, 500+380*i, 650, color.RGBA{225, 225, 222, 255})
	}
	var b bytes.Buffer
	require.NoError(tb, jpeg.Encode(&b, img, &jpeg.Options{Quality: 90}))
	return b.Bytes(), m
}

// Compare the two: bytes to reading is to stay within 1.15 times the time and
// 1.3 times the allocated bytes of the bare decode.
func BenchmarkBareDecode12MP(b *testing.B) {
	data, _ := phonePhoto(b)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead12MP(b *testing.B) {
	data, m := phonePhoto(b)
	in := Input{Photo: data, Chart: demoChart(b), Marks: m, Limits: photo.Limits{}}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(in); err != nil {
			b.Fatal(err)
		}
	}
}

// Every note that a photo can carry becomes a warning whose code is known.
func TestNotesOfFilesAreKnownCodes(t *testing.T) {
	for _, n := range photo.NoteCodes() {
		f, known := calib.Code(n).Facts()
		assert.True(t, known, n)
		assert.Equal(t, calib.AboutFile, f.About, n)
	}
}
