package scene

import (
	"math"

	"padband/charts"
)

// logStep says whether values run logarithmically between swatch i and i+1.
func logStep(a *charts.Analyte, i int) bool {
	lo, hi := a.Swatches[i].Value, a.Swatches[i+1].Value
	switch a.Spacing {
	case charts.SpacingLinear:
		return false
	case charts.SpacingLog:
		return lo > 0 && hi > 0
	}
	return lo > 0 && hi >= 1.9*lo && a.Unit != "pH"
}

// valueAt is the value at a place on the scale. Past an end it goes on as
// within the last step, but never below zero.
func valueAt(a *charts.Analyte, step float64) float64 {
	i := min(len(a.Swatches)-2, max(0, int(math.Floor(step))))
	lo, hi, f := a.Swatches[i].Value, a.Swatches[i+1].Value, step-float64(i)
	if logStep(a, i) {
		return lo * math.Pow(hi/lo, f)
	}
	return max(0, lo+(hi-lo)*f)
}

// round2 rounds to two significant digits of the kind charts print.
func round2(v float64) float64 {
	if v == 0 {
		return 0
	}
	unit := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Round(math.Round(v/unit)*unit*1e6) / 1e6
}

// growing makes chart values that grow by ratios, most often from zero.
func growing(d dice, n int) []float64 {
	nice := []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8}
	at := d.IntN(len(nice))
	jump := d.one(2, 4)
	decade := math.Pow(10, math.Floor(d.in(0.5, 3.2)-float64(jump*n)/float64(len(nice))))
	var out []float64
	if d.chance(0.75) {
		out = append(out, 0)
	}
	for len(out) < n {
		out = append(out, round2(decade*math.Pow(10, float64(at/len(nice)))*nice[at%len(nice)]))
		at += max(1, jump+d.one(-1, 1))
	}
	return out
}

// evenly makes chart values in equal steps from zero or from one step.
func evenly(d dice, n int) []float64 {
	step := pick(d, []float64{0.5, 1, 2, 5, 10, 25, 40, 60, 100})
	var out []float64
	for i := range n {
		out = append(out, step*float64(i))
	}
	return out
}

// acidity makes pH values.
func acidity(d dice, n int) []float64 {
	step := pick(d, []float64{0.3, 0.4, 0.5, 0.6, 0.8, 1})
	v := math.Round(d.in(4, 8.5-step*float64(n-1)/2)*10) / 10
	if v < 1 {
		v = 1
	}
	var out []float64
	for range n {
		out = append(out, math.Round(v*10)/10)
		v += step
	}
	return out
}
