package figures

import (
	"regexp"
	"slices"
	"strings"
)

// way is one meaning of a typed list: the texts of its items.
type way []string

// mostGuessed caps the list whose commas are tried in every way.
const mostGuessed = 20

// meanings lists what a typed list may mean, one for each thing that its commas
// between digits may be. asked is true where none may be taken without asking.
func meanings(text string) (ways []way, asked bool) {
	text = strings.ReplaceAll(text, "\u00a0", " ")
	if parts := splitAt(text, ";|\n"); len(parts) > 1 {
		return commas(parts), false
	}
	parts := splitLoose(text)
	if len(parts) > 1 {
		return append(commas(parts), tight(parts)), false
	}
	if len(parts) == 1 {
		parts = words(parts[0])
	}
	if len(parts) != 1 || !strings.Contains(withoutBrackets(parts[0]), ",") {
		return append(commas(parts), tight(parts)), false
	}
	return alone(parts[0])
}

// alone are the meanings of a list whose only separators are commas between digits.
func alone(text string) (ways []way, asked bool) {
	list := tight(way{text})
	if strings.Contains(text, ".") {
		return []way{list}, false // the decimals have a point
	}
	rises := func(w way) bool {
		items, err := w.items(func(string) bool { return false })
		return err == nil && ordered(items)
	}
	switch {
	case len(list) > mostGuessed, len(list) > 3 && rises(list):
		return []way{list}, false
	case len(list) == 3:
		return []way{list, {list[0] + "," + list[1], list[2]}}, !rises(list)
	case len(list) < 3:
		return []way{list}, false
	}
	guesses := slices.DeleteFunc(paired(list), func(w way) bool { return !rises(w) })
	slices.SortStableFunc(guesses, func(a, b way) int { return len(b) - len(a) })
	return append([]way{list}, guesses[:min(len(guesses), 3)]...), len(guesses) > 0
}

// paired are all the ways to read some neighbours of a list as a number and its decimals.
func paired(list way) (out []way) {
	if len(list) == 0 {
		return []way{nil}
	}
	for _, rest := range paired(list[1:]) {
		out = append(out, append(way{list[0]}, rest...))
	}
	if len(list) > 1 && onePlain.MatchString(list[0]+","+list[1]) {
		for _, rest := range paired(list[2:]) {
			out = append(out, append(way{list[0] + "," + list[1]}, rest...))
		}
	}
	return out
}

// commas reads the commas inside the items as standing before decimals and, where
// they may, between thousands.
func commas(parts way) []way {
	plain := make(way, len(parts))
	any := false
	for i, p := range parts {
		number, rest, _ := strings.Cut(p, " ")
		plain[i] = p
		if thousand.MatchString(number) {
			any = true
			plain[i] = strings.TrimSpace(strings.ReplaceAll(number, ",", "") + " " + rest)
		}
	}
	if any {
		return []way{parts, plain}
	}
	return []way{parts}
}

// tight splits the items at their commas too.
func tight(parts way) (out way) {
	for _, p := range parts {
		out = append(out, splitAt(p, ",")...)
	}
	return out
}

// splitAt splits a text at some signs, but not inside brackets.
func splitAt(text, signs string) way {
	return split(text, func(at int) bool { return strings.IndexByte(signs, text[at]) >= 0 })
}

// splitLoose splits a text at the commas that do not stand between two digits.
func splitLoose(text string) way {
	digit := func(at int) bool { return at >= 0 && at < len(text) && text[at] >= '0' && text[at] <= '9' }
	return split(text, func(at int) bool { return text[at] == ',' && !(digit(at+1) && (digit(at-1) || starts(text, at))) })
}

// starts reports whether a comma begins a number: ",5".
func starts(text string, at int) bool {
	return at == 0 || text[at-1] == ' ' && strings.TrimSpace(text[:at]) == ""
}

func split(text string, at func(int) bool) (out way) {
	depth, from := 0, 0
	add := func(to int) {
		if item := strings.TrimSpace(text[from:to]); item != "" {
			out = append(out, item)
		}
	}
	for i := range len(text) {
		switch c := text[i]; {
		case c == '(':
			depth++
		case c == ')':
			depth--
		case depth <= 0 && at(i):
			add(i)
			from = i + 1
		}
	}
	add(len(text))
	return out
}

// words splits a text at its spaces. What stands in brackets belongs to what is before
// it, and a range is one item.
func words(text string) (out way) {
	for _, w := range split(text, func(i int) bool { return text[i] == ' ' || text[i] == '\t' }) {
		switch {
		case slices.Contains([]string{"-", "–", "—", "to", "/"}, w):
			return way{text}
		case strings.HasPrefix(w, "(") && len(out) > 0:
			out[len(out)-1] += " " + w
		default:
			out = append(out, w)
		}
	}
	return out
}

var inBrackets = regexp.MustCompile(`\([^)]*\)?`)

func withoutBrackets(text string) string { return inBrackets.ReplaceAllString(text, "") }
