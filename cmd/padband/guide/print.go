package guide

import (
	"strings"

	"padband/cmd/padband/internal/lines"
)

// title is a page's heading.
func title(markdown string) string {
	first, _, _ := strings.Cut(markdown, "\n")
	return strings.TrimPrefix(first, "# ")
}

// printed is a page as a terminal shows it: headings of sections in capitals,
// blocks of code two columns further in, a console as it is.
func printed(markdown string) string {
	var b strings.Builder
	fence, inside := "", false
	for line := range strings.Lines(markdown) {
		line = strings.TrimSuffix(line, "\n")
		kind, isFence := strings.CutPrefix(line, "```")
		switch {
		case isFence:
			fence, inside = kind, !inside
		case !inside:
			b.WriteString(prose(line) + "\n")
		case fence == "console":
			console(&b, line)
		default:
			b.WriteString(strings.TrimRight("  "+line, " ") + "\n")
		}
	}
	return b.String()
}

// prose is one line outside of the blocks of code, without the marks of code.
func prose(line string) string {
	if section, ok := strings.CutPrefix(line, "## "); ok {
		return strings.ToUpper(section)
	}
	return strings.ReplaceAll(strings.TrimPrefix(line, "# "), "`", "")
}

// console writes a line of a session; one that is too long goes on in the next.
func console(b *strings.Builder, line string) {
	if len([]rune(line)) > lines.Width {
		lines.Wrap(b, "", "  ", line)
		return
	}
	b.WriteString(line + "\n")
}
