package rule

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/calib/judge"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/report/markup"
	"padband/cmd/padband/internal/report/reporttest"
)

// The line holds zero, the value and both bands, on round numbers, few of them.
func TestDifferenceAxis(t *testing.T) {
	for _, c := range []judge.Change{
		{Band: reporttest.Ends2(2.1, 6.5), WaterBand: reporttest.Ends2(1, 7.4)},
		{Band: reporttest.Ends2(-600, -20), WaterBand: reporttest.Ends2(-700, -10)},
		{Band: reporttest.Ends2(-0.004, 0.001), WaterBand: reporttest.Ends2(-0.006, 0.003)},
		{Band: reporttest.OpenLow(-8), WaterBand: reporttest.OpenLow(-7)},
		{Band: reporttest.OpenHigh(8), WaterBand: reporttest.OpenHigh(7)},
		{Band: reporttest.Ends2(0, 0), WaterBand: reporttest.Ends2(0, 0)},
		{Band: calib.Band{Low: calib.Bound{Open: true}, High: calib.Bound{Open: true}},
			WaterBand: calib.Band{Low: calib.Bound{Open: true}, High: calib.Bound{Open: true}}},
	} {
		a := newAxis(c)
		assert.LessOrEqual(t, a.from, 0.0)
		assert.GreaterOrEqual(t, a.to, 0.0)
		for _, b := range []calib.Band{c.Band, c.WaterBand} {
			for _, e := range []calib.Bound{b.Low, b.High} {
				if !e.Open {
					assert.True(t, a.from <= e.Value+1e-12 && e.Value <= a.to+1e-12, "%v holds %v", a, e.Value)
				}
			}
		}
		ticks := (a.to - a.from) / a.step
		assert.InDelta(t, math.Round(ticks), ticks, 1e-6)
		assert.LessOrEqual(t, math.Round(ticks), float64(lines.MostTicks+1))
		assert.GreaterOrEqual(t, math.Round(ticks), 1.0)
	}
}

// Past an open end there is room to see that it is open.
func TestDifferenceAxisHasRoomForAnOpenEnd(t *testing.T) {
	assert.Less(t, newAxis(judge.Change{Band: reporttest.OpenLow(-8), WaterBand: reporttest.OpenLow(-8)}).from, -8.0)
	assert.Greater(t, newAxis(judge.Change{Band: reporttest.OpenHigh(8), WaterBand: reporttest.OpenHigh(8)}).to, 8.0)
}

func TestDifferenceDrawing(t *testing.T) {
	d := DrawChange(7, reporttest.Nitrate(), reporttest.Changing(judge.NotShown, 1, reporttest.Ends2(-2, 4), reporttest.Ends2(-4, 6)))
	var numbers []string
	for _, n := range d.Numbers {
		numbers = append(numbers, n.Text)
	}
	assert.Equal(t, []string{"−4", "−2", "0", "+2", "+4", "+6"}, numbers)
	at := map[string]string{}
	for _, l := range d.Lines {
		if l.X1 == l.X2 {
			at[l.Class] = l.X1
		}
	}
	assert.Equal(t, markup.Px(56+284*0.4), at["zero"])
	assert.Equal(t, markup.Px(56+284*0.5), at["value"])
	require.Len(t, d.Bars, 1)
	assert.Equal(t, box{markup.Px(56 + 284*0.2), "34", markup.Px(284 * 0.6), "10"}, d.Bars[0])
	assert.Contains(t, d.Desc, "Not shown to have changed")
	d = DrawChange(7, reporttest.Nitrate(), reporttest.Changing(judge.Fell, math.NaN(), reporttest.OpenLow(-8), reporttest.OpenLow(-7)))
	for _, l := range d.Lines {
		assert.NotEqual(t, "value", l.Class)
	}
	assert.Equal(t, markup.Px(svgLeft-svgPast), d.Bars[0].X, "an open end runs to the line's end")
}
