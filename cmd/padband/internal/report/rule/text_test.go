package rule

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/cmd/padband/internal/report/reporttest"
)

// drawn are the four lines of a rule: numbers, scale, colour, water.
func drawn(t *testing.T, r calib.Reading) []string {
	t.Helper()
	out := strings.Split(strings.TrimSuffix(Text(r), "\n"), "\n")
	require.Len(t, out, 4)
	return out
}

// columns are where a character stands in a line.
func columns(l, char string) (out []int) {
	for i := range l {
		if l[i:i+1] == char {
			out = append(out, i)
		}
	}
	return out
}

// Five swatches stand 16 columns apart from column 9 on; values between them
// run as the chart's steps do: 4 is a quarter from 3 to 7.
func TestRuleIsDrawnToScale(t *testing.T) {
	r := reporttest.Nitrate()
	r.Value = 4
	r.Band.Low.Value, r.Band.High.Value = 2, 9
	r.WaterBand.Low.Value, r.WaterBand.High.Value = 0.5, 11
	got := drawn(t, r)
	assert.Equal(t, "         0               1               3               7              11", got[0])
	assert.Equal(t, []int{9, 25, 41, 57, 73}, columns(got[1], "|"))
	assert.Equal(t, []int{45}, columns(got[2], "O"), "41 + 16/4")
	bar := columns(got[2], "=")
	assert.Equal(t, []int{33, 65}, []int{bar[0], bar[len(bar)-1]}, "2 is half a step over 1, 9 half a step over 7")
	assert.Len(t, bar, 65-33, "no gap but the tick")
	water := columns(got[3], "-")
	assert.Equal(t, []int{17, 73}, []int{water[0], water[len(water)-1]})
	assert.Len(t, water, 73-17+1)
	assert.True(t, strings.HasPrefix(got[2], "  colour ") && strings.HasPrefix(got[3], "  water "))
}

// An open end carries an arrow one column past the chart, and only an open one does.
func TestOpenEndsCarryArrows(t *testing.T) {
	r := reporttest.Nitrate()
	assert.NotContains(t, Text(r), "<")
	assert.NotContains(t, Text(r), ">")
	r.Range, r.Value = calib.Above, 11
	r.Band.Low.Value, r.Band.High = 9, calib.Bound{Value: 11, Open: true}
	r.WaterBand.Low, r.WaterBand.High.Value = calib.Bound{Value: 0, Open: true}, 7
	got := drawn(t, r)
	assert.Equal(t, []int{74}, columns(got[2], ">"))
	assert.Equal(t, []int{73}, columns(got[2], "O"))
	assert.Empty(t, columns(got[2], "<"))
	assert.Equal(t, []int{8}, columns(got[3], "<"))
	assert.Empty(t, columns(got[3], ">"))
	assert.Equal(t, 57, len(got[3])-1)
}

// Between two hills the bar is dotted.
func TestValleyIsDotted(t *testing.T) {
	r := reporttest.Nitrate()
	r.Value = 3
	r.Band.Low.Value, r.Band.High.Value = 1, 11
	r.Band.Hills = [][2]float64{{1, 3}, {7, 11}}
	got := drawn(t, r)[2]
	assert.Equal(t, strings.Repeat(".", 15), got[42:57])
	assert.Equal(t, "="+"O"+"."+"=", got[40:41]+got[41:42]+got[56:57]+got[57:58])
	assert.Equal(t, 15, strings.Count(got, "."))
}

// Numbers that would run into each other are left out, never the ends.
func TestNumbersKeepApart(t *testing.T) {
	r := reporttest.Nitrate()
	r.Swatches, r.Analyte.Swatches = nil, nil
	for i := range 33 {
		r.Swatches = append(r.Swatches, calib.SwatchColour{Value: 1000 + float64(i)})
	}
	_, at := places(33)
	got := strings.Fields(string(numbers(r, at)))
	assert.Equal(t, "1000", got[0])
	assert.Equal(t, "1032", got[len(got)-1])
	assert.Greater(t, len(got), 8)
	for _, n := range got {
		assert.Len(t, n, 4, "%v", got)
	}
}
