package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib"
)

// point is a reading with a band of so much to each side and a water band that
// adds the kit's error.
func point(value, half, kit float64, source string) TrendPoint {
	w := math.Hypot(half, kit)
	return TrendPoint{value, closed(value-half, value+half), closed(value-w, value+w), source}
}

func closed(low, high float64) calib.Band {
	return calib.Band{Low: calib.Bound{Value: low}, High: calib.Bound{Value: high}, Coverage: calib.Coverage}
}

// exactly are readings without error, of one source.
func exactly(values ...float64) (out []TrendPoint) {
	for _, v := range values {
		out = append(out, point(v, 0, 0, "lot"))
	}
	return out
}

// inversions is how many orders of n things have so many inversions: S is
// n(n-1)/2 less twice that. The recursion is Kendall's (Rank Correlation
// Methods, chapter 5; from memory), and shares nothing with the code under test.
func inversions(n int) []float64 {
	counts := []float64{1}
	for k := 2; k <= n; k++ {
		next := make([]float64, len(counts)+k-1)
		for i, c := range counts {
			for j := range k {
				next[i+j] += c
			}
		}
		counts = next
	}
	return counts
}

func TestExactDistributionIsKendalls(t *testing.T) {
	for n := 2; n <= mostExact; n++ {
		all := exactly(rising(n)...)
		s := newSeries(all)
		within, _ := s.parts()
		o := newOrders(within, n)
		require.True(t, o.exact)
		counts, orders := inversions(n), math.Gamma(float64(n)+1)
		for i, c := range counts {
			score := n*(n-1)/2 - 2*i
			assert.InDelta(t, c/orders, o.shares.p[o.shares.zero+tenths*score], 1e-12, "n %d, S %d", n, score)
		}
		assert.InDelta(t, float64(n*(n-1)*(2*n+5))/18, o.variance/tenths/tenths, 1e-9, "Kendall's variance")
	}
}

// The upper tail of S from the table that textbooks print after Kendall (from
// memory): n, S, probability.
func TestPrintedTail(t *testing.T) {
	for _, c := range []struct {
		n, s int
		p    float64
	}{{4, 6, 0.042}, {5, 8, 0.042}, {5, 10, 0.0083}, {8, 16, 0.031}, {8, 20, 0.0071}, {9, 18, 0.038}, {9, 20, 0.022}, {10, 21, 0.036}, {10, 25, 0.014}} {
		o := orders{score: tenths * c.s, exact: true, shares: newOrders([]table{plainTable(c.n)}, c.n).shares}
		assert.InDelta(t, 2*c.p, o.p(), 0.0011, "n %d, S %d", c.n, c.s)
	}
}

func plainTable(n int) table {
	return table{n, func(i, j int) int {
		switch {
		case i < j:
			return tenths
		case i > j:
			return -tenths
		}
		return 0
	}}
}

func rising(n int) (out []float64) {
	for i := range n {
		out = append(out, float64(i))
	}
	return out
}

// Kendall's variance with ties: [n(n-1)(2n+5) - sum of t(t-1)(2t+5)] / 18.
func TestVarianceWithTies(t *testing.T) {
	values := []float64{1, 1, 1, 2, 3, 3, 4, 5, 5, 5, 5, 6}
	s := newSeries(exactly(values...))
	within, _ := s.parts()
	_, v := within[0].moments()
	n := float64(len(values))
	want := n * (n - 1) * (2*n + 5)
	for _, ties := range []float64{3, 2, 4} {
		want -= ties * (ties - 1) * (2*ties + 5)
	}
	assert.InDelta(t, want/18, v/tenths/tenths, 1e-9)
}

// Any scores, every order gone through one by one.
func TestExactDistributionByEveryOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	const n = 6
	m := [n][n]int{}
	for i := range n {
		for j := range i {
			m[i][j] = r.IntN(21) - 10
			m[j][i] = -m[i][j]
		}
	}
	tab := table{n, func(i, j int) int { return m[i][j] }}
	o := newOrders([]table{tab}, n)
	counts, squares := map[int]float64{}, 0.0
	everyOrder([]int{0, 1, 2, 3, 4, 5}, 0, func(order []int) {
		score := 0
		for a := range order {
			for b := a + 1; b < n; b++ {
				score += m[order[a]][order[b]]
			}
		}
		counts[score]++
		squares += float64(score * score)
	})
	for i, p := range o.shares.p {
		assert.InDelta(t, counts[i-o.shares.zero]/720, p, 1e-12)
	}
	assert.InDelta(t, squares/720, o.variance, 1e-9)
}

func everyOrder(of []int, from int, each func([]int)) {
	if from == len(of) {
		each(of)
		return
	}
	for i := from; i < len(of); i++ {
		of[from], of[i] = of[i], of[from]
		everyOrder(of, from+1, each)
		of[from], of[i] = of[i], of[from]
	}
}

func TestFiveRecordsAreTheLeast(t *testing.T) {
	for n, want := range map[int]TrendWord{0: TooFew, 1: TooFew, 2: TooFew, 3: TooFew, 4: TooFew, 5: Rising, 6: Rising, 12: Rising, 30: Rising} {
		got := MannKendall(exactly(rising(n)...))
		assert.Equal(t, want, got.Word, n)
		assert.Equal(t, n <= mostExact && n > 1, got.Exact, n)
	}
	five := MannKendall(exactly(1, 2, 3, 4, 5))
	assert.InDelta(t, 2.0/120, five.P, 1e-12)
	assert.InDelta(t, five.P, five.LeastP, 1e-12)
	assert.InDelta(t, 1, five.Tau, 1e-12)
	assert.Equal(t, []int{10, 0, 0, 1}, []int{five.Up, five.Down, five.Open, five.Sources})
	assert.Equal(t, Falling, MannKendall(exactly(5, 4, 3, 2, 1)).Word)
	assert.Equal(t, NoChange, MannKendall(exactly(1, 1, 1, 1, 1)).Word)
	assert.Equal(t, NoChange, MannKendall(exactly(1, 5, 2, 4, 3)).Word)
}

