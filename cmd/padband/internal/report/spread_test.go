package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Pieces stay in order and whole, and a sheet ends where the next has no room.
func TestSpread(t *testing.T) {
	list := func(highs ...float64) (out []item[[]float64]) {
		for _, h := range highs {
			out = append(out, item[[]float64]{h, func(s *[]float64) { *s = append(*s, h) }})
		}
		return out
	}
	for _, c := range []struct {
		highs []float64
		want  [][]float64
	}{
		{nil, [][]float64{nil}},
		{[]float64{100, 100}, [][]float64{{100, 100}}},
		{[]float64{200, sheetHigh - 210.5, 1}, [][]float64{{200, sheetHigh - 210.5}, {1}}},
		{[]float64{200, sheetHigh - 209, 1}, [][]float64{{200}, {sheetHigh - 209, 1}}},
		{[]float64{2 * sheetHigh, 1, 2 * sheetHigh}, [][]float64{{2 * sheetHigh}, {1}, {2 * sheetHigh}}},
		{[]float64{sheetHigh - 10, sheetHigh - 5, sheetHigh - 5}, [][]float64{{sheetHigh - 10}, {sheetHigh - 5}, {sheetHigh - 5}}},
	} {
		assert.Equal(t, c.want, spread(10, 5, list(c.highs...)), "%v", c.highs)
	}
}

// The room for text grows with it, is never less than its letters need, and does
// not depend on how it is broken up.
func TestTextMeasure(t *testing.T) {
	f := plainFace(10, 50)
	assert.Zero(t, f.below(0, ""))
	assert.Zero(t, f.below(0, " \n "))
	one := f.below(0, "a")
	assert.InDelta(t, 10*leading*25.4/72, one, 1e-9)
	em := 10 * 25.4 / 72
	fits := int(50 / (0.635 * em))
	assert.InDelta(t, one, f.below(0, strings.Repeat("a", fits)), 1e-9)
	assert.InDelta(t, 2*one, f.below(0, strings.Repeat("a", fits+1)), 1e-9, "a word too long for a line is broken")
	assert.InDelta(t, 2*one, f.below(0, strings.Repeat("a", fits)+" a"), 1e-9)
	assert.InDelta(t, 3*one+2, f.high(1, "a", strings.Repeat("a", fits+1)), 1e-9)
	assert.Greater(t, boldFace(10, 50).below(0, strings.Repeat("a", fits)), one)
	narrow := face{em, one, func(y float64) float64 { return max(1, 50-40*(1-y)) }}
	assert.Greater(t, narrow.below(0, strings.Repeat("aa ", 9)), f.below(0, strings.Repeat("aa ", 9)))
}
