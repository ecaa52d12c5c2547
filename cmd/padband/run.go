// Command padband reads a water-test strip from a phone photo.
//
// The table of commands is in commands.go: each row has its name, how it is
// called, and the function that adds its flags and returns what is done with
// them. One file holds one command: its flags, the check of a call, and the call
// of the package that does the work. Help, the completions of shells and the
// manual page are made from the same table, so that they tell of what there is.
//
// What several commands share is in files of its own: input.go reads a photo with
// what belongs to it, ask.go has the flags of what a reading is set against,
// records.go those that choose records, output.go writes, terminal.go asks a
// person and shows how far a walk is. run.go finds the command and says what is
// wrong with a call.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"padband/calib/strip/outline"
	"padband/cmd/padband/internal/decoder"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/outlined"
	"padband/cmd/padband/internal/usage"
)

// Output rules: readings and lists go to standard output; one line for each
// error goes to standard error, prefixed "padband: ", no capital, no full stop.
// An error says what is wrong, where, and what to do; it names a flag only when
// the command that was called has it. The usage of a wrong call stands above the
// error, so that the last line on the screen is the one to act on.

// Exit codes. A script can tell by them what to do: mend the input, mend the call,
// or take the photo again. That a reading is unreliable is no failure, unless
// --strict says so.
const (
	exitOK         = 0
	exitError      = 1 // bad input
	exitUsage      = 2 // a wrong command or flag
	exitUnreliable = 3 // --strict and an unreliable reading
)

// env is where a command reads and writes, and how it looks for a chart in a photo.
type env struct {
	in       io.Reader
	out, err io.Writer
	finder   outlined.Finder
	carry    carrier // the same, by the marks of another photo of the strip
}

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is the whole program: tests call it with buffers, as main does with the
// process's own streams. A mistake in the program ends here too, as one line.
func run(args []string, in io.Reader, out, errw io.Writer) (code int) {
	o := &output{w: out}
	e := env{in, o, errw, outline.Find, outline.Carry}
	defer func() { code = e.finish(o, recover(), code) }()
	return e.dispatch(args)
}

// dispatch runs the command that the first argument names.
func (e env) dispatch(args []string) int {
	if len(args) == 0 {
		args = []string{"mark"}
	}
	switch args[0] {
	case decoder.Argument:
		if !decoder.Answer(e.in, e.out) {
			return exitError
		}
		return exitOK
	case "-h", "--help":
		overview(e.out)
		return exitOK
	case "--version":
		args[0] = "version"
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return e.start(c, args[1:])
		}
	}
	e.fail(fmt.Errorf("there is no command %q; %s", args[0], insteadOf(args[0])))
	return exitUsage
}

// insteadOf says what to type instead of a word that is no command. Nothing is
// ever run that was not typed.
func insteadOf(word string) string {
	names := commandWords()
	if strings.HasPrefix(word, "-") {
		names = []string{"--help", "--version"}
	}
	near := usage.Near(word, names)
	info, err := os.Stat(word)
	switch {
	case len(near) > 0:
		return didYouMean(near)
	case strings.HasPrefix(word, "-"):
		return "write the command before its flags, such as padband read --json PHOTO"
	case err == nil && info.Mode().IsRegular():
		return "to read a photo write padband read " + input.Shown(word)
	}
	return "padband help lists them"
}

// didYouMean asks for one of the words that lie near.
func didYouMean(near []string) string { return "did you mean " + strings.Join(near, " or ") + "?" }

// fail prints one error on one line.
func (e env) fail(err error) {
	fmt.Fprintf(e.err, "padband: %s\n", lines.Blanked(err.Error()))
}

// flagSet is the command's flags, and what it does.
func (c command) flagSet() (*pflag.FlagSet, action) {
	f := pflag.NewFlagSet(c.name, pflag.ContinueOnError) // it prints nothing by itself
	f.SortFlags = false
	f.SetOutput(io.Discard)
	f.Usage = func() {}
	return f, c.flags(f)
}

// start reads the flags and does what the command does.
func (e env) start(c command, args []string) int {
	f, act := c.flagSet()
	switch err := f.Parse(args); {
	case errors.Is(err, pflag.ErrHelp):
		c.help(e.out, f)
		return exitOK
	case err != nil:
		return e.misuse(called{c, f}, dashed(meantFlag(err, f), args))
	}
	return act(e, called{c, f})
}

// meantFlag adds, to what is wrong with the flags, the one that a flag that is
// none was probably meant to be; also when it stands behind one dash.
func meantFlag(err error, f *pflag.FlagSet) error {
	var none *pflag.NotExistError
	if !errors.As(err, &none) {
		return err
	}
	typed, all := none.GetSpecifiedName(), []string{"help"} // which each command has
	if group := none.GetSpecifiedShortnames(); group != "" {
		typed = group
	}
	f.VisitAll(func(f *pflag.Flag) { all = append(all, f.Name) })
	near := usage.Near(typed, all)
	if len(near) == 0 {
		return err
	}
	for i := range near {
		near[i] = "--" + near[i]
	}
	return fmt.Errorf("%w; %s", err, didYouMean(near))
}

// dashed adds, to what is wrong with the flags, how a file is named that looks like one.
func dashed(err error, args []string) error {
	for _, a := range args {
		if _, missing := os.Lstat(a); missing == nil && strings.HasPrefix(a, "-") {
			return fmt.Errorf("%w; for the file of that name write %s", err, input.Shown("./"+a))
		}
	}
	return err
}

// misuse prints how the command is called and, last, what is wrong with this
// call, where the eye is. The flags are left to help: they would push the usage
// out of a small window.
func (e env) misuse(c called, err error) int {
	c.usage(e.err, nil)
	if c.HasFlags() {
		fmt.Fprintf(e.err, "padband help %s lists the flags\n", c.name)
	}
	e.fail(err)
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