// Turned round in time, the same is found the other way.
func TestTurnedRoundInTime(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 200 {
		points := drawnSeries(r, scenario{n: 3 + r.IntN(12), lots: 1 + r.IntN(3), half: 0.3, noise: 0.2, kit: 0.5, shared: 1, slope: 2})
		a := MannKendall(points)
		slices.Reverse(points)
		b := MannKendall(points)
		assert.InDelta(t, a.P, b.P, 1e-9)
		assert.InDelta(t, a.Tau, -b.Tau, 1e-12)
		assert.Equal(t, map[TrendWord]TrendWord{Rising: Falling, Falling: Rising, NoChange: NoChange, TooFew: TooFew}[a.Word], b.Word)
	}
}

func TestHowSureAPairIs(t *testing.T) {
	atLeast := TrendPoint{25, calib.Band{Low: calib.Bound{Value: 22}, High: calib.Bound{Value: 25, Open: true}}, calib.Band{Low: calib.Bound{Value: 20}, High: calib.Bound{Value: 25, Open: true}}, "a"}
	atMost := TrendPoint{1, calib.Band{Low: calib.Bound{Value: 1, Open: true}, High: calib.Bound{Value: 1.5}}, calib.Band{Low: calib.Bound{Value: 1, Open: true}, High: calib.Bound{Value: 2}}, "a"}
	other := atLeast
	other.Value, other.Band.Low.Value = 12, 10
	for _, c := range []struct {
		name string
		a, b TrendPoint
		want int8
	}{
		{"apart", point(1, 0.5, 1, "a"), point(5, 0.5, 1, "a"), 10},
		{"the same", point(1, 0.5, 1, "a"), point(1, 0.2, 1, "a"), 0},
		{"without error", point(1, 0, 0, "a"), point(1.01, 0, 0, "a"), 10},
		{"a difference of just over its own 95 % half-width, one lot", point(1, 3, 50, "a"), point(6.2, 4, 50, "a"), 10}, // 0.96 in tenths
		{"and half of that", point(1, 3, 50, "a"), point(3.5, 4, 50, "a"), 7},                                            // 2 P - 1 = 0.67
		{"the water bands between lots", point(1, 0, 3, "a"), point(3.5, 0, 4, "b"), 7},
		{"overlapping water bands where the lot is not known", point(1, 0, 3, ""), point(3.5, 0, 4, ""), 0},
		{"or of one of the two", point(1, 0, 3, "a"), point(3.5, 0, 4, ""), 0},
		{"and water bands apart", point(1, 0, 3, "a"), point(8.5, 0, 4, ""), 10},
		{"both past the top", atLeast, atLeast, 0},
		{"past the top of a lower chart", other, atLeast, 0},
		{"past the top, and within", point(9, 1, 1, "a"), atLeast, 10},
		{"past the bottom, and within", atMost, point(9, 1, 1, "a"), 10},
		{"both past the bottom", atMost, atMost, 0},
		{"past the top of a lower chart, and within", other, point(14, 0.1, 0.1, "a"), 0},
	} {
		assert.Equal(t, c.want, c.a.score(c.b), c.name)
		assert.Equal(t, -c.want, c.b.score(c.a), c.name)
	}
}

// A step where the lot changes may be the lot's: two lots show nothing between them.
func TestAStepBetweenTwoLotsIsNoTrend(t *testing.T) {
	var step, drift, alternating []TrendPoint
	for i := range 15 {
		alternating = append(alternating, point(float64(i), 0.1, 0.5, fmt.Sprint(i%3)))
	}
	for i := range 10 {
		lot := fmt.Sprint(i / 5)
		step = append(step, point(float64(i/5)*3, 0.1, 0.5, lot))
		drift = append(drift, point(float64(i), 0.1, 0.5, lot))
	}
	assert.Equal(t, NoChange, MannKendall(step).Word)
	assert.Equal(t, Rising, MannKendall(drift).Word)
	got := MannKendall(alternating)
	assert.True(t, got.Mixed)
	assert.Equal(t, Rising, got.Word)
	assert.InEpsilon(t, 2.0/120/120/120, got.P, 1e-6, "three lots, each in its one order")
}

// Where five in a hundred lies: six records with two pairs out of order come by
// chance in 2 x 20 of 720 orders, 5.6 %, which is no trend; ten with eleven pairs
// out of order in 4.7 %, which is one. Both counts are Kendall's, by inversions.
func TestTheLevelOfATrend(t *testing.T) {
	tail := func(n, most int) float64 {
		sum := 0.0
		for _, c := range inversions(n)[:most+1] {
			sum += c
		}
		return 2 * sum / math.Gamma(float64(n)+1)
	}
	for _, c := range []struct {
		values []float64
		out    int // pairs out of order
		p      float64
		word   TrendWord
	}{
		{[]float64{0, 1, 2, 4, 5, 3}, 2, 40.0 / 720, NoChange},
		{[]float64{9, 0, 1, 2, 3, 4, 5, 8, 6, 7}, 11, 0.0466, Rising},
	} {
		assert.InDelta(t, c.p, tail(len(c.values), c.out), 5e-5)
		r := MannKendall(exactly(c.values...))
		assert.Equal(t, c.out, r.Down)
		assert.InDelta(t, c.p, r.P, 5e-5)
		assert.Equal(t, c.word, r.Word, "%v", c.values)
	}
}
