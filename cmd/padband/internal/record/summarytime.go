package record

import (
	"strings"
	"time"
)

// clocks are the forms of a time as records hold it.
var clocks = []string{"2006-01-02T15:04:05", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02"}

// ParseTime reads a time as a record has it, with an offset from UTC or without,
// to the second, the minute or the day. Without an offset the time is given as
// if its clock were UTC's. ok is whether it is a time at all.
func ParseTime(s string) (t time.Time, offset, ok bool) {
	s = strings.TrimSpace(strings.TrimSuffix(s, "(no offset)"))
	for _, form := range clocks {
		if t, err := time.Parse(form, s); err == nil {
			return t, false, true
		}
		for _, zone := range []string{"Z07:00", " Z07:00", " -07:00"} {
			if t, err := time.Parse(form+zone, s); err == nil && len(form) > len(time.DateOnly) {
				return t, true, true
			}
		}
	}
	return time.Time{}, false, false
}
