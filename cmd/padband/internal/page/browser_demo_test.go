package page_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// demoFolder holds the demonstration photos, with marks and true values.
const demoFolder = "../../../../testdata/demo"

// spot is a place in a photo, in its pixels.
type spot struct{ x, y float64 }

// mark is a mark as the page sends it and the server places it.
type mark struct {
	Role    string       `json:"role"`
	Analyte string       `json:"analyte"`
	Value   float64      `json:"value"`
	Part    int          `json:"part"`
	Polygon [][2]float64 `json:"polygon"`
}

// scene is a photo and where its things are.
type scene struct {
	corners []spot
	whites  []spot
	pads    map[string]spot             // by analyte
	rows    map[string]map[float64]spot // by analyte and value
}

// newFolder is a fresh folder with some of the demonstration photos in it.
func newFolder(t *testing.T, names ...string) string {
	t.Helper()
	folder := t.TempDir()
	for _, n := range names {
		data, err := os.ReadFile(filepath.Join(demoFolder, n))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(folder, n), data, 0o644))
	}
	return folder
}

// demo is where things are in a demonstration photo, as it was rendered.
func demo(t *testing.T, name string) scene {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(demoFolder, name+".marks.json"))
	require.NoError(t, err)
	m, err := charts.ParseMarks(data)
	require.NoError(t, err)
	chart, ok := charts.BundledFile(m.Chart)
	require.True(t, ok)
	c, err := charts.ParseChart(chart)
	require.NoError(t, err)
	cells, err := m.Cells(c, m.Photo.Width, m.Photo.Height)
	require.NoError(t, err)
	s := scene{pads: map[string]spot{}, rows: map[string]map[float64]spot{}}
	for _, q := range m.Corners {
		s.corners = append(s.corners, spot{q.X, q.Y})
	}
	for _, r := range append(m.Regions, cells...) {
		s.add(string(r.Role), r.Analyte, r.Value, middle(r.Region))
	}
	return s
}

func (s *scene) add(role, analyte string, value float64, at spot) {
	switch role {
	case "white":
		s.whites = append(s.whites, at)
	case "pad":
		s.pads[analyte] = at
	case "swatch":
		if s.rows[analyte] == nil {
			s.rows[analyte] = map[float64]spot{}
		}
		s.rows[analyte][value] = at
	}
}

func middle(r colorimetry.Region) spot {
	least, most := r.Bounds()
	return spot{(least.X + most.X) / 2, (least.Y + most.Y) / 2}
}

// truth is the true value of each analyte of a demonstration photo.
func truth(t *testing.T, photo string) map[string]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join(demoFolder, "truth.csv"))
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	out := map[string]float64{}
	for _, row := range rows {
		if strings.TrimSuffix(row[0], ".jpg") == photo {
			v, err := strconv.ParseFloat(row[4], 64)
			require.NoError(t, err)
			out[row[1]] = v
		}
	}
	require.NotEmpty(t, out)
	return out
}
