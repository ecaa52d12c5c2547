package calib

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

// published reads a table of testdata/checks; each names its source in its own
// comment lines. The first row returned is the header.
func published(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../testdata/checks/" + name)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 1)
	return rows
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// certain is a posterior from -reach to +reach steps with all its mass at 0.
func certain(reach float64) Posterior {
	n := int(2*reach*PerStep) + 1
	p := Posterior{First: -reach, Top: reach, Mass: make([]float64, n)}
	p.Mass[n/2] = 1
	return p
}

func constant(sd float64) func(float64) float64 { return func(float64) float64 { return sd } }

func total(p Posterior) float64 {
	sum := 0.0
	for _, m := range p.Mass {
		sum += m
	}
	return sum
}

// JCGM 101:2008, 9.2.2 and Table 2: the sum of four standard normals has the
// standard uncertainty 2 and the 95 % interval from -3.92 to 3.92. One step
// stands for one standard deviation.
func TestSumOfFourNormals(t *testing.T) {
	row := published(t, "uncertainty_gum_s1_examples.csv")[1]
	require.Equal(t, "9.2.2", row[0])
	p := certain(14)
	for range 4 {
		p = p.Blur(constant(1))
	}
	within(t, number(t, row[3]), p.Quantile(0.5), 0.005, "y")
	within(t, number(t, row[4]), p.Spread(), 0.005, "u(y)")
	within(t, number(t, row[5]), p.Quantile(0.025), 0.01, "low end")
	within(t, number(t, row[6]), p.Quantile(0.975), 0.01, "high end")
	within(t, 3.919928, p.Quantile(0.975), 0.001, "exact high end, as the table's note has it")
}

// The standard uncertainties of JCGM 101:2008, 9.2.2 to 9.2.4: y is the sum of
// four quantities, so each has the sensitivity 1.
func TestUncertaintyOfSums(t *testing.T) {
	checked := 0
	for _, row := range published(t, "uncertainty_gum_s1_examples.csv")[1:] {
		if !strings.HasPrefix(row[0], "9.2.") {
			continue
		}
		m := make([]float64, 16)
		for i := range 4 {
			m[5*i] = 1
		}
		if row[0] == "9.2.4" {
			m[15] = sq(10)
		}
		within(t, number(t, row[4]), through([]float64{1, 1, 1, 1}, m), 0.05, row[0]+" "+row[1])
		checked++
	}
	assert.Equal(t, 5, checked)
}

// JCGM 100:2008, H.1: the end gauge's combined standard uncertainty to first
// order is 32 nm. Inputs in the table's note: ls 50000623(25) nm, d 215(9.7) nm,
// delta alpha 0(0.58e-6), theta -0.1(0.41), alpha 11.5e-6(1.2e-6), delta theta 0(0.029).
func TestEndGauge(t *testing.T) {
	const ls = 50000623.0
	w := []float64{1, 1, ls * 0.1, 0, 0, -ls * 11.5e-6}
	m := make([]float64, 36)
	for i, u := range []float64{25, 9.7, 0.58e-6, 0.41, 1.2e-6, 0.029} {
		m[7*i] = sq(u)
	}
	within(t, 32, through(w, m), 0.5, "nm, as published")
	within(t, 31.711, through(w, m), 0.001, "nm, recomputed in the table's note")
}

// JCGM 100:2008, H.2: resistance, reactance and impedance from five sets of
// voltage, current and phase that vary together (Tables H.2 to H.4).
func TestCorrelatedInputs(t *testing.T) {
	rows := published(t, "gum_h2_correlated.csv")[1:]
	require.Len(t, rows, 5)
	var mean [3]float64
	unit := [3]float64{1, 1e-3, 1} // volt, ampere, radian
	for _, r := range rows {
		for c := range mean {
			mean[c] += number(t, r[c+1]) * unit[c] / 5
		}
	}
	m := make([]float64, 9) // covariance of the means
	for _, r := range rows {
		for a := range 3 {
			for b := range 3 {
				m[3*a+b] += (number(t, r[a+1])*unit[a] - mean[a]) * (number(t, r[b+1])*unit[b] - mean[b]) / (5 * 4)
			}
		}
	}
	v, i, cos, sin := mean[0], mean[1], math.Cos(mean[2]), math.Sin(mean[2])
	resistance := []float64{cos / i, -v * cos / (i * i), -v * sin / i}
	reactance := []float64{sin / i, -v * sin / (i * i), v * cos / i}
	impedance := []float64{1 / i, -v / (i * i), 0}
	within(t, 127.732, v/i*cos, 0.001, "R")
	within(t, 0.071, through(resistance, m), 0.001, "u(R)")
	within(t, 0.295, through(reactance, m), 0.001, "u(X)")
	within(t, 0.236, through(impedance, m), 0.001, "u(Z)")
	within(t, -0.588, correlation(resistance, reactance, m), 0.001, "r(R, X)")
	within(t, -0.485, correlation(resistance, impedance, m), 0.001, "r(R, Z)")
	within(t, 0.993, correlation(reactance, impedance, m), 0.001, "r(X, Z)")
}

// correlation is that of two results, from the variance of the sum of both
// over their own standard deviations.
func correlation(a, b, m []float64) float64 {
	sum := make([]float64, len(a))
	for i := range a {
		sum[i] = a[i]/through(a, m) + b[i]/through(b, m)
	}
	return sq(through(sum, m))/2 - 1
}

// JCGM 100:2008, Table G.2: the share of the density of [studentT] in one
// dimension that lies within the table's factors.
func TestStudentTable(t *testing.T) {
	rows := published(t, "student_t_jcgm100_table_g2.csv")
	require.Equal(t, "t95_exact", rows[0][7])
	require.Len(t, rows, 29)
	for _, r := range rows[1:] {
		dof := 1e9
		if r[0] != "inf" {
			dof = number(t, r[0])
		}
		within(t, 0.95, shareWithin(number(t, r[7]), dof), 2e-6, "95 % of t with "+r[0]+" degrees of freedom")
		for k, p := range map[int]float64{1: 0.6827, 2: 0.90, 3: 0.95, 4: 0.9545, 5: 0.99, 6: 0.9973} {
			printed := number(t, r[k])
			assert.LessOrEqual(t, shareWithin(printed-0.0051, dof), p+1e-5, "t %v, column %d", r[0], k)
			assert.GreaterOrEqual(t, shareWithin(printed+0.0051, dof), p-1e-5, "t %v, column %d", r[0], k)
		}
	}
}

// shareWithin integrates the density over the angle whose tangent is t, with Simpson's rule.
func shareWithin(t, dof float64) float64 {
	integral := func(to float64) float64 {
		const n = 4000
		f := func(angle float64) float64 {
			x := math.Tan(angle)
			return math.Exp(studentT(x*x, 0, 1, dof)) * (1 + x*x)
		}
		sum := 0.0
		for i := range n {
			a, b := to*float64(i)/n, to*float64(i+1)/n
			sum += (f(a) + 4*f((a+b)/2) + f(b)) * (b - a) / 6
		}
		return sum
	}
	return integral(math.Atan(t)) / integral(math.Pi/2-1e-9)
}

// JCGM 100:2008, Table G.1 and JCGM 106:2012: normal factors, two-sided and one-sided.
func TestNormalQuantiles(t *testing.T) {
	const sd = 3
	p := certain(20).Blur(constant(sd))
	for _, r := range published(t, "normal_quantiles.csv")[1:] {
		prob, two, one := number(t, r[0]), number(t, r[1]), number(t, r[2])
		within(t, two, p.Quantile((1+prob)/2)/sd, 0.002, "two-sided "+r[0])
		within(t, -two, p.Quantile((1-prob)/2)/sd, 0.002, "two-sided, low, "+r[0])
		within(t, one, p.Quantile(prob)/sd, 0.002, "one-sided "+r[0])
	}
}

func TestBlurKeepsAllMass(t *testing.T) {
	for _, first := range []float64{0, -1} {
		p := Posterior{First: first, Top: 3, Mass: make([]float64, int((4-first)*PerStep)+1)}
		n := len(p.Mass)
		p.Mass[0], p.Mass[n/3], p.Mass[n-1] = 0.3, 0.5, 0.2
		for _, sd := range []float64{0, 0.001, 0.05, 0.3, 2, 40} {
			b := p.Blur(constant(sd))
			within(t, 1, total(b), 1e-12, "mass")
			assert.Len(t, b.Mass, n)
			assert.GreaterOrEqual(t, slices.Min(b.Mass), 0.0)
		}
		assert.Equal(t, p.Mass, p.Blur(constant(0)).Mass, "no error leaves the posterior as it is")
	}
}

func TestQuantileRises(t *testing.T) {
	p := readOne(t, scene(onRamp(2.5))).Posterior
	within(t, 1, total(p), 1e-12, "mass")
	last := p.Quantile(0)
	assert.GreaterOrEqual(t, last, p.First-0.5/PerStep)
	for q := 0.001; q < 1; q += 0.001 {
		v := p.Quantile(q)
		if !(v > last) {
			t.Fatalf("quantile %.3f is %v after %v", q, v, last)
		}
		last = v
	}
	assert.LessOrEqual(t, p.Quantile(1), p.Step(len(p.Mass)-1)+0.5/PerStep)
}

// A scale with its swatches in reverse order, and so its pad's place mirrored,
// gives the mirrored posterior: nothing in the method favours a direction.
func TestReversedScaleMirrorsThePosterior(t *testing.T) {
	for _, step := range []float64{-0.4, 0, 0.5, 1.7, 3.2, 5.3} {
		p := scene(onRamp(step))
		a := &p.Pads[0].Analyte
		*a = charts.Analyte{Name: "pH", Unit: "pH", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
		for i := range ramp {
			a.Swatches = append(a.Swatches, charts.Swatch{Value: 6 + 0.4*float64(i)})
		}
		there := readOne(t, p)
		slices.Reverse(p.Pads[0].Swatches)
		back := readOne(t, p)
		n := len(there.Posterior.Mass)
		require.Len(t, back.Posterior.Mass, n)
		for i, m := range there.Posterior.Mass {
			within(t, m, back.Posterior.Mass[n-1-i], 1e-9, "mass")
		}
		within(t, there.Posterior.Top-there.Posterior.Quantile(0.025), back.Posterior.Quantile(0.975), 1e-6, "ends")
		within(t, a.StepOf(there.Value), 5-a.StepOf(back.Value), 1e-6, "value")
	}
}

// twin is a posterior with normal hills at 1 and 4 steps; share is the second's.
func twin(share, sd float64) Posterior {
	p := Posterior{First: 0, Top: 5, Mass: make([]float64, 6*PerStep+1)}
	p.Mass[1*PerStep], p.Mass[4*PerStep] = 1-share, share
	return p.Blur(constant(sd))
}

func TestHills(t *testing.T) {
	h := hills(twin(0.4, 0.2))
	require.Len(t, h, 2)
	assert.True(t, h[0][0] < 1 && 1 < h[0][1] && h[0][1] < h[1][0] && h[1][0] < 4 && 4 < h[1][1], "%v", h)
	assert.Nil(t, hills(twin(0.04, 0.2)), "a hill of 4 % is no place of its own")
	assert.Len(t, hills(twin(0.06, 0.2)), 2)
	assert.Nil(t, hills(twin(0.4, 1.2)), "no valley between them")
	assert.Nil(t, hills(twin(0, 0.2)))
}
