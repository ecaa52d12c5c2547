package charts

import (
	"fmt"
	"time"

	"padband/charts/strict"
)

// ParseExpiry returns the last day, at 00:00 UTC, on which a kit may be used:
// of "2027-05" the month's last day, of "2027-05-31" that day. The kit is good
// to the end of that day.
func ParseExpiry(text string) (time.Time, error) {
	if day, err := time.Parse(time.DateOnly, text); err == nil {
		return day, nil
	}
	month, err := time.Parse("2006-01", text)
	if err != nil {
		return time.Time{}, fmt.Errorf("%s is no month such as 2027-05 and no day such as 2027-05-31", strict.Quote(text))
	}
	return month.AddDate(0, 1, -1), nil
}

// readExpiry returns a field that ParseExpiry reads, "" when absent or empty.
func readExpiry(f strict.Fields, name string) string {
	text := f.Label(name)
	if text == "" {
		return ""
	}
	if _, err := ParseExpiry(text); err != nil {
		f.Fail(f.By[name].Path(), "write the month or the day", "%v", err)
	}
	return text
}
