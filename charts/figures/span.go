package figures

import (
	"regexp"
	"strconv"
	"strings"

	"padband/charts/strict"
)

const time = `([0-9]+:[0-5][0-9]|[0-9]+(?:[.,][0-9]+)?)\s*(s|secs?|seconds?|"|″|m|mins?|minutes?|'|′)?`

var (
	fromTo = regexp.MustCompile(`(?i)^` + time + `\s*(?:-|–|—|to|until|and)\s*` + time + `\.?$`)
	atOnce = regexp.MustCompile(`(?i)^(?:at\s+|after\s+)?` + time + `\.?$`)
)

// fewSeconds is the end of a span without a unit that is more likely meant in minutes:
// no strip is read within so many seconds of the dip only (common practice, no source).
const fewSeconds = 10

// Span reads a span of time in seconds: "45-75", "45 to 75 s", "1-2 min", "0:45-1:15".
// The error is a [*Fault].
func Span(text string) (from, to float64, err error) {
	text = strings.TrimSpace(text)
	m := fromTo.FindStringSubmatch(text)
	if m == nil {
		if atOnce.MatchString(text) {
			return 0, 0, refuse("%s is one moment; type from when to when the pad is read, such as 45-75 s or 1-2 min", text)
		}
		return 0, 0, refuse("%s is no span of time; type from when to when in seconds or minutes, such as 45-75 s or 1-2 min", text)
	}
	units := [2]string{m[2], m[4]}
	if units[0] == "" {
		units[0] = units[1]
	} else if units[1] == "" {
		units[1] = units[0]
	}
	if from, err = seconds(m[1], units[0]); err != nil {
		return 0, 0, err
	}
	if to, err = seconds(m[3], units[1]); err != nil {
		return 0, 0, err
	}
	switch {
	case !(from < to):
		return 0, 0, refuse("%s must end after it begins, such as 45-75 s", text)
	case to > 86400:
		return 0, 0, refuse("%s ends after more than a day; type from when to when, such as 45-75 s", text)
	case units[0] == "" && to < fewSeconds && !strings.Contains(text, ":"):
		return 0, 0, &Fault{
			What:    strict.Quote(text) + " may be minutes or seconds; say which",
			Answers: []Answer{{text + " minutes", text + " min"}, {text + " seconds", text + " s"}},
		}
	}
	return from, to, nil
}

// seconds reads a time in its unit, or as minutes and seconds: "1:15".
func seconds(text, unit string) (float64, error) {
	if minutes, rest, both := strings.Cut(text, ":"); both {
		m, _ := strconv.ParseFloat(minutes, 64)
		s, _ := strconv.ParseFloat(rest, 64)
		return 60*m + s, nil
	}
	v, err := Number(text)
	if err != nil {
		return 0, err
	}
	if unit != "" && strings.ContainsAny(strings.ToLower(unit[:1]), "m'") || unit == "′" {
		v *= 60
	}
	return v, nil
}
