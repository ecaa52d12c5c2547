package outline

import (
	"image"
	"image/color"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// marks are what somebody would mark who knows the drawing, with the corners of the card.
func (c *card) marks(t *testing.T) charts.Marks {
	t.Helper()
	m := charts.Marks{Format: 1, Chart: c.chart.Name}
	high := 130 + rowPitch*float64(len(c.chart.Analytes))
	for _, p := range [][2]float64{{200, 300}, {840, 300}, {840, 300 + high}, {200, 300 + high}} {
		m.Corners = append(m.Corners, c.at(p[0], p[1]))
	}
	add := func(mark charts.Mark, name string, size float64) {
		p, ok := c.places[name]
		if !ok {
			return
		}
		var err error
		h := 0.36 * size
		mark.Region, err = colorimetry.NewPolygon(c.about(p, -h, -h), c.about(p, h, -h), c.about(p, h, h), c.about(p, -h, h))
		require.NoError(t, err)
		mark.Part = 1
		m.Regions = append(m.Regions, mark)
	}
	for _, a := range c.chart.Analytes {
		add(charts.Mark{Role: charts.RolePad, Analyte: a.Name}, "pad "+a.Name, 38)
		for _, s := range a.Swatches {
			add(charts.Mark{Role: charts.RoleSwatch, Analyte: a.Name, Value: s.Value}, swatchName(a.Name, s.Value), side)
		}
	}
	return m
}

// about is a place beside another on the drawing.
func (c *card) about(p colorimetry.Point, x, y float64) colorimetry.Point {
	sin, cos := math.Sincos(c.turn)
	return colorimetry.Point{X: p.X + x*cos - y*sin, Y: p.Y + x*sin + y*cos}
}

// withLayout gives the chart of a card the layout of a drawing that lies straight.
func (c *card) withLayout(t *testing.T, straight *card) *card {
	t.Helper()
	chart, err := c.chart.WithLayout(straight.marks(t))
	require.NoError(t, err)
	c.chart = chart
	return c
}

// spread are marks with the cells that corners stand for.
func (c *card) spread(t *testing.T, m charts.Marks) charts.Marks {
	t.Helper()
	cells, err := m.Cells(c.chart, cardWidth, cardHeight)
	require.NoError(t, err)
	m.Regions = slices.Concat(m.Regions, cells)
	return m
}

// from draws the card as it is seen from elsewhere: each place of the drawing goes where
// a homography carries it.
func (c *card) from(t *testing.T, corners [4]colorimetry.Point) *card {
	t.Helper()
	square := [4]colorimetry.Point{{X: 0, Y: 0}, {X: cardWidth, Y: 0}, {X: cardWidth, Y: cardHeight}, {X: 0, Y: cardHeight}}
	h, err := colorimetry.NewHomography(square, corners)
	require.NoError(t, err)
	back, ok := h.Inverse()
	require.True(t, ok)
	out := &card{m: image.NewRGBA(c.m.Rect), chart: c.chart, turn: c.turn, places: map[string]colorimetry.Point{}}
	for y := range cardHeight {
		for x := range cardWidth {
			p := back.Apply(colorimetry.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			at := image.Pt(int(p.X), int(p.Y))
			if !p.Finite() || !at.In(c.m.Rect) {
				out.m.SetRGBA(x, y, color.RGBA{120, 120, 120, 255})
				continue
			}
			out.m.SetRGBA(x, y, c.m.RGBAAt(at.X, at.Y))
		}
	}
	for name, p := range c.places {
		out.places[name] = h.Apply(p)
	}
	return out
}

// plain leaves nothing but places to tell one way of reading a chart from another.
func (c *card) plain() *card {
	for i := range c.chart.Analytes {
		c.chart.Analytes[i].Palest = charts.PalestNeither
	}
	return c
}

// Three rows of unequal length lie one way only on a chart whose layout is known.
func TestLayoutTellsRowsAndDirections(t *testing.T) {
	straight := newCard(0, []int{4, 6, 5}, false, true)
	for _, turn := range []float64{0, 0.5, math.Pi / 2, math.Pi, -2} {
		c := newCard(turn, []int{4, 6, 5}, false, true).plain().withLayout(t, straight)
		o := c.find()
		require.NotNil(t, o.Marks, "turned %g", turn)
		assert.Zero(t, len(o.Questions), "turned %g", turn)
		require.Len(t, o.Marks.Corners, 4)
		for i, want := range c.marks(t).Corners {
			assert.Less(t, o.Marks.Corners[i].Distance(want), 4.0, "corner %d, turned %g", i, turn)
		}
		for _, r := range o.Marks.Regions {
			assert.NotEqual(t, charts.RoleSwatch, r.Role, "corners stand for the swatches")
		}
		assert.Empty(t, c.wrong(c.spread(t, *o.Marks)), "turned %g", turn)
		_, err := o.Marks.Place(c.chart, cardWidth, cardHeight)
		assert.NoError(t, err)
	}
}

// A swatch is as white as the paper, two run into each other, and the camera is tilted.
func TestLayoutPlacesWhatIsNotSeen(t *testing.T) {
	straight := newCard(0, []int{4, 6, 5}, false, true)
	c := newCard(0, []int{4, 6, 5}, true, true).plain()
	c.fill(250, 340, side, side, [3]float64{240, 238, 233})
	c.fill(250+pitch+side, 340+rowPitch, pitch-side, side, mix(ramps[1], 0.2))
	c = c.from(t, [4]colorimetry.Point{{X: 60, Y: 90}, {X: 930, Y: 20}, {X: 990, Y: 930}, {X: 30, Y: 960}}).withLayout(t, straight)
	o := c.find()
	require.NotNil(t, o.Marks)
	assert.Len(t, o.Marks.Corners, 4)
	assert.Empty(t, codes(o))
	assert.Empty(t, c.wrong(c.spread(t, *o.Marks)))
}

// A swatch printed or bent off its cell is marked where it is, and is no reason against
// the corners.
func TestSwatchOffItsCellIsMarked(t *testing.T) {
	straight := newCard(0, []int{4, 6, 5}, false, true)
	c := newCard(0, []int{4, 6, 5}, false, true).plain().withLayout(t, straight)
	x, y := 250+2*pitch, 340+rowPitch
	c.fill(x-1, y-1, side+2, side+2, [3]float64{240, 238, 233})
	c.fill(x, y+13, side, side, mix(ramps[1], 0.4))
	c.places[swatchName("row 2", 10)] = c.at(x+side/2, y+13+side/2)
	o := c.find()
	require.NotNil(t, o.Marks)
	assert.Len(t, o.Marks.Corners, 4)
	var own []charts.Mark
	for _, r := range o.Marks.Regions {
		if r.Role == charts.RoleSwatch {
			own = append(own, r)
		}
	}
	require.Len(t, own, 1)
	assert.InDelta(t, 10, own[0].Value, 1e-9)
	assert.Empty(t, c.wrong(c.spread(t, *o.Marks)))
}

// Where a chart looks the same upside down, which way it lies is asked.
func TestSymmetricLayoutIsAsked(t *testing.T) {
	straight := newCard(0, []int{6, 6, 6}, false, true)
	c := newCard(math.Pi, []int{6, 6, 6}, false, true).plain().withLayout(t, straight)
	o := c.find()
	require.NotNil(t, o.Marks)
	k := slices.IndexFunc(o.Questions, func(q Question) bool { return q.Code == AskRows })
	require.GreaterOrEqual(t, k, 0)
	right := 0
	for _, a := range o.Questions[k].Answers {
		if len(c.wrong(c.spread(t, a.Marks))) == 0 {
			right++
		}
	}
	assert.Equal(t, 1, right, "one answer has it the right way up")
}

// The layout of another print, and one that only knows some of the swatches, are as none.
func TestLayoutThatDoesNotFitIsLeft(t *testing.T) {
	c := newCard(0, []int{4, 6, 5}, true, true)
	bare := c.find()
	crooked := newCard(0, []int{4, 6, 5}, true, true)
	for i, a := range crooked.chart.Analytes {
		for k, s := range a.Swatches { // along the arms of a star
			turn := float64(i)*2 + float64(k)*0.9
			crooked.places[swatchName(a.Name, s.Value)] = crooked.at(520+float64(60+31*k)*math.Cos(turn), 500+float64(60+23*k)*math.Sin(turn))
		}
	}
	c.withLayout(t, crooked)
	assert.Equal(t, bare, c.find())
	c.withLayout(t, newCard(0, []int{4, 6, 5}, true, true))
	c.chart.Layout = c.chart.Layout[1:]
	assert.Equal(t, bare, c.find())
}

// Corners that lie outside the photo cannot be marked, and one row tells none: then each
// swatch is marked.
func TestWithoutCornersEachSwatchIsMarked(t *testing.T) {
	straight := newCard(0, []int{4, 6, 5}, false, true)
	c := newCard(0, []int{4, 6, 5}, false, true).plain().withLayout(t, straight)
	c = c.from(t, [4]colorimetry.Point{{X: 200, Y: 0}, {X: 1200, Y: 0}, {X: 1200, Y: 1000}, {X: 200, Y: 1000}})
	o := c.find()
	require.NotNil(t, o.Marks)
	assert.Empty(t, o.Marks.Corners)
	assert.Empty(t, c.wrong(*o.Marks))

	row := newCard(0, []int{7}, true, true)
	row.withLayout(t, newCard(0, []int{7}, true, true))
	o = row.find()
	require.NotNil(t, o.Marks)
	assert.Empty(t, o.Marks.Corners)
	assert.Empty(t, row.wrong(*o.Marks))
}

// The exact map through four places comes from another formula.
func TestMendedPlaneIsTheHomography(t *testing.T) {
	from := [4]colorimetry.Point{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}}
	to := [4]colorimetry.Point{{X: 100, Y: 120}, {X: 600, Y: 90}, {X: 640, Y: 560}, {X: 80, Y: 500}}
	h, err := colorimetry.NewHomography(from, to)
	require.NoError(t, err)
	var places, seen []colorimetry.Point
	for k := range 25 {
		q := colorimetry.Point{X: float64(k%5) / 4, Y: float64(k/5) / 4}
		places, seen = append(places, q), append(seen, h.Apply(q))
	}
	p, ok := through([3]colorimetry.Point{from[0], from[1], from[3]}, [3]colorimetry.Point{to[0], to[1], to[3]})
	require.True(t, ok)
	for range 4 {
		p = p.mended(places, seen)
	}
	for i, q := range places {
		assert.Less(t, p.apply(q).Distance(seen[i]), 0.05, "%v", q)
	}
	_, ok = through([3]colorimetry.Point{{X: 0}, {X: 1}, {X: 2}}, [3]colorimetry.Point(to[:3]))
	assert.False(t, ok, "three in a line")
	past := plane{{1, 0, 0}, {0, 1, 0}, {-1, 0, 1}}.apply(colorimetry.Point{X: 2})
	assert.True(t, math.IsNaN(past.X), "beyond the horizon")
}
