package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Pieces stay in order and whole, and a sheet ends where the next has no room.
func TestSpread(t *testing.T) {
	list := func(highs ...float64) (out []Item[[]float64]) {
		for _, h := range highs {
			out = append(out, Item[[]float64]{h, func(s *[]float64) { *s = append(*s, h) }})
		}
		return out
	}
	for _, c := range []struct {
		highs []float64
		want  [][]float64
	}{
		{nil, [][]float64{nil}},
		{[]float64{100, 100}, [][]float64{{100, 100}}},
		{[]float64{200, High - 210.5, 1}, [][]float64{{200, High - 210.5}, {1}}},
		{[]float64{200, High - 209, 1}, [][]float64{{200}, {High - 209, 1}}},
		{[]float64{2 * High, 1, 2 * High}, [][]float64{{2 * High}, {1}, {2 * High}}},
		{[]float64{High - 10, High - 5, High - 5}, [][]float64{{High - 10}, {High - 5}, {High - 5}}},
	} {
		assert.Equal(t, c.want, Spread(10, 5, list(c.highs...)), "%v", c.highs)
	}
}

// The room for text grows with it, is never less than its letters need, and does
// not depend on how it is broken up.
func TestTextMeasure(t *testing.T) {
	f := Plain(10, 50)
	assert.Zero(t, f.Below(0, ""))
	assert.Zero(t, f.Below(0, " \n "))
	one := f.Below(0, "a")
	assert.InDelta(t, 10*Leading*25.4/72, one, 1e-9)
	em := 10 * 25.4 / 72
	fits := int(50 / (0.635 * em))
	assert.InDelta(t, one, f.Below(0, strings.Repeat("a", fits)), 1e-9)
	assert.InDelta(t, 2*one, f.Below(0, strings.Repeat("a", fits+1)), 1e-9, "a word too long for a line is broken")
	assert.InDelta(t, 2*one, f.Below(0, strings.Repeat("a", fits)+" a"), 1e-9)
	assert.InDelta(t, 3*one+2, f.High(1, "a", strings.Repeat("a", fits+1)), 1e-9)
	assert.Greater(t, Bold(10, 50).Below(0, strings.Repeat("a", fits)), one)
	narrow := face{em, one, func(y float64) float64 { return max(1, 50-40*(1-y)) }}
	assert.Greater(t, narrow.Below(0, strings.Repeat("aa ", 9)), f.Below(0, strings.Repeat("aa ", 9)))
}
