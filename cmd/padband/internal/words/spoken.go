package words

import (
	"fmt"
	"math"
	"strings"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/lines"
)

// Spoken says the readings of one photo in a sentence each, and what they mean when
// that was asked. The sentences are short enough to be heard after every change: they
// say where the value lies and, for a reading that is not to be relied on, that.
func Spoken(readings []calib.Reading, meanings []strip.Meaning) string {
	var parts []string
	for i, r := range readings {
		parts = append(parts, lines.UpperFirst(lines.OneLine(r.Analyte.Name))+": "+breath(r)+".")
		if r.Reliability != calib.Good {
			parts = append(parts, Grade(r.Reliability)+".")
		}
		if i >= len(meanings) {
			continue // nothing was asked
		}
		for _, a := range Judged(meanings[i].Judgements) {
			parts = append(parts, a.Verdict)
		}
	}
	return strings.Join(parts, " ")
}

// breath says a reading as a person would say it aloud.
func breath(r calib.Reading) string {
	d := Digits(r)
	switch {
	case r.Analyte.Kind == charts.KindPresence && math.IsNaN(r.Value):
		return "cannot tell"
	case r.Analyte.Kind == charts.KindPresence:
		return strings.TrimSuffix(lines.LowerFirst(presence(r)), ".")
	case r.Range == calib.Above:
		return lines.Plain(r.Swatches[len(r.Swatches)-1].Value) + " or more"
	case r.Range == calib.Below:
		return lines.Plain(r.Swatches[0].Value) + " or less"
	}
	return fmt.Sprintf("%s, %s", lines.Figure(r.Value, d), ReadAs(r, r.Band, d))
}
