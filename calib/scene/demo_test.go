package scene

import (
	"bytes"
	"image/jpeg"
	"os"
	"testing"

	"github.com/rwcarlsen/goexif/exif"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

const demoFolder = "../../testdata/demo/"

func orchardWell(t *testing.T) charts.Chart {
	t.Helper()
	for _, c := range charts.Bundled() {
		if c.Name == "orchard-well" {
			return c
		}
	}
	t.Fatal("the bundled chart orchard-well is gone")
	return charts.Chart{}
}

// The photos kept are those that the generator makes, to within what
// processors may differ in rounding.
func TestDemoPhotosAreUpToDate(t *testing.T) {
	for name, values := range map[string][]float64{"kitchen": {8.6, 205, 7.3}, "cellar": {9.3, 232, 7.1}} {
		chart := orchardWell(t)
		var steps []float64
		for i, a := range chart.Analytes {
			steps = append(steps, a.StepOf(values[i]))
		}
		c, err := Demo(name, chart, steps)
		require.NoError(t, err)
		s, err := Render(c)
		require.NoError(t, err)
		kept, err := os.ReadFile(demoFolder + name + ".jpg")
		require.NoError(t, err)
		assert.Less(t, len(kept), 500_000)
		assert.Less(t, meanDifference(t, kept, s.Photo), 0.5, "%s: run go generate ./calib/scene", name)
		data, err := os.ReadFile(demoFolder + name + ".marks.json")
		require.NoError(t, err)
		marks, err := charts.ParseMarks(data)
		require.NoError(t, err)
		assert.Equal(t, s.Marks.Corners, marks.Corners)
	}
}

// meanDifference is the mean difference of two JPEGs' pixels, in codes.
func meanDifference(t *testing.T, a, b []byte) float64 {
	t.Helper()
	p, err := jpeg.Decode(bytes.NewReader(a))
	require.NoError(t, err)
	q, err := jpeg.Decode(bytes.NewReader(b))
	require.NoError(t, err)
	require.Equal(t, p.Bounds(), q.Bounds())
	sum, n := 0.0, 0.0
	for y := 0; y < p.Bounds().Dy(); y += 3 {
		for x := 0; x < p.Bounds().Dx(); x += 3 {
			_, g, _, _ := p.At(x, y).RGBA()
			_, h, _, _ := q.At(x, y).RGBA()
			d := (float64(g) - float64(h)) / 257
			sum, n = sum+max(d, -d), n+1
		}
	}
	return sum / n
}

// The EXIF block is read back by a library that is not ours.
func TestDemoExif(t *testing.T) {
	for name, taken := range map[string]string{"kitchen": "2026:11:14 08:41:10", "cellar": "2026:11:14 09:12:35"} {
		data, err := os.ReadFile(demoFolder + name + ".jpg")
		require.NoError(t, err)
		checkExif(t, data, taken, "-05:00")
	}
	e := Exif{Make: "odd", Model: "even", Taken: "2031:01:02 03:04:05", Offset: "+13:45", ISO: 50, Exposure: [2]uint32{1, 8}}
	checkExif(t, e.into([]byte("\xff\xd8\xff\xd9")), e.Taken, e.Offset)
}

func checkExif(t *testing.T, data []byte, taken, offset string) {
	t.Helper()
	x, err := exif.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	tag, err := x.Get(exif.DateTimeOriginal)
	require.NoError(t, err)
	got, err := tag.StringVal()
	require.NoError(t, err)
	assert.Equal(t, taken, got)
	tag, err = x.Get(exif.Orientation)
	require.NoError(t, err)
	way, err := tag.Int(0)
	require.NoError(t, err)
	assert.Equal(t, 1, way)
	assert.Contains(t, string(data[:min(len(data), 400)]), offset+"\x00", "OffsetTimeOriginal, which that library does not name")
}

func TestDemoRefusesOtherCharts(t *testing.T) {
	_, err := Demo("kitchen", charts.Chart{}, nil)
	assert.Error(t, err)
	_, err = Demo("kitchen", orchardWell(t), []float64{1})
	assert.Error(t, err)
}
