package charts

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"padband/colorimetry"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts/strict"
)

// stream is a chart of a scale with two parts and a presence pad, no layout.
const stream = `{"chart": "stream", "analytes": [
 {"name": "pH", "unit": "pH", "parts": 2, "swatches": [{"value": 8}, {"value": 6}]},
 {"name": "nitrite", "kind": "presence", "swatches": [{"value": 0}, {"value": 1}]}]}`

// streamMarks marks everything of stream in a photo of 200 x 100.
const streamMarks = `{"chart": "stream", "photo": {"width": 200, "height": 100}, "regions": [
 {"role": "pad", "analyte": "pH", "rect": [0, 0, 10, 10]},
 {"role": "pad", "analyte": "pH", "part": 2, "rect": [0, 20, 10, 10]},
 {"role": "pad", "analyte": "nitrite", "rect": [0, 40, 10, 10]},
 {"role": "swatch", "analyte": "pH", "value": 8, "rect": [40, 0, 10, 10]},
 {"role": "swatch", "analyte": "pH", "value": 8, "part": 2, "rect": [40, 20, 10, 10]},
 {"role": "swatch", "analyte": "pH", "value": 6, "rect": [60, 0, 10, 10]},
 {"role": "swatch", "analyte": "pH", "value": 6, "part": 2, "rect": [60, 20, 10, 10]},
 {"role": "swatch", "analyte": "nitrite", "value": 0, "rect": [80, 0, 10, 10]},
 {"role": "swatch", "analyte": "nitrite", "value": 1, "rect": [80, 20, 10, 10]},
 {"role": "white", "material": "card", "rect": [190, 90, 10, 10]}]}`

func place(t *testing.T, chart, marks string, width, height int) (Placed, error) {
	t.Helper()
	c, err := ParseChart([]byte(chart))
	require.NoError(t, err)
	m, err := ParseMarks([]byte(marks))
	require.NoError(t, err, marks)
	return m.Place(c, width, height)
}

func TestPlaceByHand(t *testing.T) {
	p, err := place(t, stream, streamMarks, 200, 100)
	require.NoError(t, err)
	assert.Empty(t, p.Notes)
	require.Len(t, p.Whites, 1)
	assert.Equal(t, "card", p.Whites[0].Material)
	require.Len(t, p.Pads, 2)
	ph := p.Pads[0]
	assert.Equal(t, "pH", ph.Analyte.Name)
	require.Len(t, ph.Pad, 2)
	assert.Equal(t, 20.0, ph.Pad[1].Region.Points[0].Y, "part 2 is second")
	require.Len(t, ph.Swatches, 2)
	for i, want := range []float64{6, 8} {
		for k := range 2 {
			assert.Equal(t, want, ph.Swatches[i][k].Value, "swatches are in order of value")
			assert.Equal(t, k+1, ph.Swatches[i][k].Part)
		}
	}
	assert.Len(t, p.Pads[1].Swatches, 2)
}

func TestPlaceSkipsWhatHasNoPad(t *testing.T) {
	marks := strings.Replace(streamMarks, ` {"role": "pad", "analyte": "nitrite", "rect": [0, 40, 10, 10]},`, "", 1)
	p, err := place(t, stream, marks, 200, 100)
	require.NoError(t, err)
	assert.Len(t, p.Pads, 1)
	assert.Equal(t, []Note{{NoteNoPad, "nitrite", "no pad is marked for nitrite: skipped"}}, p.Notes)
}

