package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"padband/charts"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/usage"
)

// shells are those that completions are made for.
var shells = []string{"bash", "zsh", "fish"}

// completionHelp says where a script belongs.
const completionHelp = `
Prints a script that makes the shell complete commands, flags, topics and file
names. A release has the three in its folder completions.

  bash  put into ~/.bashrc:  source <(padband completion bash)
  zsh   padband completion zsh > FOLDER/_padband   (a FOLDER of $fpath)
  fish  padband completion fish > ~/.config/fish/completions/padband.fish
`

// completionFlags adds none: the shell is an argument.
func completionFlags(*pflag.FlagSet) action { return runCompletion }

// runCompletion prints the script of the shell that is named. The script is made
// from the table at each call, so that it never lags behind the program.
func runCompletion(e env, c called) int {
	makers := map[string]func(usage.Program) string{"bash": usage.Bash, "zsh": usage.Zsh, "fish": usage.Fish}
	if c.NArg() != 1 {
		return e.misuse(c, errors.New("completion takes one shell: bash, zsh or fish"))
	}
	script := makers[c.Arg(0)]
	if script == nil {
		hint := "it is bash, zsh or fish"
		if near := usage.Near(c.Arg(0), shells); len(near) > 0 {
			hint = didYouMean(near)
		}
		return e.misuse(c, fmt.Errorf("there is no completion for %q; %s", c.Arg(0), hint))
	}
	_, _ = io.WriteString(e.out, script(described())) // a failure is kept and told at the end of run
	return exitOK
}

// described is the table of commands as completions and the manual page take it:
// plain values, so that the package that writes them knows nothing of what the
// commands do.
func described() usage.Program {
	p := usage.Program{Name: "padband", Version: version, Short: "read a water-test strip from a phone photo"}
	p.Flags = []usage.Flag{{Name: "help", Text: "list the commands and topics"}, {Name: "version", Text: "print the version"}}
	p.About = []string{
		aboutProgram,
		"padband alone is padband mark: it opens the marking page in the browser. It needs no network, and without --share it " +
			"serves this machine alone.",
		aboutStrips,
	}
	p.Codes = []usage.Topic{
		{Name: "0", Title: "Done. A reading graded \"Do not use this reading\" is printed and is done too."},
		{Name: "1", Title: "Bad input: one line on standard error says what is wrong, where, and what to do."},
		{Name: "2", Title: "A wrong command or flag."},
		{Name: "3", Title: "A reading is graded \"Do not use this reading\" (unreliable), and --strict was given."},
	}
	p.Examples = []usage.Topic{
		{Name: "padband", Title: "Mark a photo in the browser and see the reading grow."},
		{Name: "padband read kitchen.jpg --limit us-epa", Title: "Read a marked photo and set it against the limits of a set."},
		{Name: "padband read - --marks kitchen.marks.json < kitchen.jpg", Title: "Read a photo that comes from standard input."},
		{Name: "padband keep kitchen.jpg --into records/2026", Title: "Keep the reading as a record, in a folder that is made."},
		{Name: "padband verify records/2026/2026-11-14-kitchen-tap-54ed5e82", Title: "Check that nothing of a record was changed."},
	}
	for _, t := range topics() {
		p.Topics = append(p.Topics, usage.Topic{Name: t.Name, Title: t.Title})
	}
	for _, c := range commands() {
		d := usage.Command{Name: c.name, Short: c.short, Use: c.use, More: c.more, Codes: c.codes, First: c.first, Rest: c.rest}
		if c.name == "help" { // not in the table, which it would read
			d.First.Words = append(commandWords(), topicWords()...)
		}
		f, _ := c.flagSet()
		f.VisitAll(func(f *pflag.Flag) { d.Flags = append(d.Flags, describedFlag(f)) })
		p.Commands = append(p.Commands, d)
	}
	return p
}

// describedFlag is a flag as it stands in help: the word in backquotes of its text
// is what its value is called.
func describedFlag(f *pflag.Flag) usage.Flag {
	takes, text := pflag.UnquoteUsage(f)
	if f.NoOptDefVal != "" { // it is on when it stands there
		takes = ""
	}
	if takes == "" {
		return usage.Flag{Name: f.Name, Letter: f.Shorthand, Text: text}
	}
	many := strings.HasSuffix(f.Value.Type(), "Array") || strings.HasSuffix(f.Value.Type(), "Slice")
	return usage.Flag{Name: f.Name, Letter: f.Shorthand, Takes: takes, Text: text, Many: many, Values: flagValues()[f.Name]}
}

// What may be typed in a place, by the ends of the names of files. They are what
// the shell offers and no rule: a photo with another ending is read as well, for
// its kind shows in its bytes.
var (
	photoFile   = usage.Values{Endings: []string{".jpg", ".jpeg", ".heic", ".heif", ".png", ".webp", ".tif", ".tiff"}}
	marksFile   = usage.Values{Endings: []string{input.MarksEnding}}
	plotFile    = usage.Values{Endings: []string{".svg", ".png"}}
	pageFile    = usage.Values{Endings: []string{".html"}}
	recordPlace = usage.Values{Endings: []string{".zip"}, Folders: true}
	comparable  = usage.Values{Endings: []string{".csv", ".zip", input.ReadingEnding}}
	folderOnly  = usage.Values{Folders: true}
	anyFile     = usage.Values{Files: true}
)

// anyOf are the only values that a place takes.
func anyOf(w ...string) usage.Values { return usage.Values{Words: w} }

// saidWords are the words of one kind that a person can say.
func saidWords[T ~string](all []T) (v usage.Values) {
	for _, w := range all {
		v.Words = append(v.Words, string(w))
	}
	return v
}

// chartValues are the bundled charts and the files of others.
func chartValues() usage.Values {
	v := usage.Values{Endings: []string{input.ChartEnding}}
	for _, c := range charts.Bundled() {
		v.Words = append(v.Words, c.Name)
	}
	return v
}

// limitValues are the sets of limits and the files of others.
func limitValues() usage.Values {
	return usage.Values{Words: limitSetNames(), Endings: []string{".json"}}
}

// flagValues are the values of flags by the flags' names, which mean the same in
// each command. What is not here is text of one's own.
func flagValues() map[string]usage.Values {
	return map[string]usage.Values{
		"marks": marksFile, "chart": chartValues(), "limit": limitValues(),
		"into": folderOnly, "figures": folderOnly,
		"out": anyFile, "attach": anyFile, "sign": anyFile, "signers": anyFile,
		"html": pageFile, "plot": plotFile,
		"undiluted": photoFile, "standard-photo": photoFile,
		"light": saidWords(charts.Lamps()), "water": saidWords(charts.Waters()),
		"strips": anyOf("one", "two"), "reliability": anyOf("good", "caution", "unreliable"),
	}
}
