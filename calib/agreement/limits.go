package agreement

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// LimitsOfAgreement are the bias of two readers and the limits between which 95 in 100 of
// their differences lie.
type LimitsOfAgreement struct {
	Bias      Estimate
	Spread    float64 // standard deviation of the differences; NaN with fewer than two
	Low, High Estimate
	N         int // differences
}

// Why a figure of the differences is not defined.
const (
	whyFewPairs  = "not defined: two pairs of numbers or more are needed"
	whyAlike     = "no interval: all differences are alike"
	whyNoNumbers = "not defined: no pair of calls has two numbers"
)

// repeats is what repeated calls add: the readers' own variances within one
// sample, the mean of 1/m over the samples with m calls, and the degrees of
// freedom of the variances.
type repeats struct {
	variance, inverse, freedom [2]float64
}

// extra is the variance that a difference of single calls has beyond that of
// the means: the sum of (1 - mean of 1/m) times the variance within a sample
// (Bland and Altman 1999, section 5.1), and the variance of that sum's estimate.
func (r repeats) extra() (v, ofV float64) {
	for i := range 2 {
		if !(r.freedom[i] > 0) {
			continue
		}
		add := (1 - r.inverse[i]) * r.variance[i]
		v += add
		ofV += 2 * add * add / r.freedom[i]
	}
	return v, ofV
}

// normalLimits are the limits of agreement of differences that are about
// normal: bias ± 1.96 standard deviations (Bland and Altman 1986, 1999). The
// bias has the Student-t interval. A limit's interval joins those of bias and
// standard deviation (Zou 2013, Stat Methods Med Res 22:630-642); unlike the
// symmetric one of 1986 and 1999 it covers what it says with few pairs too.
func normalLimits(d []float64, r repeats) LimitsOfAgreement {
	n := float64(len(d))
	if len(d) < 2 {
		l := LimitsOfAgreement{Bias: undefined(whyNoNumbers), Spread: math.NaN(), Low: undefined(whyFewPairs),
			High: undefined(whyFewPairs), N: len(d)}
		if len(d) == 1 {
			l.Bias = bare(d[0], "no interval: two pairs or more are needed")
		}
		return l
	}
	mean, v := stat.MeanVariance(d, nil)
	more, ofMore := r.extra()
	l := LimitsOfAgreement{Spread: math.Sqrt(v + more), N: len(d)}
	if !(l.Spread > 1e-12*(1+math.Abs(mean))) {
		l.Spread = 0
		l.Bias, l.Low, l.High = bare(mean, whyAlike), bare(mean, whyAlike), bare(mean, whyAlike)
		if low, high := rankEnds(len(d), 0.5); low >= 1 && high <= len(d) {
			l.Bias = Estimate{Value: mean, Low: mean, High: mean}
		}
		return l
	}
	half := student(n-1) * math.Sqrt(v/n)
	l.Bias = Estimate{Value: mean, Low: mean - half, High: mean + half, Error: math.Sqrt(v / n)}
	freedom := n - 1
	if more > 0 { // of the sum of variances, as Satterthwaite's
		freedom = 2 * (v + more) * (v + more) / (2*v*v/(n-1) + ofMore)
	}
	inner, outer := limitReach(l.Spread, half, freedom)
	at := Factor * l.Spread
	se := math.Sqrt(v/n + Factor*Factor*l.Spread*l.Spread/(2*freedom)) // that of 1999
	l.High = Estimate{Value: mean + at, Low: mean + at - inner, High: mean + at + outer, Error: se}
	l.Low = Estimate{Value: mean - at, Low: mean - at - outer, High: mean - at + inner, Error: se}
	return l
}

// limitReach is how far the interval of a limit of agreement goes inwards and
// outwards; half is that of the bias.
func limitReach(spread, half, freedom float64) (inner, outer float64) {
	at := Factor * spread
	low, high := spreadReach(freedom)
	return math.Hypot(half, at*(1-low)), math.Hypot(half, at*(high-1))
}

// spreadReach are the factors from a standard deviation to the ends of its interval.
func spreadReach(freedom float64) (low, high float64) {
	chi := distuv.ChiSquared{K: freedom}
	return math.Sqrt(freedom / chi.Quantile((1+Coverage)/2)), math.Sqrt(freedom / chi.Quantile((1-Coverage)/2))
}

// student is the factor of a two-sided 95 % interval.
func student(freedom float64) float64 {
	return distuv.StudentsT{Sigma: 1, Nu: freedom}.Quantile((1 + Coverage) / 2)
}

// symmetricError is the standard error of a limit of agreement in the form of
// Bland and Altman 1999: s sqrt(1/n + 1.96²/(2(n-1))). It sizes samples.
func symmetricError(spread, n float64) float64 {
	return spread * math.Sqrt(1/n+Factor*Factor/(2*(n-1)))
}

// Needed returns how many pairs in all would give limits of agreement known to
// within half, in the unit of spread: the least n with t times the standard
// error of a limit (Bland and Altman 1999) at most half. 0 when half or spread
// is not above 0, or more than 1,000,000 would be needed.
func Needed(spread, half float64) int {
	if !(spread > 0) || !(half > 0) {
		return 0
	}
	within := func(n int) bool { return student(float64(n-1))*symmetricError(spread, float64(n)) <= half }
	low, high := 2, 1_000_000
	if !within(high) {
		return 0
	}
	for low < high {
		if mid := (low + high) / 2; within(mid) {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low
}
