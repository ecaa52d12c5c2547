package reading

import (
	"encoding/json"
	"math"
	"strconv"

	"padband/calib"
)

// Figure is a figure of at most five significant digits; NaN, or infinite, where
// it is missing, which the file has as null.
type Figure float64

// Missing is the figure that is not there.
var Missing = Figure(math.NaN())

// Known reports whether the figure is there.
func (f Figure) Known() bool { return !math.IsNaN(float64(f)) && !math.IsInf(float64(f), 0) }

// rounded is the figure to five significant digits.
func (f Figure) rounded() Figure {
	r, err := strconv.ParseFloat(strconv.FormatFloat(float64(f), 'g', 5, 64), 64)
	if err != nil {
		return Missing // rounded up past the largest number
	}
	if r == 0 {
		return 0 // and not -0, which JSON would show
	}
	return Figure(r)
}

// MarshalJSON writes the figure, or null when it is missing.
func (f Figure) MarshalJSON() ([]byte, error) {
	if f = f.rounded(); !f.Known() {
		return []byte("null"), nil
	}
	return json.Marshal(float64(f))
}

// UnmarshalJSON reads the figure, rounded as it is written; null is a missing one.
func (f *Figure) UnmarshalJSON(data []byte) error {
	*f = Missing
	if string(data) == "null" {
		return nil
	}
	var v float64
	if err := json.Unmarshal(data, &v); err != nil {
		return err
	}
	*f = Figure(v).rounded()
	return nil
}

// Optional is a figure that a file may leave out altogether. One that is given
// and missing is null.
type Optional struct {
	Given  bool
	Figure Figure
}

// given is a figure that the file has.
func given(v float64) Optional { return Optional{true, Figure(v)} }

// IsZero reports whether the file leaves it out.
func (o Optional) IsZero() bool { return !o.Given }

// MarshalJSON writes the figure.
func (o Optional) MarshalJSON() ([]byte, error) { return o.Figure.MarshalJSON() }

// UnmarshalJSON reads the figure; null is given and missing.
func (o *Optional) UnmarshalJSON(data []byte) error {
	o.Given = true
	return o.Figure.UnmarshalJSON(data)
}

// Band is a coverage interval. An open end is infinite, and null in the file.
type Band struct {
	Low      Figure      `json:"low"`
	High     Figure      `json:"high"`
	Coverage float64     `json:"coverage"`
	Hills    [][2]Figure `json:"hills,omitempty"` // the separate intervals that it is the hull of
	KitError string      `json:"kit_error,omitempty"`
}

// Ends are the ends of the band, infinite where they are open; a band that is
// not there is open on both sides.
func (b *Band) Ends() (low, high float64) {
	if b == nil {
		return math.Inf(-1), math.Inf(1)
	}
	return float64(b.Low), float64(b.High)
}

// UnmarshalJSON reads a band; an end that is null or not there is open.
func (b *Band) UnmarshalJSON(data []byte) error {
	type plain Band
	p := plain{Low: Missing, High: Missing}
	if err := json.Unmarshal(data, &p); err != nil {
		return err
	}
	*b = Band(p)
	b.open()
	return nil
}

// open spells missing ends as open ones.
func (b *Band) open() {
	if !b.Low.Known() {
		b.Low = Figure(math.Inf(-1))
	}
	if !b.High.Known() {
		b.High = Figure(math.Inf(1))
	}
}

// EndOf is one end of a band as the file has it; an open end is a missing figure.
func EndOf(b calib.Bound) Figure {
	if b.Open {
		return Missing
	}
	return Figure(b.Value)
}

// BandOf is a band as the file has it.
func BandOf(b calib.Band) *Band {
	out := &Band{Low: EndOf(b.Low), High: EndOf(b.High), Coverage: b.Coverage}
	out.open()
	for _, h := range b.Hills {
		out.Hills = append(out.Hills, [2]Figure{Figure(h[0]), Figure(h[1])})
	}
	return out
}
