package figures

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"padband/charts/strict"
)

// Item is one value of a list.
type Item struct {
	Value float64
	Text  string // the item as it was typed, where more than the number stands there: "7 (6-9)"
	Unit  string // a unit typed behind the number

	digits string // of the number, with a point before its decimals
	words  string // in brackets
}

// Shown prints the value with the words that stand beside it: "7 (6-9)".
func (i Item) Shown() string { return beside(strict.Figure(i.Value), i.words) }

func beside(number, words string) string {
	if words == "" {
		return number
	}
	return number + " " + words
}

// Values reads a list of values: "0, 1, 3, 7 (6-9)", "0; 0,5; 1", "0 0,5 1". A comma
// between two digits is read as what makes the list rise or fall; where several
// meanings do, or none, the [*Fault] asks. isUnit says whether words behind a number
// are a unit.
func Values(text string, isUnit func(string) bool) ([]Item, error) {
	if strings.TrimSpace(text) == "" {
		return nil, few()
	}
	var good, loose [][]Item
	var first error
	ways, asked := meanings(text)
	for _, way := range ways {
		items, err := way.items(isUnit)
		switch {
		case err != nil:
			first = cmp.Or(first, err)
		case ordered(items):
			good = apart(good, items)
		default:
			loose = append(loose, items)
		}
	}
	switch {
	case len(good) == 1 && !asked:
		return good[0], nil
	case len(good) > 0:
		return nil, several(append(good, inOrder(loose)...))
	case len(loose) > 0:
		return nil, disorder(loose[0])
	}
	return nil, first
}

func few() *Fault {
	return &Fault{What: "type the values printed beside the swatches, two or more, such as 0, 1, 3, 7, 12"}
}

// apart adds a list unless its values are there already.
func apart(lists [][]Item, items []Item) [][]Item {
	for _, other := range lists {
		if slices.EqualFunc(other, items, func(a, b Item) bool { return a.Value == b.Value }) {
			return lists
		}
	}
	return append(lists, items)
}

// ordered reports whether the values rise or fall from one to the next.
func ordered(items []Item) bool {
	rises, falls := true, true
	for i := range items[1:] {
		a, b := items[i].Value, items[i+1].Value
		rises, falls = rises && a < b && !same(a, b), falls && a > b && !same(a, b)
	}
	return rises || falls
}

// same reports whether two values are one swatch: equal to within a billionth.
func same(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b)) }

// several asks which of some lists is meant.
func several(lists [][]Item) *Fault {
	f := &Fault{What: "a comma here may part two values or stand before decimals; choose what is meant, or put a ; between the values"}
	for _, l := range lists {
		f.Answers = append(f.Answers, answer(l))
	}
	return f
}

// disorder asks about values that neither rise nor fall.
func disorder(items []Item) *Fault {
	for i, a := range items {
		for _, b := range items[:i] {
			if same(a.Value, b.Value) {
				return &Fault{What: fmt.Sprintf("%s stands there twice in %s; mend one, or take it out", strict.Figure(a.Value), Row(items))}
			}
		}
	}
	f := &Fault{What: "these values neither rise nor fall: " + Row(items) + "; mend the one that is out of place, or take them in order"}
	for _, sorted := range inOrder([][]Item{items}) {
		f.Answers = append(f.Answers, answer(sorted))
	}
	return f
}

// inOrder are the lists sorted, without those that have a value twice.
func inOrder(lists [][]Item) (out [][]Item) {
	for _, items := range lists {
		sorted := slices.Clone(items)
		sort.Slice(sorted, func(i, j int) bool { return sorted[i].Value < sorted[j].Value })
		if ordered(sorted) {
			out = apart(out, sorted)
		}
	}
	return out
}

func answer(items []Item) Answer {
	var texts []string
	for _, i := range items {
		texts = append(texts, beside(i.digits, cmp.Or(i.words, i.Unit)))
	}
	return Answer{Says: fmt.Sprintf("%d values: %s", len(items), Row(items)), Text: strings.Join(texts, "; ")}
}

// Row prints the values as a row: "0 | 0.5 | 7 (6-9)".
func Row(items []Item) string {
	var all []string
	for _, i := range items {
		all = append(all, i.Shown())
	}
	return strings.Join(all, " | ")
}
