// Package lines sets text in 80 columns: it wraps lines, and prints numbers, lists and
// the cells of tables. Start at [Paragraph] for text, [Figure] for numbers and [Table]
// for tables. It knows nothing of what the text is about.
package lines

import "strings"

// Width is the columns of a terminal that a text keeps to.
const Width = 80

// Paragraph writes a paragraph with every line indented.
func Paragraph(b *strings.Builder, indent, s string) { Wrap(b, indent, indent, s) }

// Wrap breaks a paragraph at words, and a word that is longer than a line
// anywhere, to keep to the width.
func Wrap(b *strings.Builder, first, rest, s string) {
	used, begun := len([]rune(first)), false
	b.WriteString(first)
	for _, w := range words(s, Width-max(used, len([]rune(rest)))) {
		n := len([]rune(w))
		switch {
		case !begun:
		case used+1+n > Width:
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
