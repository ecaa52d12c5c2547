package strip_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip"
	"padband/charts"
	"padband/colorimetry/photo"
)

// The chart of the demonstration says of its own inks which end is pale, and both of
// its photos agree.
func TestRowsOfTheDemoAgreeWithTheChart(t *testing.T) {
	for _, name := range []string{"kitchen", "cellar"} {
		data, err := os.ReadFile("../../testdata/demo/" + name + ".jpg")
		require.NoError(t, err)
		p, err := photo.Decode(data, photo.Limits{})
		require.NoError(t, err)
		data, err = os.ReadFile("../../testdata/demo/" + name + ".marks.json")
		require.NoError(t, err)
		m, err := charts.ParseMarks(data)
		require.NoError(t, err)
		data, ok := charts.BundledFile(m.Chart)
		require.True(t, ok)
		c, err := charts.ParseChart(data)
		require.NoError(t, err)
		rows, err := strip.Rows(p, c, m)
		require.NoError(t, err)
		require.Len(t, rows, 3)
		for i, r := range rows {
			assert.Equal(t, c.Analytes[i].Palest, r.Palest, "%s %s", name, c.Analytes[i].Name)
			assert.Len(t, r.Placed.Swatches, 6)
			assert.Empty(t, r.Against)
		}
		c.Analytes[1].Palest, c.Analytes[0].Palest = charts.PalestLowest, charts.PalestNeither
		rows, err = strip.Rows(p, c, m)
		require.NoError(t, err)
		assert.Contains(t, rows[0].Against, "both ends of the row are coloured, but")
		assert.Contains(t, rows[1].Against, "the swatch marked 0 is strongly coloured")
		assert.Empty(t, rows[2].Against)
		m.Corners, m.Regions = nil, m.Regions[:0]
		_, err = strip.Rows(p, c, m)
		assert.ErrorContains(t, err, "no pad is marked")
	}
}
