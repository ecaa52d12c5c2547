package table

import (
	"bytes"
	"encoding/json"
	"image"
	"image/jpeg"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

func composed(t *testing.T, seed uint64) *composition {
	t.Helper()
	c := compose(seed, "test")
	require.NotNil(t, c, "seed %d", seed)
	return c
}

// TestPatchesHaveTheirOwnColours looks at the painted picture in the middle of
// each true outline: the colour of that swatch, or that pad, is there. The
// light on a bottle scales it and adds a little.
func TestPatchesHaveTheirOwnColours(t *testing.T) {
	for seed := range uint64(4) {
		c := composed(t, seed)
		pic, regions := c.paint(seed), c.regions()
		for i, r := range regions {
			want, far := c.colour(i), 0.05
			if r.Role == charts.RolePad {
				far = 0.14 // wet, and not evenly dyed
			}
			got := pic.about(r.Polygon.centre())
			scale, shine := 1.0, 0.02
			if c.flask != nil && r.Role == charts.RoleSwatch {
				scale = (got[0] + got[1] + got[2]) / (want[0] + want[1] + want[2])
				assert.InDelta(t, 0.75, scale, 0.55, "seed %d: light on %s %g", seed, r.Analyte, r.Value)
				far, shine = 0.12, 0.04
			}
			for ch := range got {
				w := want[ch] * scale
				assert.InDelta(t, w, got[ch], far*w+shine, "seed %d: %s %s %g, channel %d", seed, r.Role, r.Analyte, r.Value, ch)
			}
		}
	}
}

// about is the mean colour about a place.
func (p *picture) about(at point) (mean rgb) {
	const reach = 2
	for y := int(at.Y) - reach; y <= int(at.Y)+reach; y++ {
		for x := int(at.X) - reach; x <= int(at.X)+reach; x++ {
			for ch := range mean {
				mean[ch] += float64(p.pix[3*(y*p.w+x)+ch]) / (2*reach + 1) / (2*reach + 1)
			}
		}
	}
	return mean
}

// colour is the colour of a region, by its place among all.
func (c *composition) colour(i int) rgb {
	if i < len(c.cells) {
		q := c.cells[i]
		return c.series[q.analyte].at(float64(q.swatch) / float64(len(c.chart.Analytes[q.analyte].Swatches)-1))
	}
	i -= len(c.cells)
	return c.series[c.order[i]].at(c.strip.places[i])
}

// labOf is a pixel in CIELAB, by the curve of IEC 61966-2-1.
func labOf(seen image.Image, x, y int) colorimetry.Lab {
	r, g, b, _ := seen.At(x, y).RGBA()
	var c rgb
	for i, v := range []uint32{r, g, b} {
		s := float64(v) / 65535
		if c[i] = s / 12.92; s > 0.04045 {
			c[i] = math.Pow((s+0.055)/1.055, 2.4)
		}
	}
	return c.lab()
}

// TestTruthLiesOnFlatColour looks at the file itself: within each true outline
// lies one colour, and it ends at the outline, as seen a little outside.
func TestTruthLiesOnFlatColour(t *testing.T) {
	for seed := uint64(20); seed < 22; seed++ {
		s, err := Draw(seed)
		require.NoError(t, err)
		seen, err := jpeg.Decode(bytes.NewReader(s.Photo))
		require.NoError(t, err)
		require.Equal(t, image.Rect(0, 0, s.Width, s.Height), seen.Bounds())
		ends, even := 0, 0.85
		if composed(t, seed).numbers == inside {
			even = 0.7
		}
		for _, r := range s.Regions {
			o := r.Polygon
			mid := median(within(seen, scaled(o, 0.5)))
			inner := within(seen, scaled(o, 0.75))
			assert.Greater(t, near(inner, mid, 8), even, "seed %d: %s %s %g is not of one colour", seed, r.Role, r.Analyte, r.Value)
			outer := within(seen, scaled(o, 1.5))
			whole := within(seen, scaled(o, 1.15))
			out := float64(len(outer))*(1-near(outer, mid, 3)) - float64(len(whole))*(1-near(whole, mid, 3))
			if out > 0.3*float64(len(outer)-len(whole)) {
				ends++
			}
		}
		assert.Greater(t, float64(ends), 0.75*float64(len(s.Regions)), "seed %d: too many outlines lie in their own colour", seed)
	}
}

// scaled draws an outline about its middle.
func scaled(o path, k float64) path {
	c := o.centre()
	out := make(path, len(o))
	for i, q := range o {
		out[i] = point{X: c.X + k*(q.X-c.X), Y: c.Y + k*(q.Y-c.Y)}
	}
	return out
}

func within(seen image.Image, o path) (all []colorimetry.Lab) {
	region, err := colorimetry.NewPolygon(o...)
	if err != nil {
		panic(err)
	}
	b := seen.Bounds()
	for y, spans := range region.Pixels(b.Dx(), b.Dy(), 0) {
		for _, s := range spans {
			for x := s.From; x < s.To; x++ {
				all = append(all, labOf(seen, x, y))
			}
		}
	}
	return all
}

func median(all []colorimetry.Lab) colorimetry.Lab {
	at := func(get func(colorimetry.Lab) float64) float64 {
		var v []float64
		for _, c := range all {
			v = append(v, get(c))
		}
		slices.Sort(v)
		return v[len(v)/2]
	}
	return colorimetry.Lab{
		L: at(func(c colorimetry.Lab) float64 { return c.L }), A: at(func(c colorimetry.Lab) float64 { return c.A }),
		B: at(func(c colorimetry.Lab) float64 { return c.B }),
	}
}

// near is the share of colours within a CIE76 distance of one.
func near(all []colorimetry.Lab, mid colorimetry.Lab, far float64) float64 {
	n := 0.0
	for _, c := range all {
		if colorimetry.DeltaE76(c, mid) <= far {
			n++
		}
	}
	return n / float64(len(all))
}

func TestSeedsGiveTheSameBytes(t *testing.T) {
	a, err := Draw(3)
	require.NoError(t, err)
	b, err := Draw(3)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(a.Photo, b.Photo))
	assert.Equal(t, a.Regions, b.Regions)
	assert.NotEqual(t, a.Regions, composed(t, 4).regions())
}

