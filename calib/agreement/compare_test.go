package agreement

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/charts/units"
)

// testChart has one analyte, nitrate, of six swatches, and pH.
func testChart() charts.Chart {
	swatches := func(values ...float64) (out []charts.Swatch) {
		for _, v := range values {
			out = append(out, charts.Swatch{Value: v})
		}
		return out
	}
	return charts.Chart{Name: "invented", Analytes: []charts.Analyte{
		{Name: "nitrate", Unit: "mg/L", As: "N", Kind: charts.KindScale, Spacing: charts.SpacingAuto, ReadWindow: &[2]float64{45, 75}, Swatches: swatches(0, 1, 3, 7, 12, 25)},
		{Name: "pH", Unit: "pH", Kind: charts.KindScale, Spacing: charts.SpacingAuto, Swatches: swatches(6, 7, 8)},
	}}
}

// checkSane asserts what holds of every comparison: counts add up, no figure is
// NaN or infinite without its reason, and intervals hold their figures.
func checkSane(t *testing.T, c Comparison) {
	t.Helper()
	for _, e := range []Estimate{c.Differences.Bias, c.Differences.Low, c.Differences.High, c.Steps.Bias, c.Steps.Low, c.Steps.High,
		c.Kappa, c.Linear, c.Quadratic, c.Repeats[0].Within, c.Repeats[1].Within, c.Errors[0].Bias, c.Errors[1].Low} {
		if !e.Defined() || !e.Bounded() {
			assert.NotEmpty(t, e.Why, "%+v", e)
			continue
		}
		assert.True(t, e.Low <= e.Value && e.Value <= e.High, "%+v", e)
	}
	for _, s := range []Share{c.Opposite, c.Within, c.Raw} {
		assert.True(t, s.Count <= s.Of && s.Of <= len(c.Pairs), "%+v", s)
		if s.Of == 0 {
			assert.NotEmpty(t, s.Why)
		}
	}
	if c.Limit != nil {
		assert.Equal(t, len(c.Pairs), c.Opposite.Of+c.Undecided)
	}
	assert.NotEmpty(t, c.Verdict)
}

// calls writes a file of two readers' calls; a blank value is no call.
func calls(a, b []string) string {
	var s strings.Builder
	s.WriteString("sample,reader,value\n")
	for i := range a {
		fmt.Fprintf(&s, "s%d,Ann,%s\ns%d,Bob,%s\n", i+1, a[i], i+1, b[i])
	}
	return s.String()
}

func compare(t *testing.T, text string, o Options) Comparison {
	t.Helper()
	all, err := read(t, text).Compare(o)
	require.NoError(t, err)
	require.Len(t, all, 1)
	checkSane(t, all[0])
	return all[0]
}

// one is a chart of nitrate alone, in no unit.
func one() *charts.Chart {
	c := testChart()
	c.Analytes = c.Analytes[:1]
	return &c
}

func upTo(high float64) *Limit { return &Limit{Low: math.Inf(-1), High: high} }

// limited gives every analyte the same limit.
func limited(high float64) func(string, units.Unit) (*Limit, error) {
	return func(string, units.Unit) (*Limit, error) { return upTo(high), nil }
}

func TestPEFRFromAFile(t *testing.T) {
	data := pefr(t)
	_, want := pefrResults(t)
	var a, b []string
	for i := range 17 {
		a, b = append(a, plain(data["wright1"][i])), append(b, plain(data["mini1"][i]))
	}
	c := compare(t, calls(a, b), Options{})
	assert.Len(t, c.Pairs, 17)
	assert.False(t, c.Method.Log || c.Method.Ranks)
	near(t, want["bias"], c.Differences.Bias.Value, 1e-8, "bias")
	near(t, want["loa_high_1.96sd"], c.Differences.High.Value, 1e-6, "upper limit")
	assert.Equal(t, NoMeasure, c.Verdict)
	assert.Contains(t, c.Kappa.Why, "different values were called")
}

