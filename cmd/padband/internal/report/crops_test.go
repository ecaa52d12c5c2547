package report

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
	"padband/cmd/padband/internal/report/reporttest"
	"padband/colorimetry"
)

// show is the picture of a region: an address that tells which.
func show(r colorimetry.Region) string { return fmt.Sprintf("api/%g-%g", r.Points[0].X, r.Points[0].Y) }

func numbered(c *Crops) (out []string) {
	for _, x := range c.Columns {
		out = append(out, x.Number)
	}
	return out
}

// The pad stands between its two swatches, or on the side it lies past.
func TestCropsStandInOrderOfValue(t *testing.T) {
	r := reporttest.Nitrate()
	c := besides(r, reporttest.Marked(r, 1), show)
	assert.Equal(t, []string{"3", "pad 5.0", "7"}, numbered(c))
	assert.Equal(t, []image{{"api/3-0", "nitrate, swatch for 3"}}, c.Columns[0].Images)
	assert.Equal(t, []image{{"api/0-0", "nitrate, pad"}}, c.Columns[1].Images)
	assert.Equal(t, []image{{"api/4-0", "nitrate, swatch for 7"}}, c.Columns[2].Images)
	assert.False(t, c.Parts)

	r.Range, r.Bracket = calib.Above, [2]float64{7, 11}
	assert.Equal(t, []string{"7", "11", "pad, 11 or more"}, numbered(besides(r, reporttest.Marked(r, 1), show)))
	r.Range, r.Bracket = calib.Below, [2]float64{0, 1}
	assert.Equal(t, []string{"pad, 0 or less", "0", "1"}, numbered(besides(r, reporttest.Marked(r, 1), show)))
	r = reporttest.PresencePad(0.3)
	assert.Equal(t, []string{"none", "pad", "present"}, numbered(besides(r, reporttest.Marked(r, 1), show)))
}

func TestCropsOfParts(t *testing.T) {
	r := reporttest.Nitrate()
	c := besides(r, reporttest.Marked(r, 2), show)
	assert.True(t, c.Parts)
	assert.Equal(t, []image{{"api/0-0", "nitrate, pad, part 1"}, {"api/0-1", "nitrate, pad, part 2"}}, c.Columns[1].Images)
	s := source(r)
	s.Placed = reporttest.Marked(r, 2)
	_, all := page(t, s, show)
	assert.Len(t, reporttest.With(all, "reading-parts"), 1)
	assert.Equal(t, []string{"3", "pad 5.0", "7"}, reporttest.Texts(reporttest.With(all, "reading-crop")))
	assert.Equal(t, []string{"pad 5.0"}, reporttest.Texts(reporttest.With(all, "reading-pad")))
}

// Without marks, or without pictures, there are none.
func TestNoCrops(t *testing.T) {
	r := reporttest.Nitrate()
	assert.Nil(t, besides(r, reporttest.Marked(r, 1), nil))
	assert.Nil(t, besides(r, charts.Placed{}, show))
}

func TestSwatchNumber(t *testing.T) {
	for label, want := range map[string]string{
		"": "7", "7 (6-9)": "7 (6-9)", "7": "7", "high": "7, high", "75 or so": "7, 75 or so", "7.5": "7, 7.5",
		"about 7": "7, about 7", "7\nhigh": "7 high",
	} {
		assert.Equal(t, want, swatchNumber(reporttest.Nitrate(), calib.SwatchColour{Value: 7, Label: label}))
	}
}

// Half as wide again as the mark's longer side, about its centre, and within the photo.
func TestAround(t *testing.T) {
	mark := func(x, y, w, h float64) colorimetry.Region {
		r, err := colorimetry.NewRect(x, y, w, h)
		require.NoError(t, err)
		return r
	}
	for _, k := range []struct{ in, want colorimetry.Region }{
		{mark(100, 100, 20, 40), mark(80, 90, 60, 60)},
		{mark(0, 100, 20, 40), mark(0, 90, 60, 60)},
		{mark(380, 270, 20, 20), mark(370, 265, 30, 30)},
		{mark(390, 290, 10, 10), mark(385, 285, 15, 15)},
		{mark(0, 0, 400, 300), mark(50, 0, 300, 300)},
	} {
		assert.Equal(t, k.want, Around(k.in, 400, 300))
		assert.True(t, k.want.Inside(400, 300))
	}
}