func TestPlaceFaults(t *testing.T) {
	onlyPads := streamMarks[:strings.Index(streamMarks, ` {"role": "swatch"`)]
	for _, f := range []fault{
		{`"width": 200`, `"width": 4032`, "photo: these marks are for another photo: 4032 x 100, this one is 200 x 100; mark this photo"},
		{`"chart": "stream"`, `"chart": "brook"`, `chart: these marks are for the chart "brook", not for "stream"; give the chart that was marked`},
		{`[190, 90, 10, 10]`, `[190.5, 90, 10, 10]`, `regions[9]: white "card" reaches outside the photo of 200 x 100 pixels; move it inside, or give the photo that was marked, at its full size`},
		{`"nitrite", "rect": [0, 40, 10, 10]`, `"nitrite", "circle": [4, 40, 5]`, `regions[2]: pad "nitrite" reaches outside the photo of 200 x 100 pixels; move it inside, or give the photo that was marked, at its full size`},
		{`"part": 2, "rect": [0, 20, 10, 10]`, `"part": 3, "rect": [0, 20, 10, 10]`, `regions[1].part: is 3, and "pH" has 2 parts; mend it`},
		{`"nitrite", "rect"`, `"Nitrite", "rect"`, `regions[2].analyte: is "Nitrite", which the chart "stream" does not have; write one of "pH", "nitrite", or name the chart that is in the photo`},
		{`"value": 8, "rect"`, `"value": 7, "rect"`, `regions[3].value: is 7, which "pH" has no swatch for; write one of 6, 8`},
		{`"value": 8, "part": 2, "rect": [40, 20, 10, 10]`, `"value": 8, "part": 2, "rect": [42, 2, 10, 10]`, `regions[4]: swatch "pH" 8, part 2 lies on regions[3], which is swatch "pH" 8; mark each where it is`},
		{` {"role": "pad", "analyte": "pH", "part": 2, "rect": [0, 20, 10, 10]},`, "", `regions: part 2 of the pad "pH" is not marked; mark it`},
		{` {"role": "swatch", "analyte": "pH", "value": 6, "part": 2, "rect": [60, 20, 10, 10]},`, "", `regions: swatch "pH" 6, part 2 is not marked; mark it`},
		{` {"role": "swatch", "analyte": "pH", "value": 6, "rect": [60, 0, 10, 10]},
 {"role": "swatch", "analyte": "pH", "value": 6, "part": 2, "rect": [60, 20, 10, 10]},`, "", `regions: swatch "pH" 6 is not marked, and 2 in all of "pH" are not; mark them`},
		{`"regions"`, `"corners": [[100,50],[150,50],[150,90],[100,90]], "regions"`, `corners: the chart "stream" has no layout to place by its corners; remove them and mark each swatch`},
		{streamMarks[len(onlyPads):], `{"role": "white", "rect": [190, 90, 10, 10]}]}`, "regions: no swatch is marked: the chart must be in the same photo; mark its swatches"},
		{streamMarks, `{"regions": []}`, `regions: no pad is marked; mark the strip's pads, as "pH", "nitrite"`},
	} {
		require.Equal(t, 1, strings.Count(streamMarks, f.old), f.old)
		_, err := place(t, stream, strings.Replace(streamMarks, f.old, f.new, 1), 200, 100)
		if assert.Error(t, err, f.want) {
			assert.Equal(t, f.want, err.Error())
			assert.IsType(t, &strict.FileError{}, err)
		}
	}
}

// TestPlaceRefusesMarksMadeByHand: what no file can hold, but a program can.
func TestPlaceRefusesMarksMadeByHand(t *testing.T) {
	c, err := ParseChart([]byte(stream))
	require.NoError(t, err)
	m := Marks{Regions: []Mark{{Role: RoleWhite, Region: colorimetry.Region{Shape: colorimetry.Circle, Points: []colorimetry.Point{{X: math.NaN()}}, Radius: 1}}}}
	_, err = m.Place(c, 200, 100)
	require.EqualError(t, err, "regions[0]: has a number that is not finite or far too large; give pixels of the photo")
	pad := Mark{Role: RolePad, Analyte: "nitrite", Part: 1, Region: colorimetry.Region{Shape: colorimetry.Circle, Points: []colorimetry.Point{{X: 5, Y: 5}}, Radius: 1}}
	_, err = Marks{Regions: []Mark{pad, pad}}.Place(c, 200, 100)
	require.EqualError(t, err, `regions[1]: marks pad "nitrite", as does regions[0]; keep one of them`)
}

func TestCheckPhoto(t *testing.T) {
	m := Marks{Photo: PhotoRef{Width: 4032, Height: 3024, SHA256: goodHash}}
	require.NoError(t, m.CheckPhoto(4032, 3024, goodHash))
	require.NoError(t, m.CheckPhoto(4032, 3024, ""))
	require.NoError(t, m.CheckPhoto(4032, 3024, strings.ToUpper(goodHash)))
	require.NoError(t, Marks{}.CheckPhoto(1, 2, goodHash))
	require.EqualError(t, m.CheckPhoto(3024, 4032, goodHash), "photo: these marks are for another photo: 4032 x 3024, this one is 3024 x 4032; mark this photo")
	require.EqualError(t, m.CheckPhoto(4032, 3024, "ff"+goodHash[2:]), "photo.sha256: these marks are for another photo: its hash begins 0123456789ab, this one's ff23456789ab; mark this photo")
	require.EqualError(t, Marks{Photo: PhotoRef{Width: 7}}.CheckPhoto(8, 9, ""), "photo: these marks are for another photo: 7 x ?, this one is 8 x 9; mark this photo")
}

