package calib

import (
	"fmt"
	"math"

	"padband/charts"
)

// Together says whether several photos show one strip or several strips.
type Together int

const (
	// OneStrip: several photos of one strip. Its kit error is one and the same in all.
	OneStrip Together = iota
	// Strips: several strips of one sample; they scatter about it.
	Strips
)

// Readings of several photos of one strip, or of several strips of one sample,
// scatter more than each photo's own error says. The scatter is a standard deviation
// in steps with a half-normal prior of these spreads: a tenth of a step for one
// strip, half a step (the assumed kit error, common practice, no source) for
// several.
var scatterSpread = map[Together]float64{OneStrip: 0.10, Strips: 0.5}

// scatters are the multiples of the spread over which the pool is averaged.
var scatters = []float64{0.1, 0.4, 0.8, 1.3, 1.9, 2.6}

// sharedMismatch is the share of the mismatch variance that photos of one strip have
// in common. In rendered scenes nearly all of it is shared under one lamp, and most of
// it under different lamps: three photos under one lamp had 0.97 times the error of
// one, under three lamps 0.90 times. A photo does not tell its lamp, so one cautious
// figure serves both.
const sharedMismatch = 0.9

// disagreeing is the distance, in standard deviations of the difference, at
// which a photo is said to disagree with the others: one in a hundred by chance.
const disagreeing = 2.58

// Pooled is one analyte read from several photos together.
type Pooled struct {
	Reading         // value, bands, range and bracket; colours, budget and swatches are left empty
	Used    []int   // which readings, by index, went in
	Scatter float64 // posterior mean of the scatter between photos or strips, steps
	// Disagree lists the readings, by index, that disagree with the rest.
	Disagree []int
}

// Pool makes one reading of an analyte from several readings of it, taken from photos
// of one strip or from several strips of one sample: random effects on the scale. What
// all photos share (the chart's print, how its values run, most of the mismatch, the
// kit's error) is not narrowed. Pool fails for fewer than two readings, or when their
// scales differ.
func Pool(rs []Reading, kind Together) (Pooled, error) {
	if len(rs) < 2 {
		return Pooled{}, fmt.Errorf("%d reading cannot be pooled; it takes two or more", len(rs))
	}
	for _, r := range rs {
		if !sameScale(r, rs[0]) {
			return Pooled{}, fmt.Errorf("%s: the photos were read against different scales; pool photos of one chart", rs[0].Analyte.Name)
		}
	}
	shared := sharedVariance(rs)
	post, scatter := combine(rs, scatterSpread[kind], shared)
	p := Pooled{Scatter: scatter}
	p.Reading = FromPosterior(rs[0].Analyte, post)
	for i := range rs {
		p.Used = append(p.Used, i)
	}
	p.Reliability = majority(rs)
	p.disagreement(rs, kind)
	return p, nil
}

func sameScale(a, b Reading) bool {
	if len(a.Posterior.Mass) != len(b.Posterior.Mass) || len(a.Swatches) != len(b.Swatches) {
		return false
	}
	for i := range a.Swatches {
		if a.Swatches[i].Value != b.Swatches[i].Value {
			return false
		}
	}
	return a.Analyte.Unit == b.Analyte.Unit && a.Analyte.As == b.Analyte.As
}

// sharedVariance is the mean variance, in steps, of what all photos have in common.
func sharedVariance(rs []Reading) float64 {
	sum := 0.0
	for _, r := range rs {
		for _, b := range r.Budget {
			switch b.Source {
			case SourceMismatch:
				sum += sharedMismatch * sq(b.Steps)
			case SourcePrint, SourceCurve, SourceValues, SourceWater:
				sum += sq(b.Steps)
			}
		}
	}
	return sum / float64(len(rs))
}