// TestLayoutsAreOfAllKinds counts what is drawn against what a search for
// charts is to be tried on.
func TestLayoutsAreOfAllKinds(t *testing.T) {
	const n = 300
	count := map[string]float64{}
	lines, swatches := map[int]int{}, map[int]int{}
	for seed := range uint64(n) {
		c := composed(t, seed)
		s := c.scene(nil)
		for name, is := range map[string]bool{
			"flat": s.Kind == Flat, "columns": s.Columns, "down": s.Down, "touching": s.Touching, "soft": s.Form == "soft",
			"round": s.Form == "round", "block": c.block, "other order": !s.inOrder(), "held": c.strip.held, "on the card": c.room != nil,
			"pale": c.series[0].white >= 0, "one line": len(c.chart.Analytes) == 1,
		} {
			if is {
				count[name]++
			}
		}
		lines[len(c.chart.Analytes)]++
		for _, a := range c.chart.Analytes {
			swatches[len(a.Swatches)]++
		}
	}
	for name, want := range map[string][2]float64{
		"flat": {0.5, 0.7}, "columns": {0.2, 0.5}, "down": {0.05, 0.16}, "touching": {0.1, 0.35}, "soft": {0.1, 0.35}, "round": {0.1, 0.35},
		"block": {0.08, 0.25}, "other order": {0.3, 0.55}, "held": {0.03, 0.2}, "on the card": {0.05, 0.25}, "pale": {0.4, 0.8},
	} {
		share := count[name] / n
		assert.True(t, share >= want[0] && share <= want[1], "%s: %.3f, not from %g to %g", name, share, want[0], want[1])
	}
	for i := 1; i <= 16; i++ {
		assert.Positive(t, lines[i], "charts of %d lines", i)
	}
	for i := 3; i <= 8; i++ {
		assert.Positive(t, swatches[i], "lines of %d swatches", i)
	}
	assert.Len(t, swatches, 6)
}

