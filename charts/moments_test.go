package charts

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// timed is a chart of analytes with these read windows; nil is none.
func timed(windows ...[]float64) Chart {
	var c Chart
	for i, w := range windows {
		a := Analyte{Name: string(rune('a' + i))}
		if w != nil {
			a.ReadWindow = &[2]float64{w[0], w[1]}
		}
		c.Analytes = append(c.Analytes, a)
	}
	return c
}

func TestMoments(t *testing.T) {
	got, anytime := timed([]float64{45, 75}, []float64{30, 60}, nil, []float64{30, 60}).Moments()
	assert.Equal(t, []Moment{{45, 60, []string{"a", "b", "d"}}}, got)
	assert.Equal(t, []string{"c"}, anytime)
	got, _ = timed([]float64{45, 90}, []float64{10, 25}, []float64{25, 45}, []float64{25, 60}).Moments()
	assert.Equal(t, []Moment{{10, 25, []string{"b"}}, {25, 45, []string{"c", "d"}}, {45, 90, []string{"a"}}}, got, "no photo on the very second")
	got, _ = timed([]float64{20, 22}, []float64{20, 40}).Moments()
	assert.Equal(t, []Moment{{20, 22, []string{"a", "b"}}}, got, "a window may be shorter")
	got, anytime = timed().Moments()
	assert.Empty(t, got)
	assert.Empty(t, anytime)
}

// Each analyte is in one moment, within its window, and no choice of fewer
// photos would do: tried against every set of window ends.
func TestMomentsAreTheFewest(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		var windows [][]float64
		for range 1 + r.IntN(6) {
			from := float64(r.IntN(60))
			windows = append(windows, []float64{from, from + float64(1+r.IntN(40))})
		}
		got, _ := timed(windows...).Moments()
		seen := map[string]int{}
		for _, m := range got {
			for _, name := range m.Analytes {
				seen[name]++
				w := windows[name[0]-'a']
				assert.True(t, w[0] <= m.From && m.From <= m.To && m.To <= w[1], "%v in %v", m, w)
			}
		}
		assert.Len(t, seen, len(windows))
		assert.Equal(t, fewest(windows), len(got), "%v: %v", windows, got)
	}
}

func last(w []float64) float64 { return max(w[0], w[1]-5) }

// fewest is the least number of times that meet all windows, by trying all sets of ends.
func fewest(windows [][]float64) int {
	best := len(windows)
	for set := range 1 << len(windows) {
		n, all := 0, true
		for i := range windows {
			n += set >> i & 1
		}
		for _, w := range windows {
			met := false
			for i, e := range windows {
				met = met || set>>i&1 == 1 && w[0] <= last(e) && last(e) <= last(w)
			}
			all = all && met
		}
		if all {
			best = min(best, n)
		}
	}
	return best
}
