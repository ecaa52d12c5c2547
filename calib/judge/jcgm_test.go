package judge

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"padband/calib"
	"padband/charts"
)

// ruler is a scale with a swatch at every step from a value on.
func ruler(from, step float64, swatches int) charts.Analyte {
	a := charts.Analyte{Name: "length", Unit: "units", Kind: charts.KindScale, Spacing: charts.SpacingLinear, Parts: 1}
	for i := range swatches {
		a.Swatches = append(a.Swatches, charts.Swatch{Value: from + float64(i)*step})
	}
	return a
}

// normalOn is a normal posterior about the middle of a ruler of 48 steps, with
// that value there, steps of that size and that standard deviation.
func normalOn(y, u, step float64) (calib.Posterior, charts.Analyte) {
	p := calib.Posterior{First: -1, Top: 48, Mass: make([]float64, 50*calib.PerStep+1)}
	p.Mass[25*calib.PerStep] = 1
	return p.Blur(constant(u / step)), ruler(y-24*step, step, 49)
}

// jcgm106 returns the recomputed value of the row whose clause and text begin so.
func jcgm106(t *testing.T, clause, what string) float64 {
	t.Helper()
	for _, row := range published(t, "conformance_jcgm106.csv")[1:] {
		if row[0] == clause && strings.HasPrefix(row[1], what) {
			return number(t, row[4])
		}
	}
	require.Fail(t, "no such row", "%s %s", clause, what)
	return math.NaN()
}

// JCGM 106:2012, 7.3.3 and 7.4: the probability of conformity, by the chance
// that verdicts rest on. Steps are chosen so that limits lie between two cells,
// where the normal distribution is exact.
func TestConformityProbabilities(t *testing.T) {
	p, a := normalOn(-5.47, 0.05, 0.07*24/33.5)
	within(t, jcgm106(t, "7.3.3 ex.1", "one-sided upper limit"), overOn(p, a, -5.40).not().AtLeast, 1e-6, "breakdown voltage")

	p, a = normalOn(509.7, 8.6, 19.7*24/54.5)
	within(t, jcgm106(t, "7.3.3 ex.2", "one-sided lower limit"), overOn(p, a, 490).AtLeast, 1e-6, "bursting strength")

	p, a = normalOn(13.6, 1.8, 1.6)
	under, over := outsideOf(p, a, 12.5, 16.3)
	within(t, jcgm106(t, "7.4", "two-sided"), under.plus(over).not().AtMost, 1e-6, "viscosity")
}

// Off the cells' edges the chance errs by less than its docstring says.
func TestChanceBetweenCells(t *testing.T) {
	for _, spread := range []float64{0.25, 0.5, 2} { // steps
		p, a := normalOn(0, spread, 1)
		bound := sq(1/(calib.PerStep*spread)) / 30
		for _, at := range []float64{-0.8, -0.31, -0.02, 0.003, 0.017, 0.29, 0.501, 0.77} {
			want := 0.5 * math.Erfc(at/spread/math.Sqrt2)
			within(t, want, overOn(p, a, at).AtLeast, bound, "chance")
		}
	}
}

// JCGM 106:2012, 8.3.3.2: of a speed measured with u = 2 % that it is over 100
// km/h with 99.9 %. The least speed of which the verdict is "above".
func TestGuardedRejection(t *testing.T) {
	low, high := 100.0, 120.0
	for high-low > 1e-7 {
		v := (low + high) / 2
		p, a := normalOn(v, 0.02*v, 0.02*v/4)
		if verdict(overOn(p, a, 100), 0.999) == VerdictAbove {
			high = v
		} else {
			low = v
		}
	}
	within(t, jcgm106(t, "8.3.3.2", "guarded rejection"), high, 3e-4, "speed")
}

// simpson integrates f from a to b.
func simpson(a, b float64, n int, f func(float64) float64) float64 {
	h := (b - a) / float64(2*n)
	sum := f(a) + f(b)
	for i := 1; i < 2*n; i++ {
		sum += f(a+float64(i)*h) * float64(2+2*(i%2))
	}
	return sum * h / 3
}

