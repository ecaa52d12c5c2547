package calib

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"padband/charts"
)

func TestFamilyShares(t *testing.T) {
	for _, word := range append(charts.Lamps(), charts.LampUnsaid, "no such word") {
		shares, sum, of := familyShares(word), 0.0, 0.0
		for _, s := range shares {
			require.Positive(t, s, word)
			sum += s
		}
		for _, f := range named[word] {
			of += shares[f]
		}
		within(t, 1, sum, 1e-12, string(word))
		if len(named[word]) > 0 {
			within(t, saidShare, of, 1e-12, string(word))
		}
	}
	for _, word := range charts.Lamps() {
		assert.NotEmpty(t, named[word], word)
	}
}

func TestPriorOfHypotheses(t *testing.T) {
	p := scene(onRamp(2.5))
	l := FitLight(p.Whites, p.Width, p.Height, guessWhite(p.Pads))
	for _, word := range append(charts.Lamps(), charts.LampUnsaid) {
		p.Lamp = word
		shares := familyShares(word)
		for f, sum := range byFamily(l.prior(p)) {
			within(t, math.Log(shares[f]), sum, 1e-12, string(word))
		}
	}
}

// The referee is gonum's decomposition.
func TestEigenOfABlock(t *testing.T) {
	d := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var b block
		for range 3 {
			v := [3]float64{d.NormFloat64(), d.NormFloat64() * 10, d.NormFloat64()}
			b.outer(d.Float64(), &v)
		}
		values, vectors := b.eigen()
		sym := mat.NewSymDense(3, nil)
		for r := range 3 {
			for c := range 3 {
				sym.SetSym(r, c, b[r][c])
			}
		}
		var ref mat.EigenSym
		require.True(t, ref.Factorize(sym, false))
		want := ref.Values(nil)
		got := append([]float64(nil), values[:]...)
		for i := range got { // both in rising order
			for j := i + 1; j < 3; j++ {
				if got[j] < got[i] {
					got[i], got[j] = got[j], got[i]
				}
			}
			within(t, want[i], got[i], 1e-9*(1+want[2]), "eigenvalue")
		}
		for j := range 3 {
			v := [3]float64{vectors[0][j], vectors[1][j], vectors[2][j]}
			for r, x := range b.times(v) {
				within(t, values[j]*v[r], x, 1e-9*(1+want[2]), "eigenvector")
			}
		}
	}
}

// The likelihood by eigenvalues is that of the plain way: add up the covariance, factorise
// it, and take the distance.
func TestLikelihoodsByEigenvaluesAreThePlainOnes(t *testing.T) {
	p := scene(onRamp(2.5))
	l := FitLight(p.Whites, p.Width, p.Height, guessWhite(p.Pads))
	s, err := NewScale(p.Pads[0], l)
	require.NoError(t, err)
	g := newGrid(s)
	for _, i := range []int{3, len(g.prior) / 2, len(g.prior) - 2} {
		lab := s.at(g.step(i))
		fixed, unit := g.fixed[i].total(), newMatrix(3)
		s.addMismatch(unit, lab)
		struck := g.struck(fixed, unit, lab)
		for k, h := range hypotheses {
			m := newMatrix(3)
			s.addMismatchOf(m, lab, lamps[h.under].mismatch)
			for j := range m.v {
				m.v[j] = fixed.v[j] + sq(h.size)*m.v[j]
			}
			moved := lamps[h.under].lean.times([3]float64{100 - lab[0], lab[1], lab[2]})
			from := []float64{lab[0] + h.size*moved[0], lab[1] + h.size*moved[1], lab[2] + h.size*moved[2]}
			_, like := g.distance(m, make([]float64, 3), from)
			want := logAdd(math.Log(1-contaminated)+like, math.Log(contaminated)+struck)
			within(t, want, g.like[k][i], 1e-9*(1+math.Abs(want)), "log likelihood")
		}
	}
}

// A word for the light widens or narrows the band by what that light does; it does not
// narrow a pad that lies off the scale.
func TestTheWordForTheLightMovesTheBand(t *testing.T) {
	width := func(p Photo, word charts.Lamp) float64 {
		p.Lamp = word
		_, rs, err := Read(p)
		require.NoError(t, err)
		return rs[0].span(rs[0].Posterior)
	}
	on := scene(onRamp(2.5))
	unsaid := width(on, charts.LampUnsaid)
	assert.Less(t, width(on, charts.LampDaylight), unsaid)
	assert.Greater(t, width(on, charts.LampTube), unsaid)
	off := onRamp(2.5)
	off.A += 9
	off.B -= 9
	beside := scene(off)
	assert.Greater(t, width(beside, charts.LampDaylight), width(on, charts.LampDaylight))
	assert.Greater(t, width(beside, charts.LampDaylight), 0.85*width(beside, charts.LampUnsaid))
}