// TestPhotosAreNotMirrored follows the rows of charts in the photo: from the
// first swatch to the next, and from there to the next row, is a turn to the right.
func TestPhotosAreNotMirrored(t *testing.T) {
	for seed := range uint64(40) {
		c := composed(t, seed)
		if c.columns || len(c.chart.Analytes) < 2 {
			continue
		}
		regions := c.regions()
		n := len(c.chart.Analytes[0].Swatches)
		a, b, next := regions[0].Polygon.centre(), regions[1].Polygon.centre(), regions[n].Polygon.centre()
		assert.Positive(t, turnOf(a, b, next), "seed %d", seed)
	}
}

// TestPatchesLieApart looks for pads on swatches, for swatches on each other and under the strip.
func TestPatchesLieApart(t *testing.T) {
	for seed := range uint64(60) {
		c := composed(t, seed)
		regions, strip := c.regions(), sheet{surface: c.strip.on, camera: c.cam}.through(c.strip.body)
		for i, r := range regions {
			if r.Role == charts.RoleSwatch {
				assert.True(t, scaled(r.Polygon, 0.95).clear(strip), "seed %d: the strip on %s %g", seed, r.Analyte, r.Value)
			}
			for _, o := range regions[:i] {
				clear := scaled(r.Polygon, 0.9).clear(scaled(o.Polygon, 0.9))
				assert.True(t, clear, "seed %d: %s %s on %s %s", seed, r.Role, r.Analyte, o.Role, o.Analyte)
			}
		}
	}
}

// TestFilesSayWhatWasDrawn reads chart and truth again. The pads' order is in
// a chart's file only where it is not that of the rows.
func TestFilesSayWhatWasDrawn(t *testing.T) {
	for seed := range uint64(20) {
		s := composed(t, seed).scene(nil)
		data, err := s.ChartFile()
		require.NoError(t, err)
		var fields map[string]json.RawMessage
		require.NoError(t, json.Unmarshal(data, &fields))
		var strip []string
		if raw, ok := fields["strip"]; ok {
			require.NoError(t, json.Unmarshal(raw, &strip))
			assert.ElementsMatch(t, s.Strip, strip)
			assert.False(t, s.inOrder())
			delete(fields, "strip")
		}
		data, err = json.Marshal(fields)
		require.NoError(t, err)
		chart, err := charts.ParseChart(data)
		require.NoError(t, err)
		assert.Equal(t, s.Chart.Analytes, chart.Analytes)

		data, err = s.TruthFile()
		require.NoError(t, err)
		var truth struct {
			Kind    string
			Size    [2]int
			Regions []struct {
				Role, Analyte string
				Value         *float64
				Polygon       [][2]float64
			}
		}
		require.NoError(t, json.Unmarshal(data, &truth))
		require.Len(t, truth.Regions, len(s.Regions))
		for i, r := range truth.Regions {
			assert.Equal(t, s.Regions[i].Analyte, r.Analyte)
			assert.Equal(t, r.Role == "swatch", r.Value != nil)
			assert.Len(t, r.Polygon, len(s.Regions[i].Polygon))
		}
	}
}

func TestPicturesWithoutAChart(t *testing.T) {
	s, err := Without(7)
	require.NoError(t, err)
	seen, err := jpeg.DecodeConfig(bytes.NewReader(s.Photo))
	require.NoError(t, err)
	assert.Equal(t, [2]int{s.Width, s.Height}, [2]int{seen.Width, seen.Height})
	assert.Empty(t, s.Regions)
	assert.Equal(t, Nothing, s.Kind)
	assert.NotEmpty(t, s.Chart.Analytes)
}

func BenchmarkDraw(b *testing.B) {
	for i := range b.N {
		if _, err := Draw(uint64(i + 1)); err != nil {
			b.Fatal(err)
		}
	}
}
