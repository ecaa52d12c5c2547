package figures

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"padband/charts/strict"
)

// items reads the items of one meaning.
func (w way) items(isUnit func(string) bool) (out []Item, err error) {
	for _, text := range w {
		i, err := item(text, isUnit)
		if err != nil {
			return nil, err
		}
		out = append(out, i)
	}
	if len(out) < 2 {
		return nil, few()
	}
	return out, nil
}

const number = `([-+]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+))`

var (
	valueFirst = regexp.MustCompile(`^` + number + `(\s*)(.*)$`)
	bracketed  = regexp.MustCompile(`^\([^()]*\)$`)
	fraction   = regexp.MustCompile(`^([0-9]+)\s*[/⁄]\s*([0-9]+)$`)
	ranged     = regexp.MustCompile(`^[0-9.,]+\s*(?:-|–|—|to|\.\.+|…)\s*[0-9.,]+$`)
	bound      = regexp.MustCompile(`(?i)^(?:[<>≤≥].*|(?:over|under|below|above|at least|at most|less|more)\b.*|[0-9.,]+\s*\+)$`)
	wordFirst  = regexp.MustCompile(`^[^0-9]+$`)
)

// item reads one value with what stands beside it.
func item(text string, isUnit func(string) bool) (Item, error) {
	if f := noValue(text, isUnit); f != nil {
		return Item{}, f
	}
	m := valueFirst.FindStringSubmatch(text)
	if m == nil {
		return Item{}, refuse("%s is no number; type the printed values with a comma between them, such as 0, 1, 3, 7, 12", text)
	}
	i := Item{Value: decimal(m[1]), digits: strings.Trim(strings.Replace(m[1], ",", ".", 1), "+")}
	if !(math.Abs(i.Value) <= strict.MaxNumber) {
		return Item{}, refuse("%s is beyond "+strict.Figure(strict.MaxNumber)+"; type the printed value", text)
	}
	switch rest := m[3]; {
	case rest == "":
	case isUnit(rest):
		i.Text, i.Unit = text, rest
	case bracketed.MatchString(rest):
		i.Text, i.words = text, rest
	case strings.Count(rest, "(") != strings.Count(rest, ")"):
		return Item{}, refuse("%s has a bracket that is not closed, or not opened", text)
	case strings.ContainsAny(rest[:1], ".,"):
		return Item{}, refuse("%s has several points or commas; put a ; between the values", text)
	case strings.ContainsAny(withoutBrackets(rest), "0123456789"):
		return Item{}, refuse("%s holds several numbers; part values by commas, and put what else is printed in brackets, such as 7 (6-9)", text)
	case m[2] == "":
		return Item{}, refuse("%s has something glued to its number; leave it out, or put it in brackets, such as 7 (6-9)", text)
	case strings.Contains(rest, "("):
		i.Text, i.words = text, rest
	default:
		i.Text, i.words = text, "("+rest+")"
	}
	return i, nil
}

// noValue says what is wrong with what often stands in a list and is no value.
func noValue(text string, isUnit func(string) bool) *Fault {
	if m := fraction.FindStringSubmatch(text); m != nil {
		over, _ := strconv.ParseFloat(m[1], 64)
		under, _ := strconv.ParseFloat(m[2], 64)
		if under == 0 {
			return refuse("%s is no number; type the printed value", text)
		}
		return refuse("%s is a fraction; type it with a point, such as "+strict.Figure(over/under), text)
	}
	switch {
	case strings.ContainsAny(text, "½¼¾"):
		return refuse("%s is a fraction; type it with a point, such as 0.5", text)
	case ranged.MatchString(text):
		return refuse("%s is a range; type the one value that the patch stands for, and the range in brackets, such as 7 (6-9)", text)
	case bound.MatchString(text):
		return refuse("%s is a bound; type the one value that the patch stands for, and the bound in brackets, such as 50 (>50)", text)
	case isUnit(text):
		return refuse("%s is a unit; take it out of the list, for it has a field of its own", text)
	case wordFirst.MatchString(text):
		return refuse("%s is a word; type the number that the patch stands for, and the word in brackets, such as 0 (negative)", text)
	}
	return nil
}

func refuse(what, text string) *Fault {
	return &Fault{What: fmt.Sprintf(what, strict.Quote(text))}
}
