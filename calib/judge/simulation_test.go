package judge

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padband/calib"
	"padband/charts"
)

// Of 20,000 waters with the strip's and the photo's errors drawn as the model
// has them, at least 95 in 100 of those judged above are over, and of those
// judged below under; and the probabilities are what they say.
func TestVerdictsHoldInSimulation(t *testing.T) {
	const n, spread, kit = 20000, 0.3, 0.5
	r := rand.New(rand.NewPCG(6, 106))
	a := nitrate(kit)
	l := given(t, "nitrate 10 mg/L as N", a)
	edge := a.StepOf(10)
	var judged, right = map[Verdict]int{}, map[Verdict]int{}
	var said, over float64
	var bins [10]struct{ n, over, said float64 }
	for range n {
		pad := -1.0
		for pad < 0 { // the prior: even along the chart, thinner past its top
			pad = r.Float64() * 6
			if pad > 5 && r.Float64() > densityPastTop {
				pad = -1
			}
		}
		j := Judge(simulated(a, pad+spread*r.NormFloat64(), spread), l, 0.95)
		water := math.Max(0, pad+kit/1.96*r.NormFloat64())
		judged[j.Verdict]++
		if (j.Verdict == VerdictAbove) == (water > edge) {
			right[j.Verdict]++
		}
		b := &bins[min(9, int(10*j.Probability))]
		b.n++
		b.said += j.Probability
		said += j.Probability
		if water > edge {
			over++
			b.over++
		}
	}
	for _, v := range []Verdict{VerdictAbove, VerdictBelow} {
		share := float64(right[v]) / float64(judged[v])
		t.Logf("%s: %d judged, %.4f of them rightly", v, judged[v], share)
		assert.Greater(t, judged[v], n/5)
		assert.GreaterOrEqual(t, share, 0.95)
	}
	t.Logf("cannot tell: %d", judged[VerdictCannotTell])
	within(t, over/n, said/n, 0.005, "mean probability")
	for i, b := range bins {
		within(t, b.over/b.n, b.said/b.n, 4*0.5/math.Sqrt(b.n), "probabilities of tenth "+string(rune('0'+i)))
	}
}

// densityPastTop is the prior's density past the chart's top, that on it being 1.
const densityPastTop = 0.4

// simulated is the reading of a pad measured at a step with a normal error.
func simulated(a charts.Analyte, measured, spread float64) calib.Reading {
	p := calib.Posterior{Top: 5, Mass: make([]float64, 6*calib.PerStep+1)}
	sum := 0.0
	for i := range p.Mass {
		p.Mass[i] = math.Exp(-0.5 * sq((p.Step(i)-measured)/spread))
		if p.Step(i) > p.Top {
			p.Mass[i] *= densityPastTop
		}
		sum += p.Mass[i]
	}
	for i := range p.Mass {
		p.Mass[i] /= sum
	}
	return calib.Reading{Analyte: a, Posterior: p, Water: p.Blur(constant(a.KitError.Steps / 1.96)), Reliability: calib.Good}
}