// brookMarks marks the pad of goodChart's nitrate; corners stand for two of
// its three swatches.
const brookMarks = `{"corners": [%s], "regions": [
 {"role": "pad", "analyte": "nitrate", "rect": [300, 10, 20, 20]},
 %s {"role": "swatch", "analyte": "nitrate", "value": 5, "rect": [300, 60, 20, 20]}]}`

// TestPlaceByCorners: a chart seen straight on, so that where its cells lie can
// be worked out by hand, then the same chart upside down.
func TestPlaceByCorners(t *testing.T) {
	p, err := place(t, goodChart, fmt.Sprintf(brookMarks, "[10,10],[210,10],[210,110],[10,110]", ""), 400, 300)
	require.NoError(t, err)
	require.Len(t, p.Pads, 1)
	s := p.Pads[0].Swatches
	assertCentre(t, s[0][0], 10+0.15*200, 10+0.15*100)
	assertCentre(t, s[1][0], 10+0.35*200, 10+0.15*100)
	assertCentre(t, s[2][0], 310, 70)
	require.Len(t, p.Whites, 1)
	assertCentre(t, p.Whites[0], 10+0.8*200, 10+0.8*100)
	assert.Equal(t, "card", p.Whites[0].Material)

	p, err = place(t, goodChart, fmt.Sprintf(brookMarks, "[210,110],[10,110],[10,10],[210,10]", ""), 400, 300)
	require.NoError(t, err)
	assertCentre(t, p.Pads[0].Swatches[0][0], 10+0.85*200, 10+0.85*100)
}

// TestPlaceByCornersInPerspective: the map is worked out by hand from
// x = 100u/(1+u), y = 100v/(1+u), which takes the square's corners to (0, 0),
// (50, 0), (50, 50) and (0, 100).
func TestPlaceByCornersInPerspective(t *testing.T) {
	p, err := place(t, goodChart, fmt.Sprintf(brookMarks, "[0,0],[50,0],[50,50],[0,100]", ""), 400, 300)
	require.NoError(t, err)
	var want []colorimetry.Point
	for _, q := range [][2]float64{{0.1, 0.1}, {0.2, 0.1}, {0.2, 0.2}, {0.1, 0.2}} {
		want = append(want, colorimetry.Point{X: 100 * q[0] / (1 + q[0]), Y: 100 * q[1] / (1 + q[0])})
	}
	got := p.Pads[0].Swatches[0][0].Region.Points
	require.Len(t, got, len(want))
	for i := range want {
		assert.InDelta(t, want[i].X, got[i].X, 1e-9)
		assert.InDelta(t, want[i].Y, got[i].Y, 1e-9)
	}
}

func assertCentre(t *testing.T, m Mark, x, y float64) {
	t.Helper()
	c := m.Region.Centroid()
	assert.InDelta(t, x, c.X, 1e-9, m.label())
	assert.InDelta(t, y, c.Y, 1e-9, m.label())
}

func TestAHandMarkWins(t *testing.T) {
	hand := `{"role": "swatch", "analyte": "nitrate", "value": 2.0000000001, "rect": [300, 100, 20, 20]},`
	p, err := place(t, goodChart, fmt.Sprintf(brookMarks, "[10,10],[210,10],[210,110],[10,110]", hand), 400, 300)
	require.NoError(t, err)
	assertCentre(t, p.Pads[0].Swatches[1][0], 310, 110)
	assertCentre(t, p.Pads[0].Swatches[0][0], 10+0.15*200, 10+0.15*100)
}

