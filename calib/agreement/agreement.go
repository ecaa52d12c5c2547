// Package agreement compares two readers, people or photos: their calls for the
// same samples, or two readings of one sample. Start at [Read] and [Calls.Compare]
// for files of calls, at [ParseReading] and [Between] for two readings.
//
// The package counts the complete pairs and names what is left out. It says who
// reads higher and by how much, on which side of a limit each call falls, and how
// far two calls may lie apart. Where a figure is not defined it gives the reason
// instead.
//
// Differences are the first reader minus the second. Intervals cover 95 in 100 unless
// said otherwise. The package does not say who is right: two readers can agree and
// both be wrong, which only a reference value shows.
package agreement

import "math"

// Coverage is the probability that every interval of this package is made to
// cover what it stands for.
const Coverage = 0.95

// Factor is the number of standard deviations from the bias to a limit of
// agreement (Bland and Altman 1999, Stat Methods Med Res 8:135-160; in 1986,
// Lancet i:307-310, they rounded it to 2).
const Factor = 1.96

// Estimate is a figure with its interval.
type Estimate struct {
	Value float64
	// Low and High are the interval's ends: infinite where that side is open,
	// NaN where there is no interval.
	Low, High float64
	// Error is the standard error, where the interval is made from one; else 0.
	Error float64
	// Why says why the figure, or with a value that is a number its interval, is
	// not defined; it is empty where all is.
	Why string
}

// Defined reports whether the estimate has a value.
func (e Estimate) Defined() bool { return !math.IsNaN(e.Value) }

// Bounded reports whether both ends of the interval are numbers.
func (e Estimate) Bounded() bool {
	return !math.IsNaN(e.Low+e.High) && !math.IsInf(e.Low, 0) && !math.IsInf(e.High, 0)
}

// undefined is a missing figure with the reason why it is missing.
func undefined(why string) Estimate {
	return bare(math.NaN(), why)
}

// bare is a figure without an interval, with the reason.
func bare(v float64, why string) Estimate {
	return Estimate{Value: v, Low: math.NaN(), High: math.NaN(), Why: why}
}

// Proportion is a count of a total, with the interval of the proportion.
type Proportion struct {
	Count, Of int
	Low, High float64 // of Count/Of; NaN when Of is 0
	Why       string  // why there is none, when there is none
}

// Defined reports whether anything was counted.
func (s Proportion) Defined() bool { return s.Why == "" && s.Of > 0 }

// LeftOut is a row that some or all of the figures leave out.
type LeftOut struct {
	Row int    // the line in the file, from 1
	Why string // the reason, which names sample and reader where they are known
}
