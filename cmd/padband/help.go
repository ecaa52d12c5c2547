package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"

	"github.com/spf13/pflag"

	"padband/calib"
)

// version is the program's version; a release build stamps it.
var version = "0.1.0"

// flagged are the commands with flags.
var flagged = map[string]func(c command) *pflag.FlagSet{
	"blind":   func(c command) *pflag.FlagSet { f, _ := blindFlags(c); return f },
	"mark":    func(c command) *pflag.FlagSet { f, _ := markFlags(c); return f },
	"keep":    func(c command) *pflag.FlagSet { f, _ := keepFlags(c); return f },
	"verify":  func(c command) *pflag.FlagSet { f, _ := verifyFlags(c); return f },
	"report":  func(c command) *pflag.FlagSet { f, _ := reportFlags(c); return f },
	"stamp":   stampFlags,
	"read":    func(c command) *pflag.FlagSet { f, _ := readFlags(c); return f },
	"plan":    func(c command) *pflag.FlagSet { f, _ := planFlags(c); return f },
	"limits":  func(c command) *pflag.FlagSet { f, _ := limitsFlags(c); return f },
	"batch":   func(c command) *pflag.FlagSet { f, _ := batchFlags(c); return f },
	"version": func(c command) *pflag.FlagSet { f, _ := versionFlags(c); return f },
	"chart":   func(c command) *pflag.FlagSet { f, _ := chartFlags(c); return f },
	"compare": func(c command) *pflag.FlagSet { f, _ := compareFlags(c); return f },
	"trend":   func(c command) *pflag.FlagSet { f, _ := trendFlags(c); return f },
	"find":    func(c command) *pflag.FlagSet { f, _ := findFlags(c); return f },
}

// exitCodes is the last line of a command's help.
const exitCodes = "Exit codes: 0 done, 1 bad input, 2 wrong call"

// help prints all there is to say of a command.
func (c command) help(w io.Writer, f *pflag.FlagSet) {
	fmt.Fprintf(w, "%s\n\n", c.short)
	c.usage(w, f)
	fmt.Fprint(w, longer[c.name])
	switch {
	case c.name == "read", c.name == "batch":
		fmt.Fprintln(w, "\n"+exitCodes+", 3 unreliable (with --strict).")
	case flagged[c.name] != nil:
		fmt.Fprintln(w, "\n"+exitCodes+".")
	}
}

// longer is what else a command's help says.
var longer = map[string]string{"find": findHelp, "trend": trendHelp}

func runHelp(e env, c command, args []string) int {
	if len(args) == 0 {
		overview(e.out)
		return exitOK
	}
	if topicHelp(e.out, args[0]) {
		return exitOK
	}
	for _, o := range commands() {
		if o.name != args[0] {
			continue
		}
		var f *pflag.FlagSet
		if flags := flagged[o.name]; flags != nil {
			f = flags(o)
		}
		o.help(e.out, f)
		return exitOK
	}
	e.fail(fmt.Errorf("there is no command or topic %q; padband help lists them", args[0]))
	return exitUsage
}

func versionFlags(c command) (*pflag.FlagSet, *bool) {
	f, full := c.flags(), new(bool)
	onOff(f, full, "notices", "print the licences of all that the program holds")
	return f, full
}

func runVersion(e env, c command, args []string) int {
	f, full := versionFlags(c)
	if goOn, code := e.parse(c, f, args); !goOn {
		return code
	}
	switch {
	case f.NArg() > 0:
		return e.misuse(c, f, fmt.Errorf("version takes no arguments"))
	case *full:
		fmt.Fprint(e.out, notices)
		return exitOK
	}
	revision := ""
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" && len(s.Value) >= 12 {
				revision = ", revision " + s.Value[:12]
			}
		}
	}
	fmt.Fprintf(e.out, "padband %s, method %d, %s%s\n", version, calib.Method, runtime.Version(), revision)
	return exitOK
}
