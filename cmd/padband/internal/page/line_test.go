package page

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// demoRows are the places of the swatches of a demonstration photo, row by row.
func demoRows(t *testing.T, name string) (*photo.Photo, map[string][]colorimetry.Region) {
	t.Helper()
	p, err := photo.Decode(demoFile(t, name+".jpg"), photo.Limits{})
	require.NoError(t, err)
	m, err := charts.ParseMarks(demoFile(t, name+".marks.json"))
	require.NoError(t, err)
	data, ok := charts.BundledFile(m.Chart)
	require.True(t, ok)
	c, err := charts.ParseChart(data)
	require.NoError(t, err)
	cells, err := m.Cells(c, p.Width, p.Height)
	require.NoError(t, err)
	rows := map[string][]colorimetry.Region{}
	for _, r := range cells {
		if r.Role == charts.RoleSwatch {
			rows[r.Analyte] = append(rows[r.Analyte], r.Region)
		}
	}
	return p, rows
}

// marked is an upright mark well inside a swatch.
func marked(r colorimetry.Region) (out [][2]float64) {
	m, half := middleOf(r), 0.36*sizeOf(r)
	return [][2]float64{{m.X - half, m.Y - half}, {m.X + half, m.Y - half}, {m.X + half, m.Y + half}, {m.X - half, m.Y + half}}
}

// The ends of one row are taken, with no bend; those of two rows are not.
func TestTheEndsOfARowAndOfTwo(t *testing.T) {
	for _, name := range []string{"kitchen", "cellar"} {
		p, rows := demoRows(t, name)
		for first, a := range rows {
			for last, b := range rows {
				l, err := newLine(p, marked(a[0]), marked(b[len(b)-1]), len(a))
				require.NoError(t, err)
				got := l.look()
				assert.Equal(t, first != last, got.Off, "%s: %s to %s", name, first, last)
				if first == last {
					require.NotNil(t, got.Bend, "%s %s", name, first)
					assert.Less(t, math.Hypot(got.Bend[0], got.Bend[1]), 0.13*sizeOf(a[0]), "%s %s", name, first)
				}
			}
		}
	}
}

// arc draws seven swatches on an arc whose middle lies so many pixels off its ends.
func arc(t *testing.T, bow float64) (*photo.Photo, [7]colorimetry.Region) {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 1200, 700))
	for i := range m.Pix {
		m.Pix[i] = 235
	}
	var out [7]colorimetry.Region
	for i := range out {
		k := float64(i) / 6
		x, y := 150+150*float64(i), 300+4*k*(1-k)*bow
		out[i] = colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: x - 45, Y: y - 45}, {X: 90, Y: 90}}}
		for py := int(y) - 45; py < int(y)+45; py++ {
			for px := int(x) - 45; px < int(x)+45; px++ {
				m.SetRGBA(px, py, color.RGBA{uint8(220 - 10*i), uint8(190 - 24*i), 120, 255})
			}
		}
	}
	var data bytes.Buffer
	require.NoError(t, jpeg.Encode(&data, m, &jpeg.Options{Quality: 95}))
	p, err := photo.Decode(data.Bytes(), photo.Limits{})
	require.NoError(t, err)
	return p, out
}

// The bend of a row is found in the photo, to either side.
func TestTheBendOfARow(t *testing.T) {
	for _, bow := range []float64{-170, -60, -20, 0, 20, 60, 110, 170} {
		p, all := arc(t, bow)
		l, err := newLine(p, marked(all[0]), marked(all[6]), 7)
		require.NoError(t, err)
		got := l.look()
		assert.False(t, got.Off, "%g", bow)
		require.NotNil(t, got.Bend, "%g", bow)
		assert.InDelta(t, 0, got.Bend[0], 4, "%g", bow)
		assert.InDelta(t, bow, got.Bend[1], 4, "%g", bow)
	}
}

// Between two ends without any patch nothing is said.
func TestNothingBetweenTheEnds(t *testing.T) {
	p, all := arc(t, 0)
	from, to := all[0], all[6]
	for _, r := range []*colorimetry.Region{&from, &to} {
		r.Points = []colorimetry.Point{{X: r.Points[0].X, Y: 500}, r.Points[1]}
	}
	l, err := newLine(p, marked(from), marked(to), 4)
	require.NoError(t, err)
	assert.Equal(t, lineAnswer{}, l.look())
	_, err = newLine(p, nil, marked(to), 4)
	assert.Error(t, err)
}
