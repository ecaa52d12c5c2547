package outline

import (
	"flag"
	"fmt"
	"image"
	"image/color"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/scene/table"
	"padband/charts"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

var scenes = flag.Int("scenes", 10, "`N` rendered photos to search")

func (c *card) find() Outline { return Find(c.m, cardWidth, cardHeight, c.chart) }

func TestFindMarksAllThatTheChartHas(t *testing.T) {
	for _, counts := range [][]int{{4, 6, 5}, {5, 7}, {6, 6, 6}} {
		for _, turn := range []float64{0, 0.4, math.Pi / 2, math.Pi, -2} {
			c := newCard(turn, counts, true, true)
			o := c.find()
			require.NotNil(t, o.Marks, "%v turned %g", counts, turn)
			assert.Empty(t, c.wrong(*o.Marks), "%v turned %g", counts, turn)
			assert.Zero(t, len(o.Questions), "%v turned %g", counts, turn)
			assert.Equal(t, Why{}, o.Why)
			assert.Equal(t, "drawn", o.Marks.Chart)
		}
	}
}

func TestMarksFitThePhotoAndLieInsideTheirPatches(t *testing.T) {
	c := newCard(0, []int{4, 6, 5}, true, true)
	o := Find(c.m, 4*cardWidth, 4*cardHeight, c.chart)
	require.NotNil(t, o.Marks)
	_, err := o.Marks.Place(c.chart, 4*cardWidth, 4*cardHeight)
	require.NoError(t, err)
	whites := map[string]int{}
	for _, r := range o.Marks.Regions {
		if r.Role == charts.RoleWhite {
			whites[r.Material]++
			for _, p := range r.Region.Outline() {
				got := color.RGBAModel.Convert(c.m.At(int(p.X/4), int(p.Y/4))).(color.RGBA)
				assert.Greater(t, got.R, uint8(225), "white at %v", p)
				assert.Less(t, int(got.R)-int(got.B), 20, "white at %v", p)
			}
			continue
		}
		m := middle(r.Region)
		for _, p := range r.Region.Outline() {
			assert.Less(t, max(math.Abs(p.X-m.X), math.Abs(p.Y-m.Y)), 4*side/2*0.85, "%s %s", r.Role, r.Analyte)
		}
	}
	assert.GreaterOrEqual(t, whites[whiteMaterial], 3)
	assert.GreaterOrEqual(t, whites[stripMaterial], 1)
}

// Without numbers and without a strip nothing tells which way a row of two colours runs.
func TestWithoutACueItAsks(t *testing.T) {
	c := newCard(0, []int{6}, false, false)
	c.chart.Analytes[0].Palest = charts.PalestNeither
	o := c.find()
	require.NotNil(t, o.Marks)
	asked := map[Code]Question{}
	for _, q := range o.Questions {
		asked[q.Code] = q
		assert.LessOrEqual(t, len(q.Answers), mostAnswers)
		assert.True(t, reflect.DeepEqual(*o.Marks, q.Answers[0].Marks), "the first answer is the best guess")
	}
	assert.Contains(t, asked, AskStrip)
	require.Contains(t, asked, AskDirection)
	right := 0
	for _, a := range asked[AskDirection].Answers {
		if len(c.wrong(a.Marks)) == 0 {
			right++
		}
	}
	assert.Equal(t, 1, right, "one answer has the row the right way round")
	assert.Equal(t, WhyNoStrip, o.Why.Code)
}

// What the chart says of its pale end is believed against nothing else.
func TestPaleEndTellsTheDirection(t *testing.T) {
	for palest, lowest := range map[charts.Palest]string{charts.PalestLowest: "swatch row 1 0", charts.PalestHighest: "swatch row 1 1000"} {
		c := newCard(0, []int{6}, false, true)
		c.chart.Analytes[0].Palest = palest
		o := c.find()
		require.NotNil(t, o.Marks)
		for _, r := range o.Marks.Regions {
			if r.Role == charts.RoleSwatch && fmt.Sprintf("swatch row 1 %g", r.Value) == lowest {
				assert.InDelta(t, 250+side/2, middle(r.Region).X, 8, "%s", palest)
			}
		}
	}
}

func TestPadsFollowTheOrderOfTheStrip(t *testing.T) {
	c := newCard(0, []int{4, 6, 5}, true, true)
	c.chart.Strip = []string{"row 3", "row 1", "row 2"}
	for i, name := range c.chart.Strip { // the pads are painted anew in that order
		row := int(name[4] - '1')
		x, y := 105.0, 262+60*float64(i)
		c.fill(x, y, 38, 38, mix(ramps[row], 0.6))
		c.places["pad "+name] = c.at(x+19, y+19)
	}
	o := c.find()
	require.NotNil(t, o.Marks)
	assert.Empty(t, c.wrong(*o.Marks))
}

func TestOtherChartIsSaid(t *testing.T) {
	c := newCard(0, []int{6}, true, true)
	other := newCard(0, []int{6, 6, 6}, true, true).chart
	o := Find(c.m, cardWidth, cardHeight, other)
	assert.Nil(t, o.Marks)
	assert.Equal(t, WhyRows, o.Why.Code)
	assert.Equal(t, 3, o.Why.Wanted)
	assert.Equal(t, 6, o.Why.WantedEach)
	assert.Less(t, o.Why.Found, 3)
}

func TestEmptyPictureHoldsNothing(t *testing.T) {
	chart := newCard(0, []int{3}, false, false).chart
	for _, m := range []image.Image{image.NewRGBA(image.Rect(0, 0, 0, 0)), image.NewGray(image.Rect(0, 0, 40, 30)), image.NewRGBA(image.Rect(5, 5, 6, 6))} {
		o := Find(m, 100, 100, chart)
		assert.Nil(t, o.Marks)
		assert.Equal(t, WhyNoPatches, o.Why.Code)
	}
}

// The scenes' truth comes from their own projection, not from the search.
func TestScenesAreRightOrAsked(t *testing.T) {
	n := *scenes
	if testing.Short() {
		n = min(n, 3)
	}
	right, asked, wrong := 0, 0, 0
	for k := range n {
		s, err := table.Draw(uint64(4001 + k))
		require.NoError(t, err)
		chart := s.Chart
		chart.Strip = s.Strip
		p, m, _, err := photo.Glance(s.Photo, photo.Limits{}, Longest)
		require.NoError(t, err)
		o := Find(m, p.Width, p.Height, chart)
		switch {
		case o.Marks != nil && allInside(*o.Marks, s.Regions):
			right++
		case o.Marks == nil || len(o.Questions) > 0:
			asked++
		default:
			wrong++
			t.Logf("seed %d: marked wrongly without a question", 4001+k)
		}
	}
	t.Logf("%d scenes: %d right, %d asked or refused, %d wrong", n, right, asked, wrong)
	assert.LessOrEqual(t, wrong, n/25)
	assert.Greater(t, right+asked, 0)
	if n >= 10 {
		assert.GreaterOrEqual(t, right, n/5)
	}
}

// allInside reports whether every pad and swatch of the truth is marked within itself.
func allInside(m charts.Marks, truth []table.Region) bool {
	for _, want := range truth {
		ok := false
		for _, r := range m.Regions {
			if r.Role == want.Role && r.Analyte == want.Analyte && (r.Role == charts.RolePad || r.Value == want.Value) {
				ok = inside(middle(r.Region), want.Polygon)
			}
		}
		if !ok {
			return false
		}
	}
	return true
}

func inside(p colorimetry.Point, q []colorimetry.Point) (in bool) {
	j := q[len(q)-1]
	for _, i := range q {
		if (i.Y > p.Y) != (j.Y > p.Y) && p.X < (j.X-i.X)*(p.Y-i.Y)/(j.Y-i.Y)+i.X {
			in = !in
		}
		j = i
	}
	return in
}

func TestPhotosWithoutAChartAreNotMarkedUnasked(t *testing.T) {
	n := 20
	if testing.Short() {
		n = 3
	}
	for k := range n {
		s, err := table.Without(uint64(5001 + k))
		require.NoError(t, err)
		p, m, _, err := photo.Glance(s.Photo, photo.Limits{}, Longest)
		require.NoError(t, err)
		if o := Find(m, p.Width, p.Height, s.Chart); o.Marks != nil {
			assert.NotEmpty(t, o.Questions, "seed %d", 5001+k)
		}
	}
}

// latticed is a chart whose layout puts rows on every other box of a grid.
func latticed(counts ...int) charts.Chart {
	c := newCard(0, counts, false, false).chart
	for i, a := range c.Analytes {
		for k, s := range a.Swatches {
			x, y := 0.1+0.25*float64(k), 0.1+0.4*float64(i)
			r, _ := colorimetry.NewRect(x, y, 0.1, 0.2)
			c.Layout = append(c.Layout, charts.Mark{Role: charts.RoleSwatch, Analyte: a.Name, Value: s.Value, Part: 1, Region: r})
		}
	}
	return c
}

func FuzzFind(f *testing.F) {
	f.Add(uint8(20), uint8(3), []byte{1, 2, 3, 200, 100, 50, 7, 9, 9, 1, 1, 200, 3})
	f.Add(uint8(39), uint8(0xab), []byte("10%11"))                  // a strip's white on a swatch
	f.Add(uint8('W'), uint8(3), []byte("\x01B#0\t\t\x01\x01C#"))    // a pad on a swatch
	f.Add(uint8(0xf9), uint8(0xab), []byte("10100010110012010A10")) // a swatch on a swatch, without a strip
	f.Add(uint8(8), uint8(1), []byte("\x00\xff\x00\xff\x00\xff\x00\x00\x00\x00\x10\x80\x10\x80\x10\x80\x10"))
	charted := []charts.Chart{
		newCard(0, []int{3}, false, false).chart, newCard(0, []int{2, 3}, false, false).chart, newCard(0, []int{3, 3, 4}, false, false).chart,
		latticed(2, 2), latticed(2, 3),
	}
	f.Add(uint8(8), uint8(3), []byte("\x00\xf0\x00\xa0\x00\xa0\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x60\x00\x20\x00\x20"))
	f.Fuzz(func(t *testing.T, width, which uint8, data []byte) {
		w := int(width)%40 + 1
		h := min(40, len(data)/w+1)
		const block = 8
		m := image.NewRGBA(image.Rect(0, 0, w*block, h*block))
		for y := range h * block {
			for x := range w * block {
				if k := y/block*w + x/block; k < len(data) {
					m.SetRGBA(x, y, color.RGBA{data[k] & 0xe0, data[k] << 3, data[k] << 6, 255})
				}
			}
		}
		chart := charted[int(which)%len(charted)]
		o := Find(m, 2*w*block, 2*h*block, chart)
		if o.Marks == nil {
			require.NotEmpty(t, o.Why.Code)
			return
		}
		for _, r := range o.Marks.Regions {
			require.NoError(t, r.Region.Check())
			require.True(t, r.Region.Inside(2*w*block, 2*h*block), "%s %s", r.Role, r.Analyte)
		}
		_, err := o.Marks.Cells(chart, 2*w*block, 2*h*block)
		require.NoError(t, err)
		if slices.ContainsFunc(o.Marks.Regions, func(r charts.Mark) bool { return r.Role == charts.RolePad }) {
			_, err := o.Marks.Place(chart, 2*w*block, 2*h*block)
			require.NoError(t, err)
		}
		for _, q := range o.Questions {
			require.NotEmpty(t, q.Answers)
			require.LessOrEqual(t, len(q.Answers), mostAnswers)
		}
	})
}
