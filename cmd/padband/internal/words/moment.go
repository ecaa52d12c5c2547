package words

import (
	"strings"
	"time"

	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// Moment writes a time of the file format for people: date, clock, and the
// offset from UTC when it is known.
func Moment(taken string) string {
	const clock = len("2006-01-02T15:04:05")
	if len(taken) < clock {
		return taken
	}
	return strings.TrimSpace(strings.Replace(taken[:clock], "T", " ", 1) + " " + strings.Replace(taken[clock:], "Z", "UTC", 1))
}

// PhotoMoments says when to take the photos of a chart's pads.
func PhotoMoments(c charts.Chart) []string {
	out := []string{}
	moments, _ := c.Moments()
	for _, m := range moments {
		out = append(out, PhotoMoment(m))
	}
	return out
}

// PhotoMoment says when to take the photo of some pads.
func PhotoMoment(m charts.Moment) string {
	when := lines.Plain(m.From) + " to " + lines.Plain(m.To) + " s after the dip"
	if m.From == m.To {
		when = lines.Plain(m.From) + " s after the dip"
	}
	return "Take a photo " + when + ", for " + lines.List(lines.EachOneLine(m.Analytes))
}

// DueMoment says by the clock when to take the photo of some pads of a strip that was
// dipped at that time.
func DueMoment(m charts.Moment, dipped time.Time) string {
	at := func(seconds float64) string {
		return dipped.Add(time.Duration(seconds * float64(time.Second))).Format(time.TimeOnly)
	}
	when := "from " + at(m.From) + " to " + at(m.To)
	if m.From == m.To {
		when = "at " + at(m.From)
	}
	return "Take a photo " + when + ", for " + lines.List(lines.EachOneLine(m.Analytes))
}
