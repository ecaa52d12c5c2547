package lines

import (
	"fmt"
	"strings"
	"unicode"
)

// OneLine is a text on one line, without what would steer a terminal.
func OneLine(s string) string { return strings.Join(strings.Fields(printable(s)), " ") }

// Blanked is a text on one line: whatever is not printed, a line's end and what
// would steer a terminal among it, becomes a space.
func Blanked(s string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "?")))
}

// EachOneLine puts each of several texts on one line.
func EachOneLine(in []string) (out []string) {
	for _, s := range in {
		out = append(out, OneLine(s))
	}
	return out
}

// printable replaces characters that steer a terminal, which a file's name may hold.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		if !unicode.IsPrint(r) {
			return unicode.ReplacementChar
		}
		return r
	}, s)
}

// Clause is a sentence on one line as a part of another: without its stop.
func Clause(s string) string { return strings.TrimSuffix(OneLine(s), ".") }

// UpperFirst begins a text with a capital letter; "pH" stays.
func UpperFirst(s string) string {
	if s == "" || strings.HasPrefix(s, "pH") {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// LowerFirst begins a text with a small letter.
func LowerFirst(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToLower(string(r[:1])) + string(r[1:])
}

// List joins names: "a", "a and b", "a, b and c".
func List(names []string) string {
	last := len(names) - 1
	if last < 1 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// Count is a number of things by their name: "1 day", "2 days".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// WithUnit is an analyte's name and its unit: "nitrate, mg/L as N", "pH".
func WithUnit(name, unit string) string {
	if unit == "" || unit == name {
		return name
	}
	return name + ", " + unit
}

// Set is a text on one line as a page sets it: a figure and its per cent sign
// stay together.
func Set(s string) string { return strings.ReplaceAll(OneLine(s), " %", "\u00a0%") }
