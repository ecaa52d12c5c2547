package scene

import "strconv"

// shortNumber writes a chart's value.
func shortNumber(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
