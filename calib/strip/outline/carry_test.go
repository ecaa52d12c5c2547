package outline

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/colorimetry"
)

// earlier is the card as another photo, looked at.
func (c *card) earlier(t *testing.T) Earlier {
	t.Helper()
	m := c.marks(t)
	m.Corners = nil
	return Earlier{Marks: m, Width: cardWidth, Height: cardHeight, Seen: c.m}
}

func (c *card) carry(e Earlier) Outline { return Carry(c.m, cardWidth, cardHeight, c.chart, e) }

func codes(o Outline) (out []Code) {
	for _, q := range o.Questions {
		out = append(out, q.Code)
	}
	return out
}

// The same chart lies another way; without numbers and pale ends only the colours of
// the earlier photo tell which way.
func TestCarryTakesRowsAndDirectionsFromTheEarlierPhoto(t *testing.T) {
	for _, counts := range [][]int{{6, 6, 6}, {5}} {
		before := newCard(0, counts, false, true).plain()
		e := before.earlier(t)
		for _, turn := range []float64{0.3, math.Pi} {
			c := newCard(turn, counts, false, true).plain()
			o := c.carry(e)
			require.NotNil(t, o.Marks)
			assert.Empty(t, c.wrong(*o.Marks), "%v turned %g", counts, turn)
			assert.NotContains(t, codes(o), AskRows)
			assert.NotContains(t, codes(o), AskDirection)
			assert.Empty(t, o.Marks.Corners, "nothing is known of corners")
		}
		c := newCard(math.Pi, counts, false, true).plain()
		assert.True(t, slices.Contains(codes(c.find()), AskRows) || slices.Contains(codes(c.find()), AskDirection))
		before, c = newCard(0, counts, false, false).plain(), newCard(math.Pi, counts, false, false).plain()
		e = before.earlier(t)
		e.Seen = nil
		o := c.carry(e)
		assert.True(t, slices.Contains(codes(o), AskRows) || slices.Contains(codes(o), AskDirection), "places alone cannot tell")
	}
}

// The pads' order is that of the earlier marks, also where the strip was moved, turned
// and has darkened.
func TestCarryTakesTheOrderOfThePads(t *testing.T) {
	paint := func(c *card, x, y float64, down bool, darker float64) {
		c.fill(100, 250, 48, 425, [3]float64{110, 110, 110})
		c.fill(x, y, 48, 425, [3]float64{247, 246, 243})
		for i, row := range []int{2, 0, 1} {
			at := y + 12 + 60*float64(i)
			if down {
				at = y + 375 - 60*float64(i)
			}
			c.fill(x+5, at, 38, 38, mix(ramps[row], 0.5+darker))
			c.places["pad "+c.chart.Analytes[row].Name] = c.at(x+24, at+19)
		}
	}
	before := newCard(0, []int{4, 6, 5}, true, true)
	paint(before, 100, 250, false, 0)
	c := newCard(0.4, []int{4, 6, 5}, true, true)
	paint(c, 890, 320, true, 0.15)
	o := c.carry(before.earlier(t))
	require.NotNil(t, o.Marks)
	assert.Empty(t, c.wrong(*o.Marks))
	assert.Empty(t, codes(o))
}

// A strip of pads that are all alike lies where it lay: it was not turned.
func TestCarryKnowsAStripThatLiesWhereItLay(t *testing.T) {
	alike := func(turn float64) *card {
		c := newCard(turn, []int{4, 6, 5}, true, true)
		c.fill(100, 250, 48, 425, [3]float64{247, 246, 243})
		c.fill(95, 200, 58, 150, [3]float64{110, 110, 110}) // no more white at one end than at the other
		c.fill(95, 590, 58, 150, [3]float64{110, 110, 110})
		for i := range 3 {
			c.fill(105, 391+60*float64(i), 38, 38, mix(ramps[0], 0.6))
			c.places["pad "+c.chart.Analytes[i].Name] = c.at(124, 410+60*float64(i))
		}
		return c
	}
	before, c := alike(0), alike(0.7)
	require.Contains(t, codes(c.find()), AskStripEnd)
	o := c.carry(before.earlier(t))
	require.NotNil(t, o.Marks)
	assert.NotContains(t, codes(o), AskStripEnd)
	assert.Empty(t, c.wrong(*o.Marks))
}

// With the corners of the earlier photo and the chart's layout the marks are corners too.
func TestCarryGivesCornersForCorners(t *testing.T) {
	before := newCard(0, []int{4, 6, 5}, true, true)
	c := newCard(1, []int{4, 6, 5}, true, true).withLayout(t, before)
	e := before.earlier(t)
	e.Marks.Corners = before.marks(t).Corners
	e.Marks.Regions = slices.DeleteFunc(e.Marks.Regions, func(m charts.Mark) bool { return m.Role == charts.RoleSwatch })
	o := c.carry(e)
	require.NotNil(t, o.Marks)
	require.Len(t, o.Marks.Corners, 4)
	assert.Less(t, o.Marks.Corners[0].Distance(c.at(200, 300)), 4.0)
	assert.Empty(t, c.wrong(c.spread(t, *o.Marks)))
}

// Marks that cannot be of this chart tell nothing, and break nothing.
func TestCarryOfMarksThatTellNothing(t *testing.T) {
	c := newCard(0, []int{4, 6, 5}, true, true)
	want, whole := c.find(), c.earlier(t)
	for name, change := range map[string]func(e *Earlier){
		"no size":     func(e *Earlier) { e.Width = 0 },
		"none":        func(e *Earlier) { e.Marks.Regions = nil },
		"one lacking": func(e *Earlier) { e.Marks.Regions = e.Marks.Regions[:len(e.Marks.Regions)-1] },
		"outside":     func(e *Earlier) { e.Width, e.Height = 300, 300 },
		"corners": func(e *Earlier) {
			e.Marks.Corners = []colorimetry.Point{{X: 1, Y: 1}, {X: 9, Y: 1}, {X: 9, Y: 9}, {X: 1, Y: 9}}
		},
	} {
		e := whole
		e.Marks.Regions = slices.Clone(whole.Marks.Regions)
		change(&e)
		assert.Equal(t, want, c.carry(e), name)
	}
	empty := newCard(0, []int{4, 6, 5}, true, true)
	empty.fill(-500, -500, 2000, 2000, [3]float64{120, 120, 120})
	assert.Equal(t, WhyNoPatches, empty.carry(whole).Why.Code)
}
