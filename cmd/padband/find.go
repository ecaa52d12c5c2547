package main

import (
	"errors"
	"fmt"

	"github.com/spf13/pflag"

	"padband/charts/units"
	"padband/cmd/padband/internal/history"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/record"
)

// findOptions are the flags of find.
type findOptions struct {
	chosen
	over, under string
	reliability []string
	json        bool
}

// findHelp says what is found. It names the grades as they are printed and, once, as
// files and flags call them.
const findHelp = `
Looks in folders, all below them, and zip files, without following links. Only
the facts and the reading of a record are looked at, and not verified: padband
verify does that. A reading is "over" when its value is, and "may be over" when
only what the water may be reaches there.
So "25 or more" is over 10 and may be over 30; "1 or less" is never over. It is
"under" only when all that the water may be is, and never when its grade is "Do
not use this reading". An amount in another unit is converted; readings in a
unit that cannot be converted are counted and not compared.

The grades "Clear reading", "Doubtful reading" and "Do not use this reading" are
called good, caution and unreliable here and in --json.
`

// findFlags adds the flags that choose readings; those that choose records are
// shared with trend.
func findFlags(f *pflag.FlagSet) action {
	o := &findOptions{}
	f.StringVar(&o.over, "over", "", "only readings over this `AMOUNT`, such as \"10 mg/L as N\"")
	f.StringVar(&o.under, "under", "", "only readings under this `AMOUNT`")
	o.chosen.add(f)
	f.StringSliceVar(&o.reliability, "reliability", nil, "only `WORDS` good, caution or unreliable, with commas between")
	onOff(f, &o.json, "json", "one JSON object a line for each reading found; the count goes to standard error")
	return o.run
}

// run reads all flags before the first folder is opened. A search that finds
// nothing has still been done, and exits with 0.
func (o *findOptions) run(e env, c called) int {
	if c.NArg() == 0 {
		return e.misuse(c, errors.New("find takes the folder that the records are in"))
	}
	s, err := o.search()
	if err != nil {
		return e.misuse(c, err)
	}
	if err := e.find(c.Args(), s, o.json); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// search is what the flags ask for; the error says which of them is wrong.
func (o findOptions) search() (s history.Search, err error) {
	if s.Choice, err = o.choice(); err != nil {
		return s, err
	}
	for _, a := range []struct {
		flag, text string
		to         **units.Quantity
	}{{"over", o.over, &s.Over}, {"under", o.under, &s.Under}} {
		if a.text == "" {
			continue
		}
		q, err := units.ParseQuantity(a.text)
		if err != nil {
			return s, fmt.Errorf("--%s: %w", a.flag, err)
		}
		*a.to = &q
	}
	for _, w := range o.reliability {
		if w != "good" && w != "caution" && w != "unreliable" {
			return s, fmt.Errorf("--reliability %q is not good, caution or unreliable", w)
		}
	}
	s.Reliability = o.reliability
	return s, nil
}

// find prints each reading that the search finds, and at the end the count.
func (e env) find(names []string, s history.Search, asJSON bool) error {
	var t history.Tally
	records, bad, err := e.walk(names, func(r record.Summary) {
		for _, h := range s.In(r, &t) {
			if asJSON {
				fmt.Fprintln(e.out, h.JSON())
				continue
			}
			fmt.Fprint(e.out, h.Text())
		}
	})
	if err != nil {
		return err
	}
	to := e.out
	if asJSON {
		to = e.err
	}
	for _, l := range append(t.Lines(s, records), leftOut(t.Undated, bad)...) {
		fmt.Fprintln(to, lines.Blanked(l))
	}
	return nil
}
