package agreement

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// newShare is a proportion with its exact interval (Clopper and Pearson 1934,
// Biometrika 26:404-413), which covers 95 in 100 or more.
func newShare(count, of int) Proportion {
	s := Proportion{Count: count, Of: of, Low: math.NaN(), High: math.NaN()}
	if of == 0 {
		s.Why = "not defined: nothing can be counted"
		return s
	}
	tail := (1 - Coverage) / 2
	k, n := float64(count), float64(of)
	s.Low, s.High = 0, 1
	if count > 0 {
		s.Low = distuv.Beta{Alpha: k, Beta: n - k + 1}.Quantile(tail)
	}
	if count < of {
		s.High = distuv.Beta{Alpha: k + 1, Beta: n - k}.Quantile(1 - tail)
	}
	return s
}

// noShare is a missing proportion with the reason why it is missing.
func noShare(why string) Proportion { return Proportion{Low: math.NaN(), High: math.NaN(), Why: why} }
