package agreement

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Each interval is made again and again from drawn data of which the truth is
// known; the share of those that cover it must be about 0.95. Seeds are fixed.
// With 4,000 runs one standard error of that share is 0.0034.
const runs = 4000

// coverage is the share of runs in which the interval that draw returns covers
// the truth; where there is none, it says nothing and so covers.
func coverage(runs int, truth float64, draw func(r *rand.Rand) Estimate) float64 {
	r := rand.New(rand.NewPCG(7, 1986))
	hit := 0
	for range runs {
		if e := draw(r); !(e.Low > truth) && !(e.High < truth) {
			hit++
		}
	}
	return float64(hit) / float64(runs)
}

// covers asserts a coverage; low and high are the bounds it may lie between.
func covers(t *testing.T, low, high, got float64, what string, n int) {
	t.Helper()
	assert.True(t, low <= got && got <= high, "%s, %d pairs: covers %.4f, not %.3f to %.3f", what, n, got, low, high)
}

func normals(r *rand.Rand, n int, mean, spread float64) (d []float64) {
	for range n {
		d = append(d, mean+spread*r.NormFloat64())
	}
	return d
}

func bias(l LimitsOfAgreement) Estimate  { return l.Bias }
func lower(l LimitsOfAgreement) Estimate { return l.Low }
func upper(l LimitsOfAgreement) Estimate { return l.High }

func TestCoverageOfBiasAndLimits(t *testing.T) {
	for _, n := range []int{5, 10, 17, 50} {
		of := func(pick func(LimitsOfAgreement) Estimate) func(*rand.Rand) Estimate {
			return func(r *rand.Rand) Estimate { return pick(normalLimits(normals(r, n, 0.4, 2), repeats{})) }
		}
		covers(t, 0.94, 0.96, coverage(runs, 0.4, of(bias)), "bias", n)
		covers(t, 0.94, 0.985, coverage(runs, 0.4+Factor*2, of(upper)), "upper limit", n)
		covers(t, 0.94, 0.985, coverage(runs, 0.4-Factor*2, of(lower)), "lower limit", n)
	}
}

// Each reader calls each sample several times; the limits are those of single calls.
func TestCoverageWithRepeats(t *testing.T) {
	const n, each, own, between = 17, 3, 1.5, 1.0
	draw := func(r *rand.Rand) LimitsOfAgreement {
		var o []observed
		for range n {
			truth := 20 + between*r.NormFloat64() // the first reader sees another sample's matter than the second
			o = append(o, observed{normals(r, each, truth, own), normals(r, 2, 20, own)})
		}
		d, _, rep := summed(o)
		return normalLimits(d, rep)
	}
	single := math.Sqrt(between*between + 2*own*own)
	for pick, truth := range map[*func(LimitsOfAgreement) Estimate]float64{ptr(bias): 0, ptr(upper): Factor * single,
		ptr(lower): -Factor * single} {
		covers(t, 0.94, 0.975, coverage(runs, truth, func(r *rand.Rand) Estimate { return (*pick)(draw(r)) }), "with repeats", n)
	}
	covers(t, 0.94, 0.96, coverage(runs, Factor*math.Sqrt2*own, func(r *rand.Rand) Estimate {
		var o []observed
		for range n {
			o = append(o, observed{normals(r, 2, 20, own), {20}})
		}
		_, _, rep := summed(o)
		return repeatInterval(math.Sqrt(rep.variance[0]), rep.freedom[0])
	}), "repeatability", n)
}

func ptr[T any](v T) *T { return &v }

// The same after the method has been chosen by the data, which are normal: what
// is then taken for a ratio or by ranks counts as missed.
func TestCoverageAfterTheChoiceOfMethod(t *testing.T) {
	for _, n := range []int{17, 50} {
		of := func(pick func(LimitsOfAgreement) Estimate) func(*rand.Rand) Estimate {
			return func(r *rand.Rand) Estimate {
				d, level := normals(r, n, 0.4, 2), normals(r, n, 30, 5)
				var pairs []Pair
				for i := range d {
					a, b := &Call{Value: Number(level[i] + d[i]/2)}, &Call{Value: Number(level[i] - d[i]/2)}
					pairs = append(pairs, Pair{Calls: [2][]*Call{{a}, {b}}})
				}
				l, m := inUnit(pairs, nil)
				if m.Log || m.Ranks {
					return Estimate{Low: inf, High: inf}
				}
				return pick(l)
			}
		}
		covers(t, 0.93, 0.96, coverage(runs, 0.4, of(bias)), "bias after choice", n)
		covers(t, 0.93, 0.97, coverage(runs, 0.4+Factor*2, of(upper)), "upper limit after choice", n)
	}
}

