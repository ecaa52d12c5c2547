package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"padband/calib"
	"padband/cmd/padband/guide"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/usage"
)

// exitCodes begin the last line of a command's help.
const exitCodes = "Exit codes: 0 done, 1 bad input, 2 wrong call"

// help prints all there is to say of a command.
func (c command) help(w io.Writer, f *pflag.FlagSet) {
	fmt.Fprintf(w, "%s\n\n", c.short)
	c.usage(w, f)
	fmt.Fprint(w, c.more)
	fmt.Fprintln(w, "\n"+exitCodes+c.codes+".")
}

// helpFlags adds the flag of the manual page, which holds the help of all
// commands at once.
func helpFlags(f *pflag.FlagSet) action {
	man := new(bool)
	onOff(f, man, "man", "print the manual page, which a release holds too")
	return func(e env, c called) int { return runHelp(e, c, *man) }
}

// runHelp prints the overview, a topic, the help of a command or the manual page.
func runHelp(e env, c called, man bool) int {
	word := c.Arg(0)
	switch {
	case c.NArg() > 1 || man && c.NArg() > 0:
		return e.misuse(c, errors.New("help takes one command or topic, or --man"))
	case man:
		_, _ = io.WriteString(e.out, usage.Man(described())) // a failure is told at the end of run
		return exitOK
	case c.NArg() == 0:
		overview(e.out)
		return exitOK
	}
	if topicHelp(e.out, word) {
		return exitOK
	}
	for _, o := range commands() {
		if o.name != word {
			continue
		}
		f, _ := o.flagSet()
		o.help(e.out, f)
		return exitOK
	}
	hint := "padband help lists them"
	if near := usage.Near(word, append(commandWords(), topicWords()...)); len(near) > 0 {
		hint = didYouMean(near)
	}
	e.fail(fmt.Errorf("there is no command or topic %q; %s", word, hint))
	return exitUsage
}

// usage prints how a command is called, and its flags.
func (c command) usage(w io.Writer, f *pflag.FlagSet) {
	before := "usage:"
	for _, u := range c.use {
		fmt.Fprintf(w, "%s padband %s\n", before, u)
		before = "      "
	}
	if f != nil && f.HasFlags() {
		fmt.Fprint(w, f.FlagUsagesWrapped(79))
	}
}

// What the overview and the manual page begin and end with.
const (
	aboutProgram = "padband reads a water-test strip from a phone photo of strip and chart: a value between the bracketing " +
		"swatches, what the colour and the water may be, and a warning when not to trust it."
	aboutStrips = "A strip is a screening test; what matters to health is for a certified laboratory and the local health authority."
)

// overview lists the commands.
func overview(w io.Writer) {
	fmt.Fprintln(w, wrapped(aboutProgram))
	for _, c := range commands() {
		fmt.Fprintf(w, "  padband %-12s%s\n", c.name, c.short)
	}
	fmt.Fprint(w, "\npadband alone is padband mark. padband help COMMAND shows how each is called,\npadband help TOPIC tells more:\n")
	fmt.Fprintln(w, strings.Join(topicWords(), ", "))
	fmt.Fprint(w, "\n"+wrapped(aboutStrips))
}

// wrapped is a paragraph in 80 columns.
func wrapped(text string) string {
	var b strings.Builder
	lines.Paragraph(&b, "", text)
	return b.String()
}

// codesHelp prints what each code of a warning stands for, and what to do: the
// guide's page of codes. It comes from the table that the decisions come from.
func codesHelp(w io.Writer) {
	var b strings.Builder
	lines.Paragraph(
		&b,
		"",
		"Each warning of a reading ends with a code in brackets, which --json carries too. With a warning that says so, the "+
			"strip's own error is not known, and the water is never said to be below a limit, or below one for health. Of a strip that "+
			"is known to be spoilt no percentage is given.",
	)
	for _, about := range []calib.About{
		calib.AboutLight, calib.AboutFile, calib.AboutPad, calib.AboutSwatches, calib.AboutKit, calib.AboutWater,
	} {
		b.WriteString("\n" + lines.UpperFirst(string(about)) + "\n")
		for _, c := range calib.Codes() {
			if c.About == about {
				codeHelp(&b, c)
			}
		}
	}
	io.WriteString(w, b.String())
}

// codeHelp is the entry of one code: its name, what to do, and what it keeps from
// being said.
func codeHelp(b *strings.Builder, c calib.CodeFacts) {
	text := string(c.Code) + ": " + c.Name + ". " + c.Advice
	switch {
	case c.Stops:
		text += " Until then no limit is judged."
	case c.Unlooked:
		text += " Until then never below a limit for health."
	case c.Spoils != "" && !c.Unsaid:
		text += " Never below a limit: " + c.Spoils + "."
	case c.Spoils != "":
		text += " Never below a limit for health: " + c.Spoils + "."
	}
	lines.Wrap(b, "  ", "    ", text)
}

// topics are the pages of the guide, and last the page of codes, which comes
// from the table that the program decides by.
func topics() []guide.Topic {
	var codes strings.Builder
	codesHelp(&codes)
	return append(
		guide.Topics(),
		guide.Topic{Name: "codes", Title: "The warnings' codes: what each stands for, and what to do", Text: codes.String()},
	)
}

// topicWords are the words that padband help takes besides commands.
func topicWords() (out []string) {
	for _, t := range topics() {
		out = append(out, t.Name)
	}
	return out
}

// topicHelp prints the page of that name, and says whether there is one.
func topicHelp(w io.Writer, name string) bool {
	for _, t := range topics() {
		if t.Name == name {
			io.WriteString(w, t.Text)
			return true
		}
	}
	return false
}