// Fault F05: with one class, or one sample, kappa is not defined, with the raw
// agreement beside it.
func TestKappaOfOneClassIsNotDefined(t *testing.T) {
	five := []string{"10", "10", "10", "10", "10"}
	c := compare(t, calls(five, five), Options{})
	for _, k := range []Estimate{c.Kappa, c.Linear, c.Quadratic} {
		assert.False(t, k.Defined())
		assert.Contains(t, k.Why, "all calls are in one class")
	}
	assert.Equal(t, 5, c.Raw.Count)
	assert.Equal(t, 5, c.Raw.Of)
	assert.Zero(t, c.Differences.Spread)

	c = compare(t, calls([]string{"10"}, []string{"25"}), Options{})
	assert.Contains(t, c.Kappa.Why, "one sample")
	assert.Contains(t, c.Differences.Low.Why, "two pairs")
	assert.Equal(t, -15.0, c.Differences.Bias.Value)
}

func TestPerfectAgreementHasNoInvertedInterval(t *testing.T) {
	v := []string{"1", "3", "7", "12"}
	c := compare(t, calls(v, v), Options{Chart: one()})
	assert.Equal(t, 1.0, c.Kappa.Value)
	assert.False(t, c.Kappa.Bounded())
	assert.Contains(t, c.Kappa.Why, "no interval")
	assert.Equal(t, Few, c.Verdict)
}

// Swapping the readers turns the differences round and leaves the rest.
func TestSwapSymmetry(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	values := []string{"0", "<1", "1", "3-7", "3", "7", "12", "25", ">25"}
	for run := range 50 {
		var a, b []string
		for range 15 {
			i := r.IntN(len(values))
			a, b = append(a, values[i]), append(b, values[max(0, min(len(values)-1, i+r.IntN(4)-1))])
		}
		o := Options{Chart: one(), LimitFor: limited(10)}
		x := compare(t, calls(a, b), o)
		o.Readers = [2]string{"Bob", "Ann"}
		y := compare(t, calls(a, b), o)
		opposed(t, x.Differences, y.Differences)
		opposed(t, x.Steps, y.Steps)
		assert.Equal(t, x.Opposite, y.Opposite)
		assert.Equal(t, x.Within, y.Within)
		assert.Equal(t, x.Raw, y.Raw)
		assert.Equal(t, x.Verdict, y.Verdict)
		near(t, x.Quadratic.Value, y.Quadratic.Value, 1e-12, "kappa")
		near(t, x.Linear.Low, y.Linear.Low, 1e-12, "kappa's interval")
		for i := range x.Table.Counts {
			for j := range x.Table.Counts {
				assert.Equal(t, x.Table.Counts[i][j], y.Table.Counts[j][i], "run %d", run)
			}
		}
	}
}

// opposed asserts that two sets of limits mirror each other.
func opposed(t *testing.T, x, y Limits) {
	t.Helper()
	near(t, x.Bias.Value, -y.Bias.Value, 1e-9, "bias")
	near(t, x.Bias.Low, -y.Bias.High, 1e-9, "bias low")
	near(t, x.Low.Value, -y.High.Value, 1e-9, "limit")
	near(t, x.High.Value, -y.Low.Value, 1e-9, "limit")
	near(t, x.Spread, y.Spread, 1e-9, "spread")
}

// Ratios swap to their inverse.
func TestSwapSymmetryOfRatios(t *testing.T) {
	c, a, b := growing(t)
	require.True(t, c.Method.Log)
	swapped := compare(t, calls(b, a), Options{})
	require.True(t, swapped.Method.Log)
	near(t, 1, c.Differences.Bias.Value*swapped.Differences.Bias.Value, 1e-9, "bias")
	near(t, 1, c.Differences.Low.Value*swapped.Differences.High.Value, 1e-9, "limits")
	near(t, 1, c.Differences.Low.Low*swapped.Differences.High.High, 1e-9, "intervals")
}

// growing are calls that differ by a share of the value, 10 % higher on average.
func growing(t *testing.T) (c Comparison, a, b []string) {
	r := rand.New(rand.NewPCG(8, 9))
	for i := range 60 {
		v := math.Exp(float64(i) / 15)
		a = append(a, fmt.Sprintf("%.4f", v*1.1*math.Exp(0.1*r.NormFloat64())))
		b = append(b, fmt.Sprintf("%.4f", v*math.Exp(0.1*r.NormFloat64())))
	}
	return compare(t, calls(a, b), Options{}), a, b
}

