package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/pflag"

	"padband/charts/limits"
	"padband/charts/units"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/usage"
)

// limitsFlags adds the flag that lists units in the place of limits.
func limitsFlags(f *pflag.FlagSet) action {
	list := new(bool)
	onOff(f, list, "units", "list the units that limits can be written in")
	return func(e env, c called) int { return runLimits(e, c, *list) }
}

// runLimits lists the sets, one set's limits with their sources, or the units.
// A file of one's own is shown as a set is, which checks it too.
func runLimits(e env, c called, listUnits bool) int {
	switch {
	case c.NArg() > 1 || listUnits && c.NArg() > 0:
		return e.misuse(c, errors.New("limits takes one set, or its file, or --units"))
	case listUnits:
		fmt.Fprint(e.out, report.UnitsText(units.All()))
	case c.NArg() == 0:
		fmt.Fprint(e.out, report.LimitSetsText(limits.LimitSets()))
	default:
		s, err := namedLimits(c.Arg(0))
		if err != nil {
			e.fail(err)
			return exitError
		}
		fmt.Fprint(e.out, report.LimitSetText(s))
	}
	return exitOK
}

// namedLimits is a set of the program, or the one in a file.
func namedLimits(name string) (limits.LimitSet, error) {
	if s, ok := limits.FindLimitSet(strings.ToLower(name)); ok {
		return s, nil
	}
	if strings.HasSuffix(strings.ToLower(name), ".json") {
		c, _, err := limitChoice(name)
		return c.Set, err
	}
	hint := "padband limits lists them, and a file of your own ends in .json"
	if near := usage.Near(name, limitSetNames()); len(near) > 0 {
		hint = didYouMean(near)
	}
	return limits.LimitSet{}, fmt.Errorf("there is no set of limits %s; %s", input.Shown(name), hint)
}

// limitSetNames are the sets that come with the program.
func limitSetNames() (out []string) {
	for _, s := range limits.LimitSets() {
		out = append(out, s.Name)
	}
	return out
}
