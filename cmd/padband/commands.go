package main

import (
	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/usage"
)

// command is one subcommand: a row of the table that the program is called and
// explained by.
type command struct {
	// name is the word that is typed, and short what it is for, in one line of the
	// overview: no capital, no full stop.
	name, short string
	use         []string // one line for each way to call it
	// flags adds the flags and returns what is done with them.
	flags func(f *pflag.FlagSet) action
	more  string // what else its help says
	codes string // exit codes of its own, after those of all
	// first and rest are what may stand as its first argument and as the others,
	// for shells to complete; nothing is refused by them.
	first, rest usage.Values
}

// action is what a command does once its flags are read. It returns the exit code.
type action func(e env, c called) int

// called is a command as it was called.
type called struct {
	command
	*pflag.FlagSet // its flags and arguments
}

// commands is the table, in the order of the overview.
func commands() []command {
	return []command{
		{name: "mark", short: "mark a photo in the browser and see the reading grow",
			use: []string{"mark [PHOTO] [flags]"}, flags: markFlags, first: photoFile},
		{name: "outline", short: "find strip, chart and white in a photo, to be looked at",
			use: []string{"outline PHOTO... [flags]", "outline - --chart CHART --json"}, flags: outlineFlags, first: photoFile,
			rest: photoFile},
		{name: "blind", short: "call marked pads by eye, shuffled, with no value shown",
			use: []string{"blind DIR --reader NAME [flags]"}, flags: blindFlags, first: folderOnly},
		{name: "read", short: "read the pads of one or several photos",
			use: []string{"read PHOTO... [flags]", "read - --marks FILE [flags]"}, flags: readFlags, codes: ", 3 unreliable (with --strict)",
			first: photoFile, rest: photoFile},
		{name: "batch", short: "read a folder of photos, or a list of them, into one file",
			use: []string{"batch DIR|LIST|- [flags]"}, flags: batchFlags, codes: ", 3 unreliable (with --strict)",
			first: anyFile},
		{name: "keep", short: "keep a reading as evidence: a folder that can be verified",
			use: []string{"keep PHOTO --into DIR [flags]", "keep --one-strip PHOTO... --into DIR [flags]"}, flags: keepFlags,
			first: photoFile, rest: photoFile},
		{name: "verify", short: "check a record: nothing changed, who signed, read again",
			use: []string{"verify DIR|ZIP [flags]"}, flags: verifyFlags, first: recordPlace},
		{name: "report", short: "a page to show and print, of one record or of two compared",
			use: []string{"report RECORD [flags]", "report BEFORE AFTER [flags]"}, flags: reportFlags,
			first: recordPlace, rest: recordPlace},
		{name: "compare", short: "two readers: do their calls agree, and what to do",
			use: []string{
				"compare CALLS.csv... [flags]",
				"compare A.reading.json|RECORD B.reading.json|RECORD [flags]",
				"compare A.reading.json|RECORD --against VALUE [flags]",
			}, flags: compareFlags, first: comparable, rest: comparable},
		{name: "stamp", short: "put a timestamp reply (RFC 3161) into a record",
			use: []string{"stamp DIR FILE"}, flags: stampFlags, first: folderOnly, rest: anyFile},
		{name: "find", short: "search the readings of many records",
			use: []string{"find DIR... [flags]"}, flags: findFlags, more: findHelp,
			first: recordPlace, rest: recordPlace},
		{name: "trend", short: "one place over time: table, plot, rising or falling",
			use: []string{"trend DIR... [flags]"}, flags: trendFlags, more: trendHelp,
			first: recordPlace, rest: recordPlace},
		{name: "chart", short: "the bundled charts; check a chart file; let it remember",
			use: []string{"chart list", "chart show [--json] NAME|FILE", "chart check FILE...",
				"chart remember FILE PHOTO [flags]"}, flags: chartFlags,
			first: anyOf(chartVerbs...), rest: chartValues()},
		{name: "plan", short: "a page for before the dip: bottle, water, light, times",
			use: []string{"plan CHART [flags]"}, flags: planFlags, first: chartValues()},
		{name: "limits", short: "the limits and units that readings can be set against",
			use: []string{"limits [SET|FILE] [flags]"}, flags: limitsFlags, first: limitValues()},
		{name: "version", short: "print the version",
			use: []string{"version [flags]"}, flags: versionFlags},
		{name: "completion", short: "a script that makes bash, zsh or fish complete calls",
			use: []string{"completion bash|zsh|fish"}, flags: completionFlags, more: completionHelp, first: anyOf(shells...)},
		{name: "help", short: "what a command does and its flags; a page of the guide",
			use: []string{"help [COMMAND|TOPIC] [flags]"}, flags: helpFlags},
	}
}

// commandWords are the words that a call begins with.
func commandWords() (out []string) {
	for _, c := range commands() {
		out = append(out, c.name)
	}
	return out
}
