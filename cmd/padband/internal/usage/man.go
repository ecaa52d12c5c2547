package usage

import (
	"fmt"
	"strings"
)

// Man is the manual page of a program, of section 1, for the man macros of roff.
// It bears no day, so that the same table always gives the same bytes.
func Man(p Program) string {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH %s 1 \"\" \"%s %s\" \"\"\n.nh\n.ad l\n", strings.ToUpper(p.Name), roff(p.Name), roff(p.Version))
	fmt.Fprintf(&b, ".SH NAME\n%s \\- %s\n.SH SYNOPSIS\n", roff(p.Name), roff(p.Short))
	fmt.Fprintf(&b, ".B %s\n.RI [ command ]\n.RI [ argument ...]\n.RI [ flags ]\n", roff(p.Name))
	b.WriteString(".SH DESCRIPTION\n")
	for i, text := range p.About {
		if i > 0 {
			b.WriteString(".PP\n")
		}
		b.WriteString(filled(text))
	}
	b.WriteString(".SH COMMANDS\n")
	for _, c := range p.Commands {
		manCommand(&b, p.Name, c)
	}
	manPairs(&b, "TOPICS", p.Name+" help ", p.Topics)
	b.WriteString(".SH EXIT STATUS\n")
	for _, c := range p.Codes {
		fmt.Fprintf(&b, ".TP\n.B %s\n%s", roff(c.Name), filled(c.Title))
	}
	manPairs(&b, "EXAMPLES", "", p.Examples)
	return b.String()
}

// manCommand is one command: what it does, how it is called, its flags, and what
// else is said of it.
func manCommand(b *strings.Builder, program string, c Command) {
	fmt.Fprintf(b, ".SS %s\n%s", c.Name, filled(upperFirst(c.Short)+"."))
	b.WriteString(".PP\n")
	for i, u := range c.Use {
		if i > 0 {
			b.WriteString(".br\n")
		}
		fmt.Fprintf(b, ".B %s\n", roff(program+" "+u))
	}
	for _, f := range c.Flags {
		manFlag(b, f)
	}
	manLines(b, c.More)
}

func manFlag(b *strings.Builder, f Flag) {
	name := `\fB\-\-` + roff(f.Name) + `\fR`
	if f.Letter != "" {
		name = `\fB\-` + roff(f.Letter) + `\fR, ` + name
	}
	if f.Takes != "" {
		name += ` \fI` + roff(f.Takes) + `\fR`
	}
	fmt.Fprintf(b, ".TP\n%s\n%s", name, filled(f.Text))
}

// manLines is text that is parted by empty lines; what is set in stays as it is.
func manLines(b *strings.Builder, text string) {
	if text == "" {
		return
	}
	for part := range strings.SplitSeq(strings.Trim(text, "\n"), "\n\n") {
		if strings.HasPrefix(part, " ") {
			fmt.Fprintf(b, ".PP\n.nf\n%s.fi\n", asItIs(part))
			continue
		}
		fmt.Fprintf(b, ".PP\n%s", filled(part))
	}
}

func manPairs(b *strings.Builder, heading, before string, all []Topic) {
	if len(all) == 0 {
		return
	}
	fmt.Fprintf(b, ".SH %s\n", heading)
	for _, t := range all {
		fmt.Fprintf(b, ".TP\n.B %s\n%s", roff(before+t.Name), filled(t.Title))
	}
}

// asItIs is text whose lines stay as they are.
func asItIs(text string) string {
	var b strings.Builder
	for l := range strings.SplitSeq(text, "\n") {
		b.WriteString(roff(l) + "\n")
	}
	return b.String()
}

// longest is the most letters of a line of the source, before escapes, for people who
// read the source.
const longest = 60

// filled is a paragraph whose lines are filled by the program that shows the manual
// page.
func filled(text string) string {
	var b strings.Builder
	line := ""
	for _, w := range strings.Fields(text) {
		switch {
		case line == "":
			line = w
		case len(line)+1+len(w) > longest:
			b.WriteString(roff(line) + "\n")
			line = w
		default:
			line += " " + w
		}
	}
	return b.String() + roff(line) + "\n"
}

// roff is one line of text such that nothing in it is a request or an escape.
// Quotes and hyphens are those of ASCII, for what is shown is to be typed.
func roff(line string) string {
	var b strings.Builder
	if strings.HasPrefix(line, ".") { // a quote is escaped below
		b.WriteString(`\&`)
	}
	for _, r := range line {
		switch {
		case r == '\\':
			b.WriteString(`\e`)
		case r == '-':
			b.WriteString(`\-`)
		case r == '\'':
			b.WriteString(`\(aq`)
		case r == '"':
			b.WriteString(`\(dq`)
		case r == '~':
			b.WriteString(`\(ti`)
		case r == '^':
			b.WriteString(`\(ha`)
		case r == '`':
			b.WriteString(`\(ga`)
		case r > '~':
			fmt.Fprintf(&b, `\[u%04X]`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
