package history

import (
	"slices"
	"strings"

	"padband/calib"
	"padband/calib/reading"
	"padband/charts/units"
	"padband/cmd/padband/internal/record"
)

// Search is what is looked for in records.
type Search struct {
	Choice
	Over, Under *units.Quantity // nil when not asked for
	Reliability []string        // nil for all
}

// Found is one reading found.
type Found struct {
	record.Summary
	reading.Reading
	Words  string    // "over", "may be under" ...; empty when no amount was given
	limits []float64 // the amounts asked for, in the reading's unit
}

// In returns what is found in one record, and counts it.
func (s Search) In(r record.Summary, t *Tally) (out []Found) {
	chosen, undated := s.record(r)
	if undated {
		t.Undated++
	}
	for _, a := range r.Readings {
		t.analytes.saw(a.Analyte)
		if !chosen || !s.reading(a) || s.Reliability != nil && !slices.Contains(s.Reliability, string(a.Reliability)) {
			continue
		}
		c, found := s.compare(a, t)
		if !found {
			continue
		}
		t.Found++
		if !c.sure {
			t.may++
		}
		out = append(out, Found{r.For(a), a, c.words(), c.limits})
	}
	return out
}

// comparison is how a reading stands to the amounts asked for.
type comparison struct {
	sure   bool      // its value is beyond all of them; else its water band may be
	sides  []string  // "over", "under"
	limits []float64 // the amounts in the reading's unit
}

// words are those of the comparison; none when no amount was given.
func (c comparison) words() string {
	text := strings.Join(c.sides, " and ")
	if !c.sure {
		text = "may be " + text
	}
	return text
}

// compare says how a reading stands to the amounts asked for, all of them.
func (s Search) compare(r reading.Reading, t *Tally) (c comparison, found bool) {
	c.sure = true
	if s.Over == nil && s.Under == nil {
		return c, true
	}
	if r.Presence.Given {
		t.presence++
		return c, false
	}
	for _, side := range []struct {
		word   string
		amount *units.Quantity
		sign   float64
	}{{"over", s.Over, 1}, {"under", s.Under, -1}} {
		if side.amount == nil {
			continue
		}
		limit, ok := amountIn(*side.amount, r)
		if !ok {
			t.unit(unitOf(r))
			return c, false
		}
		is, may := beyond(r, limit, side.sign)
		if !may {
			return c, false
		}
		c.sure = c.sure && is
		c.limits = append(c.limits, limit)
		c.sides = append(c.sides, side.word)
	}
	return c, true
}

// beyond is whether a reading's value is over a limit (sign 1) or under it (-1),
// and whether its water band reaches there. A value past an end of the chart is
// only known to be at that end or beyond; under takes the whole water band,
// for "over" warns and "under" clears: "at least 25" is over 10, may be over
// 25 and may be over 30; "at most 1" is never over, whatever it may be.
func beyond(r reading.Reading, limit, sign float64) (is, may bool) {
	low, high := r.WaterBand.Ends()
	value, far, away := float64(r.Value), high, calib.Below // away is the range that lies the other way
	if sign < 0 {
		value, far, away = -value, -low, calib.Above
	}
	limit *= sign
	is = value > limit && r.Range != away // false for a missing value
	if sign < 0 {
		// Water is said to be under a limit only when all of its band is, and never
		// by a reading that is not to be relied on.
		is = is && -high > limit && r.Reliability != calib.Unreliable
	}
	return is, is || far > limit || value > limit
}
