package agreement

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// How a doubt about the shape of the differences is decided: at one in a
// hundred, and only where the departure is large enough to matter. Common
// practice, no source.
const (
	doubtful     = 0.01
	straight     = 0.95 // least squared correlation with a normal's that passes
	fewForShape  = 10   // pairs: with fewer nothing is tested
	mostForShape = 5000 // pairs: the approximation was made for no more
)

// farFromNormal reports whether differences are far from normally distributed:
// the squared correlation of the sorted differences with normal scores (Shapiro
// and Francia 1972) is under 0.95 and improbable at 1 % (Royston 1993, Statistics
// in Medicine 12:181-184; constants from memory, checked by simulation).
func farFromNormal(d []float64) bool {
	w, p := straightness(d)
	return p < doubtful && w < straight
}

// straightness returns W' and its probability, 1 and 1 where nothing is tested.
func straightness(d []float64) (w, p float64) {
	n := len(d)
	if n < fewForShape || slices.Max(d) == slices.Min(d) {
		return 1, 1
	}
	x := slices.Clone(d)
	slices.Sort(x)
	scores := make([]float64, n)
	for i := range scores {
		scores[i] = distuv.UnitNormal.Quantile((float64(i+1) - 0.375) / (float64(n) + 0.25)) // Blom's
	}
	r := stat.Correlation(x, scores, nil)
	w = r * r
	u := math.Log(float64(min(n, mostForShape)))
	v := math.Log(u)
	z := (math.Log(1-w) - (-1.2725 + 1.0521*(v-u))) / (1.0308 - 0.26758*(v+2/u))
	return w, distuv.UnitNormal.Survival(z)
}

// growth is the rank correlation between the size of the differences (from
// their median) and the level, and the one-sided probability of one so large.
func growth(d, level []float64) (rho, p float64) {
	n := len(d)
	if n < fewForShape {
		return 0, 1
	}
	sorted := slices.Clone(d)
	slices.Sort(sorted)
	middle := (sorted[(n-1)/2] + sorted[n/2]) / 2
	size := make([]float64, n)
	for i, v := range d {
		size[i] = math.Abs(v - middle)
	}
	rho = stat.Correlation(ranks(size), ranks(level), nil)
	switch {
	case rho >= 1:
		return 1, 0
	case math.IsNaN(rho):
		return rho, 1
	}
	t := rho * math.Sqrt(float64(n-2)/(1-rho*rho))
	return rho, distuv.StudentsT{Sigma: 1, Nu: float64(n - 2)}.Survival(t)
}

// ranks are the places of values in order, from 1; equal ones share the mean.
func ranks(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case x[a] < x[b]:
			return -1
		case x[a] > x[b]:
			return 1
		}
		return 0
	})
	out := make([]float64, len(x))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && x[order[j]] == x[order[i]] {
			j++
		}
		for k := i; k < j; k++ {
			out[order[k]] = float64(i+j+1) / 2
		}
		i = j
	}
	return out
}
