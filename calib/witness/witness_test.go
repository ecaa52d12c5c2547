package witness

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"padband/colorimetry"
)

// row is a row of swatches that runs from pale to a colour.
func row(l, a, b float64, n int) (out []colorimetry.Lab) {
	for i := range n {
		f := float64(i+1) / float64(n)
		out = append(out, colorimetry.Lab{L: 100 - f*(100-l), A: f * a, B: f * b})
	}
	return out
}

// chart is three rows, of pink, green and yellow.
func chart() []colorimetry.Lab {
	return slices.Concat(row(65, 50, -5, 6), row(60, -35, -8, 6), row(80, 2, 60, 5))
}

// seenAs is the chart with each colour changed.
func seenAs(change func(colorimetry.Lab) colorimetry.Lab) Seen {
	s := Seen{White: colorimetry.D50.Scale(0.7)}
	for _, c := range chart() {
		s.Swatches = append(s.Swatches, Swatch{c, change(c)})
	}
	return s
}

func TestThePrintAsItWasIsNotDoubted(t *testing.T) {
	for _, same := range []bool{false, true} {
		s := seenAs(func(c colorimetry.Lab) colorimetry.Lab { return c })
		s.SameCamera = same
		v := Compare(s)
		assert.Equal(t, AsThen, v.Kind)
		assert.Less(t, v.Odds, 0.0)
		assert.Zero(t, v.Apart)
		// A little more contrast and colour, as from one phone to another.
		v = Compare(seenAs(func(c colorimetry.Lab) colorimetry.Lab {
			return colorimetry.Lab{L: 100 - 1.06*(100-c.L), A: 1.08 * c.A, B: 1.08 * c.B}
		}))
		assert.Equal(t, AsThen, v.Kind)
	}
	assert.Equal(t, AsThen, Compare(Seen{}).Kind)
}

func TestWhatChangedThePrintIsTold(t *testing.T) {
	for name, c := range map[string]struct {
		change func(colorimetry.Lab) colorimetry.Lab
		want   Kind
	}{
		"faded by a quarter": {func(c colorimetry.Lab) colorimetry.Lab {
			return colorimetry.Lab{L: 100 - 0.75*(100-c.L), A: 0.75 * c.A, B: 0.75 * c.B}
		}, OtherPrint},
		"each swatch in its own way": {func(c colorimetry.Lab) colorimetry.Lab {
			way := 20 * math.Sin(7*c.L+3*c.A)
			return colorimetry.Lab{L: c.L - 0.8*way, A: c.A + way, B: c.B - 0.7*way}
		}, Altered},
	} {
		s := seenAs(c.change)
		s.SameCamera = true
		v := Compare(s)
		assert.Equal(t, c.want, v.Kind, "%s: odds %.1f", name, v.Odds)
	}
	// The white that a bulb leaves in the photo, with reds that shine and blues that do not.
	s := seenAs(func(c colorimetry.Lab) colorimetry.Lab {
		depth := 100 - c.L
		return colorimetry.Lab{L: c.L + 0.07*c.A, A: c.A + 0.1*depth, B: c.B + 0.15*c.A}
	})
	s.White = colorimetry.XYZ{X: 1.05 * colorimetry.D50.X, Y: 1, Z: 0.75 * colorimetry.D50.Z}
	assert.Equal(t, OtherLight, Compare(s).Kind)
}

func TestTheOrderOfTheSwatchesDoesNotMatter(t *testing.T) {
	s := seenAs(func(c colorimetry.Lab) colorimetry.Lab {
		return colorimetry.Lab{L: 0.97 * c.L, A: c.A + 3, B: 0.8 * c.B}
	})
	want := Compare(s)
	slices.Reverse(s.Swatches)
	got := Compare(s)
	assert.InDelta(t, want.Odds, got.Odds, 1e-6)
	assert.Equal(t, want.Kind, got.Kind)
}

// The likelihood from sums is that of the whole covariance, written out.
func TestLikelihoodAgainstTheWholeCovariance(t *testing.T) {
	d := rand.New(rand.NewPCG(1, 2))
	s := Seen{White: colorimetry.XYZ{X: 1, Y: 1, Z: 0.7}}
	for _, c := range chart()[:4] {
		s.Swatches = append(s.Swatches, Swatch{c, colorimetry.Lab{L: c.L + d.NormFloat64(), A: c.A + 3*d.NormFloat64(), B: c.B + 2*d.NormFloat64()}})
	}
	m := gather(s)
	for i := range changes {
		c := &changes[i]
		got := m.likelihood(&sameCamera, c)
		assert.InDelta(t, whole(t, s, &sameCamera, c), got, 1e-6*math.Abs(got))
	}
}

// whole is the likelihood by the covariance of all figures.
func whole(t *testing.T, s Seen, camera *camera, by *change) float64 {
	t.Helper()
	n := 3*len(s.Swatches) + 2
	x, y, rest := mat.NewDense(n, coefficients, nil), mat.NewVecDense(n, nil), make([]float64, n)
	for i, one := range s.Swatches {
		f := []float64{0.3, (100 - one.Then.L) / 50, one.Then.A / 40, one.Then.B / 40}
		for ch, v := range []float64{one.Now.L - one.Then.L, one.Now.A - one.Then.A, one.Now.B - one.Then.B} {
			for k := range f {
				x.Set(3*i+ch, 3*k+ch, f[k])
			}
			y.SetVec(3*i+ch, v)
			rest[3*i+ch] = (camera.rest[ch] + by.rest[ch]) * (1 + (one.Then.A*one.Then.A+one.Then.B*one.Then.B)/1600)
		}
	}
	for k, v := range []float64{30 * math.Log(s.White.X/s.White.Y/colorimetry.D50.X), 30 * math.Log(s.White.Z/s.White.Y/colorimetry.D50.Z)} {
		x.Set(n-2+k, 12+k, 1)
		y.SetVec(n-2+k, v)
		rest[n-2+k] = 0.05 * (camera.rest[1+k] + by.rest[1+k])
	}
	var moved mat.VecDense
	moved.MulVec(x, mat.NewVecDense(coefficients, slices.Clone(by.mean[:])))
	y.SubVec(y, &moved)
	cov := mat.NewSymDense(n, nil)
	for i, v := range rest {
		cov.SetSym(i, i, v)
	}
	for _, root := range slices.Concat(camera.roots, by.roots) {
		var xr mat.VecDense
		xr.MulVec(x, mat.NewVecDense(coefficients, slices.Clone(root[:])))
		cov.SymRankOne(cov, 1, &xr)
	}
	var chol mat.Cholesky
	require.True(t, chol.Factorize(cov))
	var z mat.VecDense
	require.NoError(t, chol.SolveVecTo(&z, y))
	return -0.5*chol.LogDet() - 0.5*float64(tail+n)*math.Log1p(mat.Dot(&z, y)/tail)
}

func BenchmarkCompare(b *testing.B) {
	s := seenAs(func(c colorimetry.Lab) colorimetry.Lab { return c })
	for b.Loop() {
		Compare(s)
	}
}
