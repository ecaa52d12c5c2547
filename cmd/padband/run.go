package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/lines"
)

// Output rules: readings and lists go to standard output; one line for each
// error goes to standard error, prefixed "padband: ", no capital, no full stop.

// Exit codes.
const (
	exitOK         = 0
	exitError      = 1 // bad input
	exitUsage      = 2 // a wrong command or flag
	exitUnreliable = 3 // --strict and an unreliable reading
)

// env is where a command reads and writes.
type env struct {
	in       io.Reader
	out, err io.Writer
}

// command is one subcommand; use holds one line for each way to call it.
type command struct {
	name, short string
	use         []string
	run         func(e env, c command, args []string) int
}

func commands() []command {
	return []command{
		{"mark", "mark a photo in the browser and see the reading grow", []string{"mark [PHOTO] [flags]"}, runMark},
		{"blind", "call marked pads by eye, shuffled, with no value shown", []string{"blind DIR --reader NAME [flags]"}, runBlind},
		{"read", "read the pads of one or several photos", []string{"read PHOTO... [flags]"}, runRead},
		{"batch", "read a folder of photos, or a list of them, into one file", []string{"batch DIR|LIST|- [flags]"}, runBatch},
		{"keep", "keep a reading as evidence: a folder that can be verified", []string{"keep PHOTO --into DIR [flags]"}, runKeep},
		{"verify", "check a record: nothing changed, who signed, read again", []string{"verify DIR|ZIP [flags]"}, runVerify},
		{"report", "a page to show and print, of one record or of two compared", []string{"report RECORD [flags]", "report BEFORE AFTER [flags]"}, runReport},
		{"compare", "two readers: do their calls agree, and what to do", []string{"compare CALLS.csv... [flags]", "compare A.reading.json|RECORD B.reading.json|RECORD [flags]", "compare A.reading.json|RECORD --against VALUE [flags]"}, runCompare},
		{"stamp", "put a timestamp reply (RFC 3161) into a record", []string{"stamp DIR FILE"}, runStamp},
		{"find", "search the readings of many records", []string{"find DIR... [flags]"}, runFind},
		{"trend", "one place over time: table, plot, rising or falling", []string{"trend DIR... [flags]"}, runTrend},
		{"chart", "the bundled charts; check a chart file", []string{"chart list", "chart show [--json] NAME|FILE", "chart check FILE..."}, runChart},
		{"plan", "a page for before the dip: bottle, water, light, clock times", []string{"plan CHART [flags]"}, runPlan},
		{"limits", "the limits and units that readings can be set against", []string{"limits [SET|FILE] [flags]"}, runLimits},
		{"version", "print the version", []string{"version [flags]"}, runVersion},
		{"help", "what a command does and its flags", []string{"help [COMMAND]"}, runHelp},
	}
}

func run(args []string, in io.Reader, out, errw io.Writer) (code int) {
	o := &output{w: out}
	e := env{in, o, errw}
	defer func() { code = e.finish(o, recover(), code) }()
	return e.dispatch(args)
}

// dispatch runs the command that the first argument names.
func (e env) dispatch(args []string) int {
	if len(args) == 0 {
		args = []string{"mark"}
	}
	switch args[0] {
	case decodeArgument:
		return runChild(e.in, e.out)
	case "-h", "--help":
		overview(e.out)
		return exitOK
	case "--version":
		args[0] = "version"
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(e, c, args[1:])
		}
	}
	e.fail(fmt.Errorf("there is no command %q; padband help lists them", args[0]))
	return exitUsage
}

// fail prints one error on one line.
func (e env) fail(err error) {
	fmt.Fprintf(e.err, "padband: %s\n", lines.Blanked(err.Error()))
}

// flags makes a flag set that prints nothing by itself.
func (c command) flags() *pflag.FlagSet {
	f := pflag.NewFlagSet(c.name, pflag.ContinueOnError)
	f.SortFlags = false
	f.SetOutput(io.Discard)
	f.Usage = func() {}
	return f
}

// parse reads the flags; when it says not to go on, the code is the exit code.
func (e env) parse(c command, f *pflag.FlagSet, args []string) (goOn bool, code int) {
	switch err := f.Parse(args); {
	case errors.Is(err, pflag.ErrHelp):
		c.help(e.out, f)
		return false, exitOK
	case err != nil:
		return false, e.misuse(c, f, dashed(err, args))
	}
	return true, exitOK
}

// dashed adds, to what is wrong with the flags, how a file is named that looks like one.
func dashed(err error, args []string) error {
	for _, a := range args {
		if _, missing := os.Lstat(a); missing == nil && strings.HasPrefix(a, "-") {
			return fmt.Errorf("%w; for the file of that name write %s", err, beside.Shown("./"+a))
		}
	}
	return err
}

// misuse prints what is wrong with the call and how it goes; the flags are left
// to help, for below them nobody would see what is wrong.
func (e env) misuse(c command, f *pflag.FlagSet, err error) int {
	e.fail(err)
	c.usage(e.err, nil)
	if f != nil && f.HasFlags() {
		fmt.Fprintf(e.err, "padband help %s lists the flags\n", c.name)
	}
	return exitUsage
}

// onOff adds a flag that is on when it stands there.
func onOff(f *pflag.FlagSet, p *bool, name, usage string) {
	f.BoolFunc(name, usage, func(s string) error {
		on, err := strconv.ParseBool(s)
		if err != nil {
			return errors.New("it takes true, false or nothing")
		}
		*p = on
		return nil
	})
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

func overview(w io.Writer) {
	fmt.Fprint(w, "padband reads a water-test strip from a phone photo of strip and chart: a value\nbetween the bracketing swatches, its band, and a warning when not to trust it.\n\n")
	for _, c := range commands() {
		fmt.Fprintf(w, "  padband %-9s%s\n", c.name, c.short)
	}
	fmt.Fprint(w, "\npadband alone is padband mark. padband help COMMAND shows how each is called,\npadband help codes what each warning's code stands for.\n\nA strip is a screening test; what matters to health is for a certified\nlaboratory and the local health authority.\n")
}