// Calls of swatches are no normal figures: between the limits lie 95 in 100 of
// further differences all the same, or more.
func TestLimitsHoldFurtherSwatchCalls(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	a := &testChartNitrate
	draw := func() Pair {
		at := 5 * r.Float64()
		call := func() *Call {
			return &Call{Value: Number(a.Swatches[int(math.Round(min(5, max(0, at+0.5*r.NormFloat64()))))].Value)}
		}
		return Pair{Calls: [2][]*Call{{call()}, {call()}}}
	}
	for _, n := range []int{17, 50, 200} {
		inside, all := 0, 0
		for range 300 {
			var pairs []Pair
			for range n {
				pairs = append(pairs, draw())
			}
			l, _ := inSteps(pairs, a)
			for range 50 {
				p := draw()
				d := step(p.Calls[0][0].Value, a) - step(p.Calls[1][0].Value, a)
				all++
				if l.Low.Value-stepSlack <= d && d <= l.High.Value+stepSlack {
					inside++
				}
			}
		}
		covers(t, 0.93, 1, float64(inside)/float64(all), "further calls within the limits", n)
	}
}

var testChartNitrate = testChart().Analytes[0]

// By ranks the differences may have any shape: here they are lognormal. The
// intervals of so few ranks cover more than they say, never less.
func TestCoverageByRanks(t *testing.T) {
	for _, n := range []int{6, 12, 200} {
		of := func(pick func(LimitsOfAgreement) Estimate) func(*rand.Rand) Estimate {
			return func(r *rand.Rand) Estimate {
				d := normals(r, n, 0, 1)
				for i := range d {
					d[i] = math.Exp(d[i])
				}
				return pick(rankLimits(d))
			}
		}
		covers(t, 0.945, 0.985, coverage(runs/4, 1, of(bias)), "median", n)
		covers(t, 0.945, 1, coverage(runs/4, math.Exp(1.959964), of(upper)), "upper point", n)
		covers(t, 0.945, 1, coverage(runs/4, math.Exp(-1.959964), of(lower)), "lower point", n)
	}
}

// drawTable draws n pairs: the truth uniform over k classes, each reader right
// with probability p and else one class off.
func drawTable(r *rand.Rand, n, k int, p float64) Table {
	t := emptyTable(k)
	for range n {
		truth := r.IntN(k)
		call := func() int {
			if r.Float64() < p {
				return truth
			}
			return max(0, min(k-1, truth+2*r.IntN(2)-1))
		}
		t.Counts[call()][call()]++
	}
	return t
}

func emptyTable(k int) (t Table) {
	for i := range k {
		t.Places = append(t.Places, float64(i))
		t.Counts = append(t.Counts, make([]int, k))
	}
	return t
}

func TestCoverageOfKappa(t *testing.T) {
	weights := map[string]Weight{"kappa": Unweighted, "linear kappa": Linear, "quadratic kappa": Quadratic}
	for _, p := range []float64{0.6, 0.9} {
		all := drawTable(rand.New(rand.NewPCG(1, 2)), 1_000_000, 5, p)
		for name, w := range weights {
			truth := all.Kappa(w).Value
			for _, n := range []int{10, 17, 50} {
				covers(t, 0.925, 0.98, coverage(runs/2, truth, func(r *rand.Rand) Estimate { return drawTable(r, n, 5, p).Kappa(w) }),
					name, n)
			}
		}
	}
}

// Readers who do not look at the strip agree no more than by chance.
func TestRandomReadersAreNearZero(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	table := emptyTable(6)
	for range 100_000 {
		table.Counts[r.IntN(6)][r.IntN(6)]++
	}
	for name, w := range map[string]Weight{"plain": Unweighted, "linear": Linear, "quadratic": Quadratic} {
		near(t, 0, table.Kappa(w).Value, 0.01, name)
	}
	small := emptyTable(6)
	covers(t, 0.93, 0.98, coverage(runs, 0, func(r *rand.Rand) Estimate {
		small = emptyTable(6)
		for range 30 {
			small.Counts[r.IntN(6)][r.IntN(6)]++
		}
		return small.Kappa(Linear)
	}), "kappa of random readers", 30)
}

func TestCoverageOfShares(t *testing.T) {
	for _, p := range []float64{0.02, 0.5, 0.9} {
		got := coverage(runs, p, func(r *rand.Rand) Estimate {
			k := 0
			for range 17 {
				if r.Float64() < p {
					k++
				}
			}
			s := newShare(k, 17)
			return Estimate{Low: s.Low, High: s.High}
		})
		covers(t, 0.945, 1, got, "share", 17)
	}
}

// The two tests of shape are wrong about as often as they say when the
// differences are normal and of one spread.
func TestShapeIsDoubtedAsOftenAsSaid(t *testing.T) {
	for _, n := range []int{10, 50, 500} {
		r := rand.New(rand.NewPCG(7, 1))
		bent, grown := 0, 0
		for range runs {
			d := normals(r, n, 0, 1)
			if _, p := straightness(d); p < 0.05 {
				bent++
			}
			if _, p := growth(d, normals(r, n, 0, 1)); p < 0.05 {
				grown++
			}
		}
		covers(t, 0.04, 0.06, float64(bent)/runs, "not normal", n)
		covers(t, 0.04, 0.06, float64(grown)/runs, "growing", n)
	}
}
