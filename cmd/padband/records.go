package main

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/history"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/record"
)

// chosen are the flags that choose records, which find and trend share.
type chosen struct {
	analyte, place, point, lot, from, until string
}

// add adds the flags by which records are chosen. All are left out at first, and
// then every record counts.
func (o *chosen) add(f *pflag.FlagSet) {
	f.StringVar(&o.analyte, "analyte", "", "only this `NAME`, such as nitrate")
	f.StringVar(&o.place, "place", "", "only places with this `TEXT` in them")
	f.StringVar(&o.point, "point", "", "only sampling points with this `TEXT` in them")
	f.StringVar(&o.lot, "lot", "", "only this lot of the kit, `TEXT`")
	f.StringVar(&o.from, "from", "", "only photos of this `DAY` (2026-11-14) or later")
	f.StringVar(&o.until, "until", "", "only photos of this `DAY` or earlier")
}

// choice is what the flags choose.
func (o chosen) choice() (history.Choice, error) {
	for flag, day := range map[string]string{"from": o.from, "until": o.until} {
		if _, err := time.Parse(time.DateOnly, day); day != "" && err != nil {
			return history.Choice{}, fmt.Errorf("--%s %q is not a day such as 2026-11-14", flag, day)
		}
	}
	if o.from != "" && o.until != "" && o.from > o.until {
		return history.Choice{}, errors.New("--from is after --until; no day is in both")
	}
	return history.Choice{Analyte: o.analyte, Place: o.place, Point: o.point, Lot: o.lot, From: o.from, Until: o.until}, nil
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
			e.fail(fmt.Errorf("%s: %w; it was passed over", input.Shown(path), why))
		})
		if records+bad == before && err == nil {
			err = fmt.Errorf("%s: holds no record; name the folder that records were kept in", input.Shown(name))
		}
	}
	if records == 0 && err == nil {
		err = errors.New("no record could be read")
	}
	return records, bad, err
}

// leftOut says what the flags of days left out, and what could not be read.
func leftOut(undated, bad int) (out []string) {
	if undated > 0 {
		out = append(out, "left out by --from or --until: "+lines.Count(undated, "record")+" without a time")
	}
	if bad > 0 {
		out = append(out, "not read: "+lines.Count(bad, "record")+", named above")
	}
	return out
}
