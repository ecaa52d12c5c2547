package charts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts/strict"
	"padband/colorimetry"
)

func flatChart(t *testing.T) (Chart, []colorimetry.Point) {
	t.Helper()
	c, ok := Find("orchard-well")
	require.True(t, ok)
	require.NotEmpty(t, c.Layout)
	return c, []colorimetry.Point{{X: 557.8, Y: 345.6}, {X: 1815.1, Y: 310}, {X: 1840.8, Y: 1153.8}, {X: 563.3, Y: 1189.4}}
}

func padAt(name string, x, y float64) Mark {
	r := colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: x, Y: y}, {X: 40, Y: 40}}}
	return Mark{Role: RolePad, Analyte: name, Part: 1, Region: r}
}

func TestReadyLeavesOutWhatIsHalfMarked(t *testing.T) {
	c, corners := flatChart(t)
	m := Marks{Regions: []Mark{padAt("nitrate", 300, 400), padAt("pH", 300, 800)}}
	ready, pending := m.Ready(c)
	assert.Empty(t, ready.Regions)
	assert.Equal(t, []Pending{{"nitrate", "mark the swatch for 0"}, {"total hardness", "mark its pad"}, {"pH", "mark the swatch for 5.8"}}, pending)

	m.Corners = corners
	ready, pending = m.Ready(c)
	assert.Len(t, ready.Regions, 2)
	assert.Equal(t, []Pending{{"total hardness", "mark its pad"}}, pending)
	_, err := ready.Place(c, 2016, 1512)
	assert.NoError(t, err)
}

func TestCellsAreWhereTheCornersPutThem(t *testing.T) {
	c, corners := flatChart(t)
	m := Marks{Corners: corners, Regions: []Mark{padAt("nitrate", 300, 400)}}
	cells, err := m.Cells(c, 2016, 1512)
	require.NoError(t, err)
	assert.Len(t, cells, 18)
	placed, err := m.Place(c, 2016, 1512)
	require.NoError(t, err)
	assert.Equal(t, placed.Pads[0].Swatches[2][0].Region, cells[2].Region)

	hand := Mark{Role: RoleSwatch, Analyte: "nitrate", Value: 3, Part: 1, Region: cells[2].Region}
	m.Regions = append(m.Regions, hand)
	cells, err = m.Cells(c, 2016, 1512)
	require.NoError(t, err)
	assert.Len(t, cells, 17, "one marked by hand wins over its cell")

	none, err := Marks{}.Cells(c, 2016, 1512)
	assert.NoError(t, err)
	assert.Empty(t, none)
	_, err = Marks{Corners: corners}.Cells(c, 600, 600)
	assert.Error(t, err)
}

// A layout taken from marks that stand where a layout put them is that layout.
func TestWithLayoutIsTheWayBack(t *testing.T) {
	c, corners := flatChart(t)
	cells, err := Marks{Corners: corners}.Cells(c, 2016, 1512)
	require.NoError(t, err)
	bare := c
	bare.Layout = nil
	got, err := bare.WithLayout(Marks{Corners: corners, Regions: cells})
	require.NoError(t, err)
	require.Len(t, got.Layout, 18)
	want := map[string]colorimetry.Point{}
	for _, m := range c.Layout {
		want[m.label()] = m.Region.Centroid()
	}
	for _, m := range got.Layout {
		w, g := want[m.label()], m.Region.Centroid()
		assert.InDelta(t, w.X, g.X, 0.002, m.label())
		assert.InDelta(t, w.Y, g.Y, 0.002, m.label())
	}
	_, err = got.Encode()
	assert.NoError(t, err)

	kept, err := c.WithLayout(Marks{Corners: corners, Regions: cells[:6]})
	require.NoError(t, err)
	assert.Len(t, kept.Layout, len(c.Layout), "what was not marked anew stays")
}

func TestWithLayoutSaysWhatIsMissing(t *testing.T) {
	c, corners := flatChart(t)
	cells, err := Marks{Corners: corners}.Cells(c, 2016, 1512)
	require.NoError(t, err)
	bare := c
	bare.Layout = nil
	tight := []colorimetry.Point{{X: 900, Y: 500}, {X: 1200, Y: 500}, {X: 1200, Y: 800}, {X: 900, Y: 800}}
	for says, m := range map[string]Marks{
		"corners first":         {Regions: cells},
		"is not all marked":     {Corners: corners, Regions: cells[1:]},
		"no swatch":             {Corners: corners},
		"outside the chart's":   {Corners: tight, Regions: cells},
		"in order round the ch": {Corners: []colorimetry.Point{corners[0], corners[2], corners[1], corners[3]}, Regions: cells},
	} {
		_, err := bare.WithLayout(m)
		var fault *strict.FileError
		if assert.ErrorAs(t, err, &fault, says) {
			assert.Contains(t, err.Error(), says)
		}
	}
}

// A mark beyond any one side of the corners is refused, and one that touches
// the sides is not.
func TestWithLayoutRefusesEachSide(t *testing.T) {
	c, ok := Find("orchard-well")
	require.True(t, ok)
	bare := c
	bare.Layout = nil
	corners := []colorimetry.Point{{X: 100, Y: 100}, {X: 1100, Y: 100}, {X: 1100, Y: 1100}, {X: 100, Y: 1100}}
	row := func(x, y float64) (out []Mark) {
		a, ok := c.Analyte("nitrate")
		require.True(t, ok)
		for i, s := range a.Swatches {
			r := colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: 500, Y: 200 + 100*float64(i)}, {X: 50, Y: 50}}}
			if i == 0 {
				r.Points[0] = colorimetry.Point{X: x, Y: y}
			}
			out = append(out, Mark{Role: RoleSwatch, Analyte: "nitrate", Value: s.Value, Part: 1, Region: r})
		}
		return out
	}
	outside := map[string]colorimetry.Point{
		"left": {X: 60, Y: 500}, "right": {X: 1090, Y: 500}, "above": {X: 800, Y: 60}, "below": {X: 800, Y: 1090},
	}
	for side, at := range outside {
		_, err := bare.WithLayout(Marks{Corners: corners, Regions: row(at.X, at.Y)})
		var fault *strict.FileError
		if assert.ErrorAs(t, err, &fault, side) {
			assert.Contains(t, err.Error(), "outside the chart's", side)
		}
	}
	for _, at := range []colorimetry.Point{{X: 100, Y: 100}, {X: 1050, Y: 1050}} {
		_, err := bare.WithLayout(Marks{Corners: corners, Regions: row(at.X, at.Y)})
		assert.NoError(t, err, "%v", at)
	}
}
