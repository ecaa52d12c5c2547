package limits

import (
	"strings"
	"time"

	"padband/charts"
	"padband/charts/units"
)

// Term is one analyte of a rule about a sum: its figure divided by Over.
type Term struct {
	Analyte string
	Over    float64
	Unit    units.Unit
}

// Sums returns the set's rules about several analytes together that hold on the
// day given: nitrate with nitrite.
func (s LimitSet) Sums(on time.Time) []Limit {
	var out []Limit
	for _, l := range s.Limits {
		if len(l.Sum) > 0 && l.holds(on) {
			out = append(out, l)
		}
	}
	return out
}

// SumsBy says in words how the rule adds: "nitrate / 50 mg/L as NO3 + nitrite / 3 mg/L as NO2".
func (l Limit) SumsBy() string {
	var parts []string
	for _, s := range l.Sum {
		text := s.Analyte
		if q := (units.Quantity{Value: s.Over, Unit: s.Unit}); s.Over != 1 || l.Unit.Name == "" {
			text += " / " + q.String()
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, " + ")
}

// HeldBy reports whether the analyte's pad answers to all of a sum's
// analytes, so that its reading is their sum already; known is false when the
// chart does not say what it answers to.
func (l Limit) HeldBy(a charts.Analyte) (both, known bool) {
	if len(a.RespondsTo) == 0 {
		return false, false
	}
	for _, s := range l.Sum {
		found := false
		for _, r := range a.RespondsTo {
			found = found || strings.EqualFold(r, s.Analyte)
		}
		if !found {
			return false, true
		}
	}
	return true, true
}
