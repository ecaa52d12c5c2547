package report

import (
	"strings"
	"unicode"
)

// width is the terminal's columns that the text keeps to.
const width = 80

// line writes a paragraph with every line indented.
func line(b *strings.Builder, indent, s string) { wrap(b, indent, indent, s) }

// wrap breaks a paragraph at words, and a word that is longer than a line
// anywhere, to keep to the width.
func wrap(b *strings.Builder, first, rest, s string) {
	used, begun := len([]rune(first)), false
	b.WriteString(first)
	for _, w := range words(s, width-max(used, len([]rune(rest)))) {
		n := len([]rune(w))
		switch {
		case !begun:
		case used+1+n > width:
			b.WriteString("\n" + rest)
			used = len([]rune(rest))
		default:
			b.WriteString(" ")
			used++
		}
		b.WriteString(w)
		used, begun = used+n, true
	}
	b.WriteString("\n")
}

// words are a text's words, cut to at most room characters.
func words(s string, room int) (out []string) {
	for _, w := range strings.Fields(printable(s)) {
		r := []rune(w)
		for ; len(r) > room; r = r[room:] {
			out = append(out, string(r[:room]))
		}
		out = append(out, string(r))
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

func upperFirst(s string) string {
	if s == "" || strings.HasPrefix(s, "pH") {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}