// JCGM 106:2012, 9.5.3: the global risks of accepting and rejecting resistors,
// from each measured one's own chance of being outside.
func TestGlobalRisksOfResistors(t *testing.T) {
	const y0, u0, um, tl, tu = 1500.0, 0.12, 0.04, 1499.8, 1500.2
	chance := func(mean, u float64) float64 {
		p, a := normalOn(mean, u, u/4)
		under, over := outsideOf(p, a, tl, tu)
		return under.plus(over).AtMost
	}
	within(t, jcgm106(t, "9.5.3", "global risk"), 1-chance(y0, u0), 5e-6, "prior conformance")
	spread := math.Hypot(u0, um)
	density := func(y float64) float64 {
		return math.Exp(-0.5*sq((y-y0)/spread)) / (spread * math.Sqrt(2*math.Pi))
	}
	outside := func(y float64) float64 {
		w := sq(u0) / (sq(u0) + sq(um))
		return chance(y0+w*(y-y0), u0*um/spread)
	}
	accepted := func(low, high float64) float64 {
		return simpson(low, high, 60, func(y float64) float64 { return outside(y) * density(y) })
	}
	within(t, jcgm106(t, "9.5.3", "same, A=T"), accepted(tl, tu), 5e-6, "consumer's risk")
	within(t, jcgm106(t, "9.5.3", "same, AL=1499.82"), accepted(1499.82, 1500.18), 5e-6, "consumer's risk, guarded")
	rejected := 2 * simpson(1500.18, 1500.18+6*spread, 120, func(y float64) float64 { return (1 - outside(y)) * density(y) })
	rows := published(t, "conformance_jcgm106.csv")
	require.Equal(t, "R_P", rows[8][2])
	within(t, number(t, rows[8][4]), rejected, 5e-6, "producer's risk, guarded")
}

// gammaBearing is the posterior of a ball bearing's error, in steps of 0.125 um from
// 0: prior gamma(4, 4/um), measured y with the standard uncertainty um; the
// measured value's density is returned beside it. Without a measurement (NaN)
// it is the prior.
func gammaBearing(y, um float64) (calib.Posterior, float64) {
	p := calib.Posterior{First: 0, Top: 47, Mass: make([]float64, 48*calib.PerStep)}
	const step = 0.125
	sum := 0.0
	for i := range p.Mass {
		x := step * p.Step(i)
		density := math.Pow(4, 4) / 6 * math.Pow(x, 3) * math.Exp(-4*x)
		if !math.IsNaN(y) {
			density *= math.Exp(-0.5*sq((y-x)/um)) / (um * math.Sqrt(2*math.Pi))
		}
		p.Mass[i] = density * step / calib.PerStep
		sum += p.Mass[i]
	}
	for i := range p.Mass {
		p.Mass[i] /= sum
	}
	return p, sum
}

// JCGM 106:2012, 9.5.4: ball bearings with a prior that is not normal.
func TestGlobalRisksOfBearings(t *testing.T) {
	const um, tu = 0.25, 2
	a := ruler(0, 0.125, 48)
	prior, _ := gammaBearing(math.NaN(), um)
	within(t, jcgm106(t, "9.5.4", "ball bearing"), overOn(prior, a, tu).AtLeast, 5e-6, "out of tolerance")
	accepted := func(limit float64) float64 {
		return simpson(-1.5, limit, 150, func(y float64) float64 {
			p, density := gammaBearing(y, um)
			return overOn(p, a, tu).AtLeast * density
		})
	}
	rows := published(t, "conformance_jcgm106.csv")
	require.Equal(t, "um=0.25, A=2", rows[10][1])
	within(t, number(t, rows[10][4]), accepted(2), 5e-6, "consumer's risk")
	low, high := 1.5, 2.0
	for high-low > 1e-5 {
		if mid := (low + high) / 2; accepted(mid) > 0.001 {
			high = mid
		} else {
			low = mid
		}
	}
	within(t, jcgm106(t, "9.5.4", "um=0.25, target"), low, 1e-4, "acceptance limit")
	rejected := simpson(1.671829, 5.8, 200, func(y float64) float64 {
		p, density := gammaBearing(y, um)
		return (1 - overOn(p, a, tu).AtLeast) * density
	})
	within(t, jcgm106(t, "9.5.4", "um=0.25, A=1.671829"), rejected, 5e-6, "producer's risk")
}
