package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/record"
)

// findOptions are the flags of find.
type findOptions struct {
	chosen
	over, under string
	reliability []string
	json        bool
}

// findHelp says what is found.
const findHelp = `
Looks in folders, all below them, and zip files, without following links. Only
the facts and the reading of a record are looked at, and not verified: padband
verify does that. A reading is "over" when its value is, and "may be over" when
only its water band reaches there: "at least 25" is over 10 and may be over 30;
"at most 1" is never over. It is "under" only when its whole water band is and
it is not unreliable. An amount in another unit is converted; readings in a
unit that cannot be converted are counted and not compared.
`

// chosen are the flags that choose records, which find and trend share.
type chosen struct {
	analyte, place, point, lot, from, until string
}

func (o *chosen) flags(f *pflag.FlagSet) {
	f.StringVar(&o.analyte, "analyte", "", "only this `NAME`, such as nitrate")
	f.StringVar(&o.place, "place", "", "only places with this `TEXT` in them")
	f.StringVar(&o.point, "point", "", "only sampling points with this `TEXT` in them")
	f.StringVar(&o.lot, "lot", "", "only this lot of the kit, `TEXT`")
	f.StringVar(&o.from, "from", "", "only photos of this `DAY` (2026-11-14) or later")
	f.StringVar(&o.until, "until", "", "only photos of this `DAY` or earlier")
}

func findFlags(c command) (*pflag.FlagSet, *findOptions) {
	f, o := c.flags(), &findOptions{}
	f.StringVar(&o.over, "over", "", "only readings over this `AMOUNT`, such as \"10 mg/L as N\"")
	f.StringVar(&o.under, "under", "", "only readings under this `AMOUNT`")
	o.chosen.flags(f)
	f.StringSliceVar(&o.reliability, "reliability", nil, "only `WORDS` good, caution or unreliable, with commas between")
	onOff(f, &o.json, "json", "one JSON object a line for each reading found; the count goes to standard error")
	return f, o
}

func runFind(e env, c command, args []string) int {
	f, o := findFlags(c)
	if goOn, code := e.parse(c, f, args); !goOn {
		return code
	}
	if f.NArg() == 0 {
		return e.misuse(c, f, errors.New("find takes the folder that the records are in"))
	}
	s, err := o.search()
	if err != nil {
		return e.misuse(c, f, err)
	}
	if err := e.find(f.Args(), s, o.json); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// search is what the flags ask for; the error says which of them is wrong.
func (o findOptions) search() (s search, err error) {
	if s.choice, err = o.choice(); err != nil {
		return s, err
	}
	for _, a := range []struct {
		flag, text string
		to         **amount
	}{{"over", o.over, &s.over}, {"under", o.under, &s.under}} {
		if a.text == "" {
			continue
		}
		q, err := parseAmount(a.text)
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
	s.reliability = o.reliability
	return s, nil
}

// choice is what the flags choose.
func (o chosen) choice() (choice, error) {
	for flag, day := range map[string]string{"from": o.from, "until": o.until} {
		if _, err := time.Parse(time.DateOnly, day); day != "" && err != nil {
			return choice{}, fmt.Errorf("--%s %q is not a day such as 2026-11-14", flag, day)
		}
	}
	if o.from != "" && o.until != "" && o.from > o.until {
		return choice{}, errors.New("--from is after --until; no day is in both")
	}
	return choice(o), nil
}

// walk looks through folders and zip files; what cannot be read is a line and
// is passed over. It returns how many records were read, and how many were not.
func (e env) walk(names []string, each func(record.Summary)) (records, bad int, err error) {
	p := e.progress()
	defer p.done()
	for _, name := range names {
		before := records + bad
		record.Walk(name, func(s record.Summary) {
			records++
			p.at(records)
			each(s)
		}, func(path string, why error) {
			bad++
			p.done()
			e.fail(fmt.Errorf("%s: %w; it was passed over", beside.Shown(path), why))
		})
		if records+bad == before && err == nil {
			err = fmt.Errorf("%s: holds no record; name the folder that records were kept in", beside.Shown(name))
		}
	}
	if records == 0 && err == nil {
		err = errors.New("no record could be read")
	}
	return records, bad, err
}

// find prints each reading that the search finds, and at the end the count.
func (e env) find(names []string, s search, asJSON bool) error {
	t := tally{units: map[string]int{}}
	records, bad, err := e.walk(names, func(r record.Summary) {
		for _, h := range s.in(r, &t) {
			if asJSON {
				fmt.Fprintln(e.out, h.json())
				continue
			}
			fmt.Fprint(e.out, h.text())
		}
	})
	if err != nil {
		return err
	}
	to := e.out
	if asJSON {
		to = e.err
	}
	for _, l := range t.lines(s, records, bad) {
		fmt.Fprintln(to, oneLine(l))
	}
	return nil
}

// holds is whether text holds a part, in any case; an empty part is in all.
func holds(text, part string) bool {
	return strings.Contains(strings.ToLower(text), strings.ToLower(strings.TrimSpace(part)))
}
