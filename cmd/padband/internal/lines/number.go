package lines

import (
	"encoding/json"
	"math"
	"strconv"
)

// Number is a figure with at most five significant digits; null when it is missing.
type Number float64

// Missing is the figure that is written as null.
var Missing = Number(math.NaN())

// MarshalJSON writes the figure, or null when it is not finite.
func (n Number) MarshalJSON() ([]byte, error) {
	f := float64(n)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(f, 'g', 5, 64), 64)
	if err != nil {
		return nil, err
	}
	if r == 0 {
		return []byte("0"), nil
	}
	return json.Marshal(r)
}
