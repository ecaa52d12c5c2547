package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"padband/calib"
)

// version is the program's version; a release build stamps it.
var version = "0.1.0"

// described is a command that can show its own flags.
var described = map[string]func(e env, c command) int{
	"read": func(e env, c command) int { f, _ := readFlags(c); c.usage(e.out, f); return exitOK },
}

func runHelp(e env, c command, args []string) int {
	if len(args) == 0 {
		overview(e.out)
		return exitOK
	}
	for _, o := range commands() {
		if o.name != args[0] {
			continue
		}
		fmt.Fprintf(e.out, "%s\n\n", o.short)
		if show := described[o.name]; show != nil {
			return show(e, o)
		}
		o.usage(e.out, nil)
		return exitOK
	}
	e.fail(fmt.Errorf("there is no command %q; padband help lists them", args[0]))
	return exitUsage
}

func runVersion(e env, c command, args []string) int {
	if len(args) > 0 {
		return e.misuse(c, nil, fmt.Errorf("version takes no arguments"))
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
