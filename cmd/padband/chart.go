package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"padband/charts"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/usage"
)

// chartVerbs are the words that may follow chart.
var chartVerbs = []string{"list", "show", "check"}

// chartFlags adds the one flag of chart, which goes with one of its verbs only.
func chartFlags(f *pflag.FlagSet) action {
	asJSON := new(bool)
	onOff(f, asJSON, "json", "with show: print the chart's own file, to save and change")
	return func(e env, c called) int { return runChart(e, c, *asJSON) }
}

// runChart does what the verb says, which is the first argument; the other
// arguments are names or files of charts.
func runChart(e env, c called, asJSON bool) int {
	verb, names := c.Arg(0), c.Args()[min(1, c.NArg()):]
	switch {
	case asJSON && verb != "show":
		return e.misuse(c, errors.New("--json goes with chart show"))
	case verb == "list" && len(names) == 0:
		listCharts(e.out)
		return exitOK
	case verb == "show" && len(names) == 1:
		return e.showChart(names[0], asJSON)
	case verb == "check" && len(names) > 0:
		return e.checkCharts(names)
	}
	return e.misuse(c, chartCall(verb, names))
}

// chartCall says what is wrong with a call of chart.
func chartCall(verb string, names []string) error {
	switch verb {
	case "":
		return errors.New("say what to do: list, show or check")
	case "list":
		return fmt.Errorf("chart list takes no name; chart show %s shows that chart", input.Shown(names[0]))
	case "show":
		return errors.New("name one chart to show")
	case "check":
		return errors.New("name a chart file to check")
	}
	hint := "it is list, show or check"
	if near := usage.Near(verb, chartVerbs); len(near) > 0 {
		hint = didYouMean(near)
	}
	return fmt.Errorf("there is no command \"chart %s\"; %s", verb, hint)
}

// listCharts prints two lines for each bundled chart: what it is called, and what
// it reads.
func listCharts(w io.Writer) {
	for _, c := range charts.Bundled() {
		var names []string
		for _, a := range c.Analytes {
			names = append(names, a.Name)
		}
		fmt.Fprintf(w, "%-16s %s\n%-16s %s\n", c.Name, c.Title, "", strings.Join(names, ", "))
	}
}

// showChart prints a bundled chart, or one in a file: for people, or the file itself.
func (e env) showChart(name string, asJSON bool) int {
	c, err := input.NamedChart(name)
	switch {
	case err != nil:
		e.fail(err)
		return exitError
	case asJSON:
		e.out.Write(c.Data) // a failure is kept and told at the end of run
	default:
		fmt.Fprint(e.out, report.ChartText(c.Chart))
	}
	return exitOK
}

// checkCharts reads each file and says what is wrong with it, or that it is a
// chart. One that is none does not keep the others from being checked.
func (e env) checkCharts(names []string) int {
	code := exitOK
	for _, n := range names {
		f, err := input.OpenChart(n)
		if err != nil {
			e.fail(err)
			code = exitError
			continue
		}
		var parts []string
		for _, a := range f.Analytes {
			parts = append(parts, fmt.Sprintf("%s (%d swatches)", a.Name, len(a.Swatches)))
		}
		fmt.Fprintf(e.out, "%s: a chart: %s\n", input.Shown(n), strings.Join(parts, ", "))
	}
	return code
}
