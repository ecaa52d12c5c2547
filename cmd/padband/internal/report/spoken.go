package report

import (
	"fmt"
	"math"
	"strings"

	"padband/calib"
	"padband/charts"
)

// Spoken is the readings of one photo in a sentence each, short enough to be
// heard after every change: where the value lies and, when it is not to be
// relied on, that.
func Spoken(s Source) string {
	var parts []string
	for i, r := range s.Readings {
		text := upperFirst(oneLine(r.Analyte.Name)) + ": " + breath(r)
		if r.Reliability != calib.Good {
			text += ", " + string(r.Reliability)
		}
		parts = append(parts, text+".")
		for _, a := range judgedWords(s.meaning(i).Judgements) {
			parts = append(parts, a.Verdict)
		}
	}
	return strings.Join(parts, " ")
}

// breath is a reading as one says it.
func breath(r calib.Reading) string {
	d := digits(r)
	switch {
	case r.Analyte.Kind == charts.KindPresence && math.IsNaN(r.Value):
		return "cannot tell"
	case r.Analyte.Kind == charts.KindPresence:
		return strings.TrimSuffix(lowerFirst(presence(r)), ".")
	case r.Range == calib.Above:
		return "at least " + plain(r.Swatches[len(r.Swatches)-1].Value)
	case r.Range == calib.Below:
		return "at most " + plain(r.Swatches[0].Value)
	}
	return fmt.Sprintf("%s, %s", figure(r.Value, d), bandText("band", r, r.Band, d))
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
