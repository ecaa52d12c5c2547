package agreement

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

const (
	whyFewForRanks = "no interval by ranks: six pairs or more are needed"
	whyOpenEnd     = "open: an interval by ranks for a limit needs 146 pairs"
	// leastForRanks is the least n with 0.975^n at most 0.025: with fewer the
	// outermost difference may be inside the limit.
	leastForRanks = 146
)

// rankLimits are the median of the differences and the 2.5 and 97.5 % points
// between which 95 in 100 lie, whatever their distribution, with the intervals
// that order statistics give (the binomial distribution; see Conover,
// Practical Nonparametric Statistics, 3.2; from memory). An end that so few differences
// cannot bound is infinite.
func rankLimits(d []float64) LimitsOfAgreement {
	l := LimitsOfAgreement{Spread: math.NaN(), N: len(d)}
	if len(d) < 2 {
		return normalLimits(d, repeats{})
	}
	x := slices.Clone(d)
	slices.Sort(x)
	l.Spread = stat.StdDev(x, nil)
	tail := (1 - Coverage) / 2
	l.Bias, l.Low, l.High = rankPoint(x, 0.5), rankPoint(x, tail), rankPoint(x, 1-tail)
	return l
}

// rankPoint estimates the p-quantile of sorted values with its interval.
func rankPoint(x []float64, p float64) Estimate {
	n := len(x)
	h := p * float64(n-1)
	i := min(int(h), n-2)
	e := Estimate{Value: x[i] + (h-float64(i))*(x[i+1]-x[i]), Low: math.Inf(-1), High: math.Inf(1)}
	low, high := rankEnds(n, p)
	if low >= 1 {
		e.Low = x[low-1]
	}
	if high <= n {
		e.High = x[high-1]
	}
	if !e.Bounded() {
		e.Why = whyOpenEnd
		if p == 0.5 {
			e.Why = whyFewForRanks
		}
	}
	return e
}

// rankEnds are the ranks, from 1, of the interval of a p-quantile; 0 and n+1
// where that end is open. Each end is passed with a probability of 2.5 % at most.
func rankEnds(n int, p float64) (low, high int) {
	b := distuv.Binomial{N: float64(n), P: p}
	tail := (1 - Coverage) / 2
	// P(the quantile is below rank k) = P(fewer than k values are below it).
	low = sort.Search(n, func(k int) bool { return b.CDF(float64(k)) > tail })
	high = 1 + sort.Search(n, func(k int) bool { return 1-b.CDF(float64(k)) <= tail })
	return low, high
}
