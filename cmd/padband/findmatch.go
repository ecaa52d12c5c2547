package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"padband/calib"
	"padband/calib/reading"
	"padband/cmd/padband/internal/record"
)

// choice chooses records and analytes; what is empty chooses all.
type choice chosen

// record is whether a record is chosen. dated is whether a day was asked for
// that the record does not know.
func (c choice) record(s record.Summary) (chosen, undated bool) {
	if !holds(s.Place, c.place) || !holds(s.Point, c.point) || c.lot != "" && !strings.EqualFold(s.Lot, strings.TrimSpace(c.lot)) {
		return false, false
	}
	if c.from == "" && c.until == "" {
		return true, false
	}
	t, _, ok := record.ParseTime(s.Taken)
	if !ok {
		return false, true
	}
	day := t.Format("2006-01-02")
	return day >= c.from && (c.until == "" || day <= c.until), false
}

func (c choice) reading(r reading.Reading) bool {
	return c.analyte == "" || strings.EqualFold(r.Analyte, strings.TrimSpace(c.analyte))
}

// search is what find looks for.
type search struct {
	choice
	over, under *amount // nil when not asked for
	reliability []string
}

// hit is one reading found.
type hit struct {
	record.Summary
	reading.Reading
	found  string    // "over", "may be under" ...; empty when no amount was given
	limits []float64 // the amounts asked for, in the reading's unit
}

// tally counts what was found, and what could not be compared.
type tally struct {
	found, may, undated, presence int
	analytes                      []string       // seen, at most mostNamed
	units                         map[string]int // readings in units that cannot be converted, by unit
}

// mostNamed is how many names are kept to be told; a hostile folder may hold any number.
const mostNamed = 20

// in returns what is found in one record.
func (s search) in(r record.Summary, t *tally) (out []hit) {
	chosen, undated := s.record(r)
	if undated {
		t.undated++
	}
	for _, a := range r.Readings {
		t.saw(a.Analyte)
		if !chosen || !s.reading(a) || s.reliability != nil && !slices.Contains(s.reliability, string(a.Reliability)) {
			continue
		}
		c, found := s.compare(a, t)
		if !found {
			continue
		}
		t.found++
		if !c.sure {
			t.may++
		}
		out = append(out, hit{r, a, c.words(), c.limits})
	}
	return out
}

func (t *tally) saw(analyte string) {
	if len(t.analytes) < mostNamed && !slices.Contains(t.analytes, analyte) {
		t.analytes = append(t.analytes, analyte)
	}
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
func (s search) compare(r reading.Reading, t *tally) (c comparison, found bool) {
	c.sure = true
	if s.over == nil && s.under == nil {
		return c, true
	}
	if r.Presence.Given {
		t.presence++
		return c, false
	}
	for _, side := range []struct {
		word   string
		amount *amount
		sign   float64
	}{{"over", s.over, 1}, {"under", s.under, -1}} {
		if side.amount == nil {
			continue
		}
		limit, ok := side.amount.in(r)
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

func (t *tally) unit(name string) {
	if _, known := t.units[name]; !known && len(t.units) >= mostNamed {
		name = "other units"
	}
	t.units[name]++
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

// lines say what was found and what could not be looked at.
func (t tally) lines(s search, records, bad int) (out []string) {
	first := fmt.Sprintf("%s found in %s", number(t.found, "reading"), number(records, "record"))
	if t.may > 0 {
		first += fmt.Sprintf(", %d of them only %q", t.may, "may be")
	}
	if t.found > 0 {
		first += "; in brackets the water band"
	}
	out = append(out, first)
	if s.analyte != "" && !slices.ContainsFunc(t.analytes, func(a string) bool { return strings.EqualFold(a, strings.TrimSpace(s.analyte)) }) {
		out = append(out, fmt.Sprintf("no record holds %q; they hold %s", s.analyte, strings.Join(t.analytes, ", ")))
	}
	var units []string
	for u := range t.units {
		units = append(units, u)
	}
	slices.Sort(units)
	for _, u := range units {
		out = append(out, fmt.Sprintf("not compared: %s in %s, which cannot be converted", number(t.units[u], "reading"), u))
	}
	if t.presence > 0 {
		out = append(out, "not compared: "+number(t.presence, "reading")+" read as present or not")
	}
	if t.undated > 0 {
		out = append(out, "left out by --from or --until: "+number(t.undated, "record")+" without a time")
	}
	if bad > 0 {
		out = append(out, "not read: "+number(bad, "record")+", named above")
	}
	return out
}

// number is a count with what is counted: "1 record", "2 records".
func number(n int, of string) string {
	if n == 1 {
		return "1 " + of
	}
	return fmt.Sprintf("%d %ss", n, of)
}

// finite is a number for JSON: nil when it is missing or open.
func finite(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}
