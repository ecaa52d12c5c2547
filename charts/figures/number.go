// Package figures reads numbers as people type them: one number, a list of values, a
// span of time; with a point or a comma before the decimals. What could be meant in two
// ways is asked about and never guessed. Start at [Values], [Number] and [Span].
package figures

import (
	"regexp"
	"strconv"
	"strings"

	"padband/charts/strict"
)

// Fault says why a text is not taken as it stands.
type Fault struct {
	What    string   // what is wrong and what to do
	Answers []Answer // what may have been meant; empty where nothing can be offered
}

func (f *Fault) Error() string { return f.What }

// Answer is one meaning of a text that has several.
type Answer struct {
	Says string // the meaning in words, such as "0 | 0.5 | 10"
	Text string // the text that means this alone
}

var (
	onePlain = regexp.MustCompile(`^[-+]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)$`)
	thousand = regexp.MustCompile(`^[1-9][0-9]{0,2}(?:,[0-9]{3})+$`)
)

// Number reads one number. A comma before the decimals is taken, but "1,000", which may
// be one or a thousand, is asked about. The error is a [*Fault].
func Number(text string) (float64, error) {
	text = strings.TrimSpace(text)
	if thousand.MatchString(text) && strings.Count(text, ",") == 1 {
		whole := strings.ReplaceAll(text, ",", "")
		point := strict.Figure(decimal(text))
		return 0, &Fault{
			What:    strict.Quote(text) + " may be " + whole + " or " + point + "; type it without the comma",
			Answers: []Answer{{whole, whole}, {point, point}},
		}
	}
	if !onePlain.MatchString(text) {
		return 0, &Fault{What: strict.Quote(text) + " is no number; type figures, such as 0.5"}
	}
	return decimal(text), nil
}

// decimal is the value of a number that [onePlain] knows.
func decimal(text string) float64 {
	v, _ := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return v
}
