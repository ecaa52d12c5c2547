package rule

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/cmd/padband/internal/report/reporttest"
)

// strokes are the lines of one kind, as "x1 y1 x2 y2".
func strokes(d Drawing, class string) (out []string) {
	for _, l := range d.Lines {
		if l.Class == class {
			out = append(out, strings.Join([]string{l.X1, l.Y1, l.X2, l.Y2}, " "))
		}
	}
	return out
}

// Five swatches stand 71 apart from 56 on, the line at 24; 4 is a quarter of the
// way from 3 to 7, 2 is half a step over 1 and 9 half a step over 7.
func TestDrawingIsToScale(t *testing.T) {
	r := reporttest.Nitrate()
	r.Value = 4
	r.Band.Low.Value, r.Band.High.Value = 2, 9
	r.WaterBand.Low.Value, r.WaterBand.High.Value = 0.5, 11
	d := Draw(1, r)
	assert.Equal(t, []mark{{"56", "14", "0"}, {"127", "14", "1"}, {"198", "14", "3"}, {"269", "14", "7"}, {"340", "14", "11"}}, d.Numbers)
	assert.Equal(t, []mark{{X: "56", Y: "18"}, {X: "127", Y: "18"}, {X: "198", Y: "18"}, {X: "269", Y: "18"}, {X: "340", Y: "18"}}, d.Ticks)
	assert.Equal(t, []string{"46", "350", "24"}, []string{d.From, d.To, d.Line}, "the line goes on past both ends")
	assert.Equal(t, []box{{"162.5", "34", "142", "10"}}, d.Bars)
	assert.Equal(t, []string{"162.5 34 304.5 34", "162.5 44 304.5 44"}, strokes(d, "band"))
	assert.Equal(t, []string{"162.5 34 162.5 44", "304.5 34 304.5 44"}, strokes(d, "end"))
	assert.Equal(t, []string{"215.8 24 215.8 48"}, strokes(d, "value"), "198 + 71/4")
	assert.Equal(t, []string{"91.5 56 340 56", "91.5 52 91.5 60", "340 52 340 60"}, strokes(d, "water"))
	assert.Equal(t,
		"The line carries 0, 1, 3, 7 and 11. Colour read as 2.0 to 9.0. The water may be 0.5 to 11.0. A tick stands at 4.0.", d.Desc)
}

// An open end runs to the line's end and has no end tick, and a value past the
// chart has no place to tick.
func TestOpenEndsAreDrawnOpen(t *testing.T) {
	r := reporttest.Nitrate()
	r.Range, r.Value = calib.Above, 11
	r.Band.Low.Value, r.Band.High = 9, calib.Bound{Value: 11, Open: true}
	r.WaterBand.Low, r.WaterBand.High.Value = calib.Bound{Value: 0, Open: true}, 7
	d := Draw(1, r)
	assert.Equal(t, []box{{"304.5", "34", "45.5", "10"}}, d.Bars, "to 350")
	assert.Equal(t, []string{"304.5 34 304.5 44"}, strokes(d, "end"))
	assert.Equal(t, []string{"46 56 269 56", "269 52 269 60"}, strokes(d, "water"))
	assert.Empty(t, strokes(d, "value"))
	assert.Equal(t, "The line carries 0, 1, 3, 7 and 11. Colour read as 9.0 or more. The water may be 7.0 or less.", d.Desc)

	r.Range, r.Value = calib.Below, 0
	r.Band = calib.Band{Low: calib.Bound{Open: true}, High: calib.Bound{Value: 1}}
	d = Draw(1, r)
	assert.Equal(t, []box{{"46", "34", "81", "10"}}, d.Bars)
	assert.Equal(t, []string{"127 34 127 44"}, strokes(d, "end"))
	assert.Empty(t, strokes(d, "value"))
}

// Each hill is a bar of its own; only the outer ends can be open.
func TestHillsAreSeparateBars(t *testing.T) {
	r := reporttest.Nitrate()
	r.Band = calib.Band{Low: calib.Bound{Value: 1}, High: calib.Bound{Value: 11, Open: true}, Hills: [][2]float64{{1, 3}, {7, 11}}}
	d := Draw(1, r)
	assert.Equal(t, []box{{"127", "34", "71", "10"}, {"269", "34", "81", "10"}}, d.Bars)
	assert.Equal(t, []string{"127 34 127 44", "198 34 198 44", "269 34 269 44"}, strokes(d, "end"))
	assert.Contains(t, d.Desc, "The colour's bar is in 2 pieces.")
}

// A number that has no room goes above its neighbours, with a long tick.
func TestNumbersGoAbove(t *testing.T) {
	d := Draw(1, reporttest.ScaleOf(0, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10, 12500))
	var above, below []string
	for _, n := range d.Numbers {
		switch n.Y {
		case "14":
			above = append(above, n.Text)
		case "30":
			below = append(below, n.Text)
		}
	}
	assert.Equal(t, []string{"0.1", "0.5", "10"}, above)
	assert.Equal(t, []string{"0", "0.05", "0.25", "1", "2.5", "12500"}, below)
	assert.Equal(t, "40", d.Line)
	assert.Equal(t, mark{X: "127", Y: "18"}, d.Ticks[2], "0.1: from under its own number")
	assert.Equal(t, mark{X: "91.5", Y: "34"}, d.Ticks[1])
}

// Whatever the numbers, the ends are there, none runs into another, none leaves
// the drawing, and no long tick passes through a number.
func TestNumbersOfADrawingKeepApart(t *testing.T) {
	for _, n := range []int{2, 3, 6, 9, 12, 20, 33, 64, 200} {
		for _, unit := range []float64{1, 0.25, 1000.5} {
			var values []float64
			for i := range n {
				values = append(values, unit*float64(i*i))
			}
			all, rows := numerals(reporttest.ScaleOf(values...))
			require.Len(t, all, n)
			assert.Equal(t, 1, all[0].row, "%d", n)
			assert.Equal(t, 1, all[n-1].row, "%d", n)
			for i, a := range all {
				assert.LessOrEqual(t, a.row, rows)
				assert.True(t, a.row == 0 || a.from >= 0 && a.to <= Wide, "%+v", a)
				for _, b := range all[i+1:] {
					apart := math.Min(a.to, b.to) <= math.Max(a.from, b.from)
					assert.True(t, a.row != b.row || a.row == 0 || apart, "%+v and %+v", a, b)
				}
				for _, b := range all {
					clear := a.at <= b.from || a.at >= b.to
					assert.True(t, a.row != 2 || b.row != 1 || clear, "the tick of %+v and %+v", a, b)
				}
			}
		}
	}
}

// A long number moves inwards until it is all in the drawing: 14 characters of
// 8.5 take 119.
func TestLongNumbersStayInside(t *testing.T) {
	all, _ := numerals(reporttest.ScaleOf(12345678901234, 12345678901235))
	assert.Equal(t, []float64{0, 119, 241, 360}, []float64{all[0].from, all[0].to, all[1].from, all[1].to})
}
