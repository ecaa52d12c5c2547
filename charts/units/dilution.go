package units

import (
	"regexp"
	"strconv"
	"strings"

	"padband/charts/strict"
)

// Dilution is a sample mixed with clean water before the strip was dipped.
type Dilution struct {
	Sample, Water float64 // parts of each, over 0
	// Error is how far the factor may be off (95 %), as a share of it; 0 when not said.
	Error float64
}

// maxDilution is the highest factor that is taken: a strip's range is not
// stretched further by any kitchen measure (common practice, no source).
const maxDilution = 1000

var typedDilution = regexp.MustCompile(`^([0-9]*\.?[0-9]+)\s*\+\s*([0-9]*\.?[0-9]+)(?:\s*(?:,|±|\+/-|within)\s*([0-9]*\.?[0-9]+)\s*%)?$`)

// ParseDilution reads parts of sample and parts of water: "1+1", or with how
// far the measuring may be off "1+4, 3 %" (under 50 %). The error is a [*Error].
func ParseDilution(text string) (Dilution, error) {
	text = strings.TrimSpace(text)
	bad := func(what string) (Dilution, error) {
		return Dilution{}, &Error{
			Text: "the dilution " + strict.Quote(text),
			What: what,
			Do:   "write parts of sample + parts of clean water, such as 1+1 or 1+4, 3 %",
		}
	}
	if strings.Contains(text, ":") {
		return bad("could be one part in so many or one part with so many")
	}
	m := typedDilution.FindStringSubmatch(text)
	if m == nil {
		return bad("cannot be read")
	}
	var v [3]float64
	for i := range v {
		v[i], _ = strconv.ParseFloat(m[i+1], 64)
	}
	d := Dilution{Sample: v[0], Water: v[1], Error: v[2] / 100}
	switch {
	case !(d.Sample > 0 && d.Water > 0):
		return bad("has a part of 0")
	case !(d.Times().Of(1) <= maxDilution):
		return bad("is over " + strconv.Itoa(maxDilution) + " times")
	case d.Error >= 0.5:
		return bad("is measured too badly to use")
	}
	return d, nil
}

// Times is what a diluted reading is multiplied with.
func (d Dilution) Times() Ratio { return Ratio{d.Sample + d.Water, d.Sample} }

// Factor is what a diluted reading is multiplied with: 2 for 1+1.
func (d Dilution) Factor() float64 { return d.Times().Of(1) }

// String prints the dilution as it is typed.
func (d Dilution) String() string {
	text := strict.Figure(d.Sample) + "+" + strict.Figure(d.Water)
	if d.Error > 0 {
		text += ", " + strconv.FormatFloat(100*d.Error, 'g', 3, 64) + " %"
	}
	return text
}
