package main

import (
	_ "embed"
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/pflag"

	"padband/calib"
)

// version is the program's version; a release build stamps it.
var version = "0.1.0"

// notices are the licences of all that the program holds.
//
//go:generate go run internal/notices/make.go
//go:embed notices.txt
var notices string

// versionFlags adds the flag of the licences, which are long and are in every
// program that is handed on.
func versionFlags(f *pflag.FlagSet) action {
	full := new(bool)
	onOff(f, full, "notices", "print the licences of all that the program holds")
	return func(e env, c called) int { return runVersion(e, c, *full) }
}

// runVersion prints what a report of a fault has to name: the version, the method
// of reading, which decides the figures, the compiler and the source's revision.
func runVersion(e env, c called, full bool) int {
	switch {
	case c.NArg() > 0:
		return e.misuse(c, fmt.Errorf("version takes no arguments"))
	case full:
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
