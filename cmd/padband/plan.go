package main

import (
	"errors"
	"fmt"

	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/report"
)

// planOptions are the flags of plan.
type planOptions struct {
	out         string
	text, force bool
}

// planFlags adds the flags of plan; its page goes into a file unless it is text.
func planFlags(f *pflag.FlagSet) action {
	o := &planOptions{}
	f.StringVarP(&o.out, "out", "o", "", "write to `FILE`; - is standard output (default CHART.plan.html, here)")
	onOff(f, &o.text, "text", "print it as text instead of a page")
	onOff(f, &o.force, "force", "write over a file that is there")
	return o.run
}

// run checks the call. Text is for a terminal or a pipe, so that a file for it
// would have two names.
func (o *planOptions) run(e env, c called) int {
	switch {
	case c.NArg() != 1:
		return e.misuse(c, errors.New("plan takes one chart: its name or its file"))
	case o.text && o.out != "":
		return e.misuse(c, errors.New("--text goes to standard output; leave --out away"))
	}
	if err := e.plan(c.Arg(0), *o); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// plan makes the page of a chart, and writes it where --out says or into a file
// that bears the chart's name.
func (e env) plan(name string, o planOptions) error {
	chart, err := input.NamedChart(name)
	if err != nil {
		return err
	}
	if o.text {
		_, err := fmt.Fprint(e.out, report.PlanText(chart.Chart, version))
		return err
	}
	data, err := report.Plan(chart.Chart, version)
	if err != nil {
		return err
	}
	if o.out == "" {
		o.out = chart.Name + ".plan.html"
	}
	return e.writePage(data, o.out, o.force)
}