// combine multiplies the readings' posteriors, each widened by the scatter, and
// averages over the scatter. It then widens the product by the errors that all
// readings share.
func combine(rs []Reading, spread, shared float64) (Posterior, float64) {
	n := len(rs[0].Posterior.Mass)
	var logs [][]float64
	var weights, powers []float64
	for _, k := range scatters {
		sum := make([]float64, n)
		for _, r := range rs {
			wide := r.Posterior.Blur(func(float64) float64 { return k * spread })
			for i, m := range wide.Mass {
				sum[i] += math.Log(m + 1e-9)
			}
		}
		logs = append(logs, sum)
		weights = append(weights, -0.5*sq(k))
		powers = append(powers, power(rs, shared, k*spread))
	}
	out := Posterior{First: rs[0].Posterior.First, Top: rs[0].Posterior.Top, Mass: make([]float64, n)}
	peak := math.Inf(-1)
	for k := range logs {
		for i := range n {
			logs[k][i] = powers[k]*logs[k][i] + weights[k]
			peak = math.Max(peak, logs[k][i])
		}
	}
	total, scatter := 0.0, 0.0
	for k := range logs {
		for i := range n {
			m := math.Exp(logs[k][i] - peak)
			out.Mass[i] += m
			total += m
			scatter += m * scatters[k] * spread
		}
	}
	for i := range out.Mass {
		out.Mass[i] /= total
	}
	return out, scatter / total
}

// power is the exponent that corrects the product of the readings, which counts each
// as independent, for the variance that they share: 1/n when they share all of it,
// 1 when they share none.
func power(rs []Reading, shared, scatter float64) float64 {
	independent, rest := 0.0, 0.0
	for _, r := range rs {
		v := math.Max(sq(r.Posterior.Spread()), 1e-6)
		independent += 1 / (v + sq(scatter))
		rest += 1 / (ownVariance(v, shared) + sq(scatter))
	}
	n := float64(len(rs))
	return (1 / independent) / (math.Min(shared, 0.95*n/independent) + 1/rest)
}

// ownVariance is what a reading does not share with the others, at least a
// twentieth of its variance.
func ownVariance(v, shared float64) float64 { return math.Max(v-shared, 0.05*v) }

// FromPosterior makes a reading of an analyte from the probabilities of the places on
// its scale. The reading has value, bands, range and bracket, and the values of the
// swatches; its word is good, and it has no colours and no budget. The strip's own
// error is added to make its water band.
func FromPosterior(a charts.Analyte, p Posterior) Reading {
	sd, assumed := kitSpread(a)
	out := Reading{Analyte: a, KitAssumed: assumed, Posterior: p, Reliability: Good}
	out.Water = p.Blur(func(float64) float64 { return sd })
	out.Value, out.Range = out.value(p.Quantile(0.5))
	out.Bracket = out.bracket(p.Quantile(0.5))
	out.Band = out.band(p)
	out.WaterBand = out.band(out.Water).Hull(out.Band)
	out.TooWide = out.tooWide(p)
	for _, s := range a.Swatches {
		out.Swatches = append(out.Swatches, SwatchColour{Value: s.Value, Label: s.Label, DeltaE: math.NaN()})
	}
	return out
}

// majority is the reliability of the photo in the middle when they are put in order of
// it; of two in the middle the worse counts.
func majority(rs []Reading) Reliability {
	count := map[Reliability]int{}
	for _, r := range rs {
		count[r.Reliability]++
	}
	switch {
	case 2*count[Unreliable] >= len(rs):
		return Unreliable
	case 2*(count[Unreliable]+count[Caution]) >= len(rs):
		return Caution
	}
	return Good
}

// disagreement lists the readings that lie too far from the middle of the others.
func (p *Pooled) disagreement(rs []Reading, kind Together) {
	shared := sharedVariance(rs)
	for i, r := range rs {
		var places, own []float64
		for j, o := range rs {
			if j != i {
				places = append(places, o.Posterior.Quantile(0.5))
				own = append(own, ownVariance(sq(o.Posterior.Spread()), shared))
			}
		}
		v := ownVariance(sq(r.Posterior.Spread()), shared) + median(own) + 2*sq(scatterSpread[kind])
		if math.Abs(r.Posterior.Quantile(0.5)-median(places)) > disagreeing*math.Sqrt(v) {
			p.Disagree = append(p.Disagree, i)
		}
	}
	if len(p.Disagree) > 0 {
		p.Reliability = p.Reliability.Worse(Caution)
	}
	if 2*len(p.Disagree) >= len(rs) {
		p.Reliability = Unreliable
	}
}
