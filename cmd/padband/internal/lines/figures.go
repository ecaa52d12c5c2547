package lines

import (
	"math"
	"strconv"
)

// Plain prints a value with as many decimals as it has and no exponent, such as
// a chart's own.
func Plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Fixed prints a value with the given decimals.
func Fixed(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// Figure prints a value with the given decimals; zero is "0", and what is more
// than zero but would print as zero is "under" the least figure there is.
func Figure(v float64, decimals int) string {
	switch {
	case !Vanishes(v, decimals):
		return Fixed(v, decimals)
	case v > 0:
		return "under " + Fixed(math.Pow10(-decimals), decimals)
	}
	return firstDigit(v)
}

// Vanishes says that a value would print as zero.
func Vanishes(v float64, decimals int) bool {
	p, err := strconv.ParseFloat(Fixed(v, decimals), 64)
	return err == nil && p == 0
}

// firstDigit prints a value with one significant digit and no exponent.
func firstDigit(v float64) string {
	one, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 0, 64), 64)
	return Plain(one)
}

// Alone prints a bound that stands by itself; one that would print as zero
// keeps its first digit.
func Alone(v float64, decimals int) string {
	if Vanishes(v, decimals) {
		return firstDigit(v)
	}
	return Fixed(v, decimals)
}

// Between prints an interval; ends that would both print as zero keep their
// first digits.
func Between(low, high float64, decimals int) string {
	if Vanishes(high, decimals) {
		return firstDigit(low) + " to " + firstDigit(high)
	}
	return Figure(low, decimals) + " to " + Figure(high, decimals)
}

// Signed prints a difference with its sign; what would print as zero is "0".
func Signed(v float64, decimals int) string {
	switch {
	case Vanishes(v, decimals):
		return "0"
	case v < 0:
		return "\u2212" + Fixed(-v, decimals)
	}
	return "+" + Fixed(v, decimals)
}

// Decimal prints a figure for a table, with the sign of print for less than
// zero; "-" when it is missing.
func Decimal(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "-"
	}
	if Vanishes(v, decimals) {
		v = 0
	}
	text := Fixed(math.Abs(v), decimals)
	if v < 0 {
		text = "\u2212" + text
	}
	return text
}

// Decimals are how many decimals show an eighth of a width above zero: never
// more than six.
func Decimals(width float64) int { return min(max(int(math.Ceil(-math.Log10(width/8))), 0), 6) }

// MostTicks is how many numbers stand on a drawn line of values.
const MostTicks = 6

// Round125 is the least of 1, 2 and 5 times a power of ten that is not under v.
func Round125(v float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{1, 2, 5} {
		if k*ten >= v*(1-1e-9) {
			return k * ten
		}
	}
	return 10 * ten
}