func TestLogScaleWhenTheSpreadGrows(t *testing.T) {
	c, a, b := growing(t)
	assert.True(t, c.Method.Log)
	assert.False(t, c.Method.Ranks)
	assert.Greater(t, c.Method.Growth, 0.3)
	assert.True(t, c.Differences.Bias.Low <= 1.1 && 1.1 <= c.Differences.Bias.High, "%+v", c.Differences.Bias)
	near(t, 1.1*math.Exp(Factor*0.1*math.Sqrt2), c.Differences.High.Value, 0.1, "upper limit")
	assert.Equal(t, Steady, c.Verdict)

	a[0] = "0" // no ratio can be taken
	c = compare(t, calls(a, b), Options{})
	assert.False(t, c.Method.Log)
	assert.True(t, c.Method.Zeros)
}

func TestRanksWhenFarFromNormal(t *testing.T) {
	var a, b []string
	for i := range 40 {
		a, b = append(a, "7"), append(b, "7")
		if i%10 == 0 {
			a[i] = "12"
		}
		if i%10 == 5 {
			a[i] = "25"
		}
	}
	c := compare(t, calls(a, b), Options{Chart: one()})
	assert.True(t, c.Method.Ranks)
	assert.Zero(t, c.Differences.Bias.Value)
	assert.Equal(t, 0.0, c.Differences.Low.Value)
	assert.Equal(t, 18.0, c.Differences.High.Value)
	assert.True(t, math.IsInf(c.Differences.High.High, 1), "40 pairs do not bound the upper limit")
	assert.Contains(t, c.Differences.High.Why, "146 pairs")
	assert.Equal(t, [2]int{146, 106}, [2]int{c.Need.Total, c.Need.More})
	assert.True(t, math.IsNaN(c.Need.Known))
	assert.Equal(t, [3]int{36, 4, 0}, c.Apart)
	assert.Equal(t, StepsApart, c.Verdict)
	assert.Equal(t, 12.0, c.Regions[c.Parting()].Swatch)
}

// 146 pairs is the least number that bounds a 97.5 % point: 0.975^146 < 0.025.
func TestLeastPairsForALimitByRanks(t *testing.T) {
	_, high := rankEnds(146, 0.975)
	assert.Equal(t, 146, high)
	_, high = rankEnds(145, 0.975)
	assert.Equal(t, 146, high, "open")
	low, high := rankEnds(6, 0.5)
	assert.Equal(t, [2]int{1, 6}, [2]int{low, high})
	// Ranks 8 and 18 for a median of 25: 2 x P(Bin(25, 1/2) <= 7) = 0.043 (tables of the sign test, from memory).
	low, high = rankEnds(25, 0.5)
	assert.Equal(t, [2]int{8, 18}, [2]int{low, high})
}

// Exact intervals of a share: 0 of 10 reaches 0.3085, 10 of 10 begins at
// 0.6915 (1 - 0.025^(1/10)).
func TestShares(t *testing.T) {
	s := newShare(0, 10)
	near(t, 1-math.Pow(0.025, 0.1), s.High, 1e-9, "none")
	assert.Zero(t, s.Low)
	s = newShare(10, 10)
	near(t, math.Pow(0.025, 0.1), s.Low, 1e-9, "all")
	assert.Equal(t, 1.0, s.High)
	assert.False(t, newShare(0, 0).Defined())
}

// With fewer than ten pairs kappa stands alone: no interval was shown to cover there.
func TestKappaOfFewPairsHasNoInterval(t *testing.T) {
	few := drawTable(rand.New(rand.NewPCG(1, 1)), 9, 3, 0.7).Kappa(Linear)
	assert.True(t, few.Defined())
	assert.False(t, few.Bounded())
	assert.Equal(t, whyFewKappa, few.Why)
	assert.True(t, drawTable(rand.New(rand.NewPCG(1, 1)), 10, 3, 0.7).Kappa(Linear).Bounded())
}
