package blind

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"padband/charts"
)

// call is a reader's call as the page sends it.
type call struct {
	Kind  string   `json:"kind"`
	Value *float64 `json:"value"` // the swatch, or the lower of two
	Text  string   `json:"text"`  // the number as typed, or the reason
}

// plainFigure writes a value as charts print it.
func plainFigure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// longestReason caps a reason, in bytes.
const longestReason = 150

// errOddCall is the error of a call that the page's own form does not make.
var errOddCall = errors.New("this pad takes no such call; reload the page")

// take turns a call into what the file of calls holds: a number, two numbers with a
// dash between, or one with < or > before it; or no value, and the reason why.
func (c call) take(a charts.Analyte) (value, why string, err error) {
	scale, last := a.Kind != charts.KindPresence, len(a.Swatches)-1
	switch {
	case c.Kind == "none":
		why, err = c.reason()
		return "", why, err
	case c.Kind == "number" && scale:
		value, err = typedNumber(c.Text, a)
		return value, "", err
	case c.Kind == "below" && scale && a.Swatches[0].Value > 0:
		return "<" + plainFigure(a.Swatches[0].Value), "", nil
	case c.Kind == "above" && scale:
		return ">" + plainFigure(a.Swatches[last].Value), "", nil
	}
	i := -1
	if c.Value != nil {
		i = slices.IndexFunc(a.Swatches, func(s charts.Swatch) bool { return s.Value == *c.Value })
	}
	switch {
	case c.Kind == "swatch" && i >= 0:
		return plainFigure(a.Swatches[i].Value), "", nil
	case c.Kind == "between" && scale && i >= 0 && i < last:
		return plainFigure(a.Swatches[i].Value) + "-" + plainFigure(a.Swatches[i+1].Value), "", nil
	}
	return "", "", errOddCall
}

// reason is the reason why a pad cannot be called.
func (c call) reason() (string, error) {
	why := oneLine(c.Text)
	switch {
	case why == "":
		return "", errors.New("say why it cannot be called")
	case len(why) > longestReason:
		return "", fmt.Errorf("the reason is over %d bytes; shorten it", longestReason)
	}
	return why, nil
}

// plainNumber is a number as people type it, with a point or a comma.
var plainNumber = regexp.MustCompile(`^[0-9]{1,9}([.,][0-9]{0,9})?$`)

// typedNumber reads a number in the chart's unit; a comma may stand for the point. A
// chart says nothing beyond its ends.
func typedNumber(text string, a charts.Analyte) (string, error) {
	text = strings.TrimSpace(text)
	if !plainNumber.MatchString(text) {
		return "", errors.New("type a number in digits, such as 6.5")
	}
	if whole, part, comma := strings.Cut(text, ","); comma && len(part) == 3 && whole != "0" {
		return "", fmt.Errorf("%s may mean thousands or decimals; write it with a point or without the comma", text)
	}
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil {
		return "", errors.New("type a number in digits, such as 6.5")
	}
	low, high := a.Swatches[0].Value, a.Swatches[len(a.Swatches)-1].Value
	if !(v >= low && v <= high) {
		return "", fmt.Errorf("%s is beyond the chart, which goes from %s to %s; call it below or above",
			plainFigure(v), plainFigure(low), plainFigure(high))
	}
	return plainFigure(v), nil
}

// besideSwatch is the text that the chart has printed beside a swatch.
func besideSwatch(s charts.Swatch, a charts.Analyte) string {
	label, value := oneLine(s.Label), plainFigure(s.Value)
	rest, begins := strings.CutPrefix(label, value)
	switch {
	case label == "":
		return value
	case a.Kind == charts.KindPresence, begins && !strings.ContainsAny(rest[:min(1, len(rest))], "0123456789.,"):
		return label
	}
	return value + ", " + label
}