func TestCornerFaults(t *testing.T) {
	for corners, want := range map[string]string{
		"[10,10],[410,10],[410,110],[10,110]": "corners[1]: lies outside the photo of 400 x 300 pixels; move it inside",
		"[0,0],[200,0],[200,300],[0,300]":     "",                                                                                              // corners on the photo's own
		"[300,0],[400,0],[400,100],[300,100]": `corners: swatch "nitrate" 0 lies on regions[0], which is pad "nitrate"; mark each where it is`, // within it
		"[295,0],[395,0],[395,133],[295,133]": `corners: swatch "nitrate" 0 lies on regions[0], which is pad "nitrate"; mark each where it is`,
		"[10,10],[10.000000000000004,10],[10.000000000000004,10.000000000000004],[10,10.000000000000004]": `corners: make swatch "nitrate" 0 too small to be an area; mark the chart larger`,
		"[10,10],[210,10],[210,10.00000001],[10,10.00000001]":                                             "corners: lie three on one line, or two on one place; " + cornerOrder,
	} {
		_, err := place(t, goodChart, fmt.Sprintf(brookMarks, corners, ""), 400, 300)
		if want == "" {
			assert.NoError(t, err, corners)
		} else {
			assert.EqualError(t, err, want)
		}
	}
}

// A mark that covers another, a rect written as two corners for one, is refused
// whatever the order; white areas may cover each other.
func TestMarksThatCoverAnother(t *testing.T) {
	marks := func(pad, white string) string {
		return strings.Replace(strings.Replace(streamMarks, `"regions": [`, `"regions": [`+white, 1), `"role": "pad", "analyte": "nitrite", `, `"role": "pad", "analyte": "nitrite", `+pad, 1)
	}
	_, err := place(t, stream, marks("", `{"role": "white", "rect": [0, 0, 200, 100]}, `), 200, 100)
	require.Error(t, err)
	assert.Regexp(t, `^regions\[\d\]: .* lies on regions\[0\], which is white; mark each where it is$`, err.Error())
	last := strings.Replace(streamMarks, "]}", `]}`, 1)
	i := strings.LastIndex(last, "]")
	_, err = place(t, stream, last[:i]+`, {"role": "white", "rect": [0, 0, 200, 100]}`+last[i:], 200, 100)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "mark each where it is, a rect as x, y, width, height")
	_, err = place(t, stream, marks("", `{"role": "white", "rect": [100, 0, 10, 10]}, {"role": "white", "rect": [100, 0, 10, 10]}, `), 200, 100)
	assert.NoError(t, err)
}

func TestWhatIsItExpressedAs(t *testing.T) {
	open, err := ParseChart([]byte(`{"chart": "a", "analytes": [{"name": "nitrate", "unit": "mg/L", "swatches": [{"value": 0}, {"value": 5}]}]}`))
	require.NoError(t, err)
	assert.True(t, open.Analytes[0].lacksAs())
	for _, said := range []string{`"name": "nitrate", "unit": "mg/L", "as": "N"`, `"name": "pH", "unit": "pH"`, `"name": "iron", "unit": "mg/L"`, `"name": "hardness", "unit": "gr/gal"`} {
		c, err := ParseChart([]byte(`{"chart": "a", "analytes": [{` + said + `, "swatches": [{"value": 0}, {"value": 5}]}]}`))
		require.NoError(t, err)
		assert.False(t, c.Analytes[0].lacksAs(), said)
	}
	_, err = ParseChart([]byte(`{"chart": "a", "analytes": [{"name": "nitrate", "unit": "mg/L as N", "swatches": [{"value": 0}, {"value": 5}]}]}`))
	assert.EqualError(t, err, `analytes[0].unit: is "mg/L as N", two things in one; write "unit": "mg/L", "as": "N"`)
}

// TestLongListsAreCut keeps an error about a large chart on a line.
func TestLongListsAreCut(t *testing.T) {
	values := make([]float64, 20)
	for i := range values {
		values[i] = float64(i)
	}
	assert.Equal(t, "0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, ...", scale("u", SpacingAuto, values...).values())
	assert.Equal(t, "0, 1", scale("u", SpacingAuto, 0, 1).values())
}

// Each white is weighed against all others, so thousands would take minutes.
func TestWhitesAreCounted(t *testing.T) {
	whites := func(n int) string {
		return strings.Replace(streamMarks, `"regions": [`, `"regions": [`+strings.Repeat(`{"role": "white", "rect": [100, 0, 10, 10]}, `, n-1), 1)
	}
	p, err := place(t, stream, whites(maxWhites), 200, 100)
	require.NoError(t, err)
	assert.Len(t, p.Whites, maxWhites)
	_, err = place(t, stream, whites(maxWhites+1), 200, 100)
	assert.EqualError(t, err, "regions: mark 257 white areas, over the limit of 256; keep the largest")
}
