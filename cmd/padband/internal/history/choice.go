package history

import (
	"strings"

	"padband/calib/reading"
	"padband/cmd/padband/internal/record"
)

// Choice chooses records and analytes; what is empty chooses all.
type Choice struct {
	Analyte, Place, Point, Lot string // place and point by a part of their names
	From, Until                string // days such as 2026-11-14, both of them chosen
}

// record is whether a record is chosen. dated is whether a day was asked for
// that the record does not know.
func (c Choice) record(s record.Summary) (chosen, undated bool) {
	if !holds(s.Place, c.Place) || !holds(s.Point, c.Point) || c.Lot != "" && !strings.EqualFold(s.Lot, strings.TrimSpace(c.Lot)) {
		return false, false
	}
	if c.From == "" && c.Until == "" {
		return true, false
	}
	t, _, ok := record.ParseTime(s.Taken)
	if !ok {
		return false, true
	}
	day := t.Format("2006-01-02")
	return day >= c.From && (c.Until == "" || day <= c.Until), false
}

// reading is whether a reading is of the analyte chosen, or all are chosen.
func (c Choice) reading(r reading.Reading) bool {
	return c.Analyte == "" || strings.EqualFold(r.Analyte, strings.TrimSpace(c.Analyte))
}

// holds is whether text holds a part, in any case; an empty part is in all.
func holds(text, part string) bool {
	return strings.Contains(strings.ToLower(text), strings.ToLower(strings.TrimSpace(part)))
}
