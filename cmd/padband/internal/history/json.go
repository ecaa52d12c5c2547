package history

import (
	"encoding/json"
	"math"

	"padband/calib/reading"
)

// foundLine is a reading found, as a line of JSON holds it. What a record does not say
// is an empty text there, and a figure that is missing is null.
type foundLine struct {
	Path        string        `json:"path"`
	Taken       string        `json:"taken"`
	Place       string        `json:"place"`
	Point       string        `json:"point"`
	Tester      string        `json:"tester"`
	Lot         string        `json:"lot"`
	Expires     string        `json:"expires"`
	Chart       reading.Chart `json:"chart"`
	Analyte     string        `json:"analyte"`
	Unit        string        `json:"unit"`
	As          string        `json:"as,omitempty"`
	Value       *float64      `json:"value"`
	Band        ends          `json:"band"`
	WaterBand   ends          `json:"water_band"`
	Range       string        `json:"range"`
	Reliability string        `json:"reliability"`
	Warnings    []string      `json:"warnings"`
	Found       string        `json:"found,omitempty"`
}

// ends are a band's; a null end is open.
type ends struct {
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
}

// endsOf are the ends of a reading's band.
func endsOf(b *reading.Band) ends {
	low, high := b.Ends()
	return ends{finite(low), finite(high)}
}

// codes are those of the reading's warnings.
func (h Found) codes() []string {
	out := []string{}
	for _, w := range h.Warnings {
		out = append(out, string(w.Code))
	}
	return out
}

// JSON is the reading found as one line of JSON, without its end.
func (h Found) JSON() string {
	b, err := json.Marshal(foundLine{h.Path, h.Taken, h.Place, h.Point, h.Tester, h.Lot, h.Expires, h.Chart, h.Analyte, h.Unit, h.As,
		finite(float64(h.Value)), endsOf(h.Band), endsOf(h.WaterBand), string(h.Range), string(h.Reliability), h.codes(), h.Words})
	if err != nil { // it holds strings and finite numbers alone
		return "null"
	}
	return string(b)
}

// finite is a number for JSON: nil when it is missing or open.
func finite(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}
