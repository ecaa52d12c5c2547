package main

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"padband/charts"
)

func runChart(e env, c command, args []string) int {
	f := c.flags()
	if goOn, code := e.parse(c, f, args); !goOn {
		return code
	}
	args = f.Args()
	switch {
	case len(args) == 1 && args[0] == "list":
		listCharts(e.out)
		return exitOK
	case len(args) == 2 && args[0] == "show":
		return e.showChart(args[1])
	case len(args) > 1 && args[0] == "check":
		return e.checkCharts(args[1:])
	}
	return e.misuse(c, f, errors.New("say what to do with which chart"))
}

func listCharts(w io.Writer) {
	for _, c := range charts.Bundled() {
		var names []string
		for _, a := range c.Analytes {
			names = append(names, a.Name)
		}
		fmt.Fprintf(w, "%-16s %s\n%-16s %s\n", c.Name, c.Title, "", strings.Join(names, ", "))
	}
}

// showChart prints a bundled chart, or one in a file, for people.
func (e env) showChart(name string) int {
	c, err := namedChart(name)
	if err != nil {
		e.fail(err)
		return exitError
	}
	describe(e.out, c)
	return exitOK
}

func namedChart(name string) (charts.Chart, error) {
	if c, ok := charts.Find(name); ok {
		return c, nil
	}
	f, err := openChart(name)
	if err != nil {
		return charts.Chart{}, fmt.Errorf("%w (padband chart list names the bundled charts)", err)
	}
	return f.Chart, nil
}

func describe(w io.Writer, c charts.Chart) {
	fmt.Fprintf(w, "%s, version %s\n", c.Name, orNone(c.Version))
	for _, s := range []string{c.Title, c.Note} {
		if s != "" {
			fmt.Fprintln(w, strings.ReplaceAll(s, "\r", "")) // alone it would write over the line
		}
	}
	for _, a := range c.Analytes {
		fmt.Fprintf(w, "\n%s, %s\n", a.Name, chartUnit(a))
		fmt.Fprintf(w, "  swatches     %s\n", values(a))
		if a.Parts > 1 {
			fmt.Fprintf(w, "  parts        %d\n", a.Parts)
		}
		if a.ReadWindow != nil {
			fmt.Fprintf(w, "  read after   %g to %g s\n", a.ReadWindow[0], a.ReadWindow[1])
		}
		if a.KitError != nil {
			fmt.Fprintf(w, "  kit error    %g steps (%s)\n", a.KitError.Steps, a.KitError.Source)
		}
	}
	if len(c.Handling) > 0 {
		fmt.Fprintln(w, "\nhandling")
		for _, h := range c.Handling {
			fmt.Fprintf(w, "  %s\n", h)
		}
	}
}

func chartUnit(a charts.Analyte) string {
	switch {
	case a.Kind == charts.KindPresence:
		return "yes or no"
	case a.As != "":
		return a.Unit + " as " + a.As
	}
	return a.Unit
}

func values(a charts.Analyte) string {
	var out []string
	for _, s := range a.Swatches {
		if s.Label != "" {
			out = append(out, s.Label)
			continue
		}
		out = append(out, strconv.FormatFloat(s.Value, 'f', -1, 64))
	}
	return strings.Join(out, ", ")
}

func orNone(s string) string {
	if s == "" {
		return "not given"
	}
	return s
}

// checkCharts reads each file and says what is wrong with it, or that it is a chart.
func (e env) checkCharts(names []string) int {
	code := exitOK
	for _, n := range names {
		f, err := openChart(n)
		if err != nil {
			e.fail(err)
			code = exitError
			continue
		}
		var parts []string
		for _, a := range f.Analytes {
			parts = append(parts, fmt.Sprintf("%s (%d swatches)", a.Name, len(a.Swatches)))
		}
		fmt.Fprintf(e.out, "%s: a chart: %s\n", shown(n), strings.Join(parts, ", "))
	}
	return code
}
