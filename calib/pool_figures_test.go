package calib

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// normalAt is a reading whose posterior is normal about a place.
func normalAt(place, sd float64, budget ...Contribution) Reading {
	p := Posterior{First: 0, Top: 12, Mass: make([]float64, 12*PerStep+1)}
	sum := 0.0
	for i := range p.Mass {
		p.Mass[i] = math.Exp(-0.5 * sq((p.Step(i)-place)/sd))
		sum += p.Mass[i]
	}
	for i := range p.Mass {
		p.Mass[i] /= sum
	}
	return Reading{Posterior: p, Budget: budget}
}

// Readings of one variance v, of which all share w, have a mean of variance
// w + (v-w)/n: JCGM 100:2008, 5.2.2, equations 13 to 15, with the covariance w.
func TestPooledVarianceIsThatOfCorrelatedReadings(t *testing.T) {
	const sd = 0.4
	for _, n := range []int{2, 3, 7} {
		for _, share := range []float64{0, 0.3, 0.8} {
			var rs []Reading
			for range n {
				rs = append(rs, normalAt(6, sd))
			}
			v, w := sq(sd), share*sq(sd)
			p, scatter := combine(rs, 0, w)
			want := w + (v-w)/float64(n)
			within(t, 1, sq(p.Spread())/want, 0.01, "variance of the pooled over that of the mean")
			within(t, 6, p.Quantile(0.5), 1e-6, "place")
			within(t, 0, scatter, 1e-12, "scatter")
		}
	}
}

// Of the mismatch nine tenths are shared, of print, curve and values all, of
// light, gloss and noise nothing; by hand 0.9 x 0.04 + 0.01 + 0.0025 + 0.0016.
func TestSharedVarianceByHand(t *testing.T) {
	a := normalAt(3, 0.4, Contribution{SourceMismatch, 0.2}, Contribution{SourcePrint, 0.1}, Contribution{SourceLight, 5}, Contribution{SourceGloss, 5},
		Contribution{SourceNoise, 5}, Contribution{SourceCurve, 0.05}, Contribution{SourceValues, 0.04})
	within(t, 0.0501, sharedVariance([]Reading{a, a}), 1e-12, "two alike")
	within(t, 0.02505, sharedVariance([]Reading{a, normalAt(3, 0.4)}), 1e-12, "the mean of it and of none")
}

// Photos of one strip, each normal with 0.3 steps and nothing shared, scatter
// by 0.1 steps more: a reading and the middle of the others are apart by
// sqrt(2 x 0.09 + 2 x 0.01) = 0.447 steps, and 2.58 of these (one in a hundred
// of a normal) are 1.154. Strips scatter by 0.5 steps: 2.58 x sqrt(0.68) = 2.128.
func TestDisagreementAtTheDistanceItSays(t *testing.T) {
	for kind, limit := range map[Together]float64{OneStrip: 1.154, Strips: 2.128} {
		for _, sign := range []float64{-1, 1} {
			for share, want := range map[float64][]int{0.97: nil, 1.03: {1}} {
				var p Pooled
				p.disagreement([]Reading{normalAt(6, 0.3), normalAt(6+sign*share*limit, 0.3), normalAt(6, 0.3), normalAt(6, 0.3)}, kind)
				assert.Equal(t, want, p.Disagree, "%v of the limit, kind %d", sign*share, kind)
			}
		}
	}
}

// The middle photo's reliability, the worse of two.
func TestReliabilityOfTheMiddlePhoto(t *testing.T) {
	of := func(all ...Reliability) Reliability {
		var rs []Reading
		for _, r := range all {
			rs = append(rs, Reading{Reliability: r})
		}
		return majority(rs)
	}
	assert.Equal(t, Good, of(Good, Good, Unreliable))
	assert.Equal(t, Caution, of(Good, Caution))
	assert.Equal(t, Caution, of(Good, Good, Caution, Caution))
	assert.Equal(t, Caution, of(Good, Caution, Unreliable))
	assert.Equal(t, Unreliable, of(Good, Unreliable))
	assert.Equal(t, Good, of(Good, Good, Good, Caution, Unreliable))
	assert.Equal(t, Unreliable, of(Good, Good, Unreliable, Unreliable))
}
