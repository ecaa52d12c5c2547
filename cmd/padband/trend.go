package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"padband/charts/limits"
	"padband/cmd/padband/internal/history"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
)

// trendOptions are the flags of trend.
type trendOptions struct {
	chosen
	limit, plot string
	csv, force  bool
}

// trendFlags adds the flags of trend; those that choose records are shared with
// find.
func trendFlags(f *pflag.FlagSet) action {
	o := &trendOptions{}
	o.chosen.add(f)
	f.StringVar(&o.limit, "limit", "", "show how values stand to this `LIMIT`, such as \"10 mg/L as N\" or \"6.5-8.5\"")
	f.StringVar(&o.plot, "plot", "", "draw one place, point and analyte into this `FILE`, .svg or .png")
	onOff(f, &o.csv, "csv", "print one table as CSV")
	onOff(f, &o.force, "force", "replace the plot's file when it is there")
	return o.run
}

// trendHelp says how records are put together and tested.
const trendHelp = `
Puts the readings of all records below the folders in order of time: one table
for each place, sampling point and analyte. Records are not verified: padband
verify does that.

Whether a series rises or falls is shown by the Mann-Kendall test, two-sided at
5 %. Each pair of records counts by how surely its ranges put it in order: those
of the colours within one kit lot and chart, else those of the water. A pair
that is past the same end of the chart counts nothing, nor one without its kit
lot whose ranges of the water overlap. Lots err as a whole, so the test compares
orders within lots and orders of whole lots. It needs five records of one lot,
or of five lots; readings graded "Do not use this reading" stand in the table
and not in the test. A photo that is kept twice, or a dip that was photographed
twice, counts once. A time without an offset is taken as the place's clock.
`

// run reads all flags before the first folder is opened, the plot's ending too.
func (o *trendOptions) run(e env, c called) int {
	if c.NArg() == 0 {
		return e.misuse(c, errors.New("trend takes the folders that the records are in"))
	}
	g, err := o.gathering()
	if err != nil {
		return e.misuse(c, err)
	}
	if err := e.trend(c.Args(), g, *o); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// gathering is an empty one with what the flags choose.
func (o trendOptions) gathering() (*history.Gathering, error) {
	c, err := o.choice()
	if err != nil {
		return nil, err
	}
	g := &history.Gathering{Choice: c}
	if o.limit != "" {
		l, err := limits.ParseLimit(o.limit)
		if err != nil {
			return nil, fmt.Errorf("--limit: %w", err)
		}
		g.Limit = &l
	}
	if ext := filepath.Ext(o.plot); o.plot != "" && ext != ".svg" && ext != ".png" {
		return nil, fmt.Errorf("--plot %s: name a file that ends in .svg or .png", input.Shown(o.plot))
	}
	return g, nil
}

// trend gathers the series of all records, and prints each with what was left out
// and why, and what the test means at the end. The plot is written before anything is
// printed, so that a failure leaves no half of an answer.
func (e env) trend(names []string, g *history.Gathering, o trendOptions) error {
	records, bad, err := e.walk(names, g.Add)
	if err != nil {
		return err
	}
	all, err := g.All(records)
	if err != nil {
		return withChoices(err)
	}
	if o.plot != "" {
		if err := plotOne(all, o.plot, o.force); err != nil {
			return err
		}
	}
	said := append(g.Lines(), leftOut(g.Undated, bad)...)
	if o.csv {
		return e.trendCSV(all, append(said, notesOf(all)...))
	}
	for _, s := range all {
		fmt.Fprintln(e.out, history.Text(s))
	}
	for _, l := range said {
		fmt.Fprintln(e.out, l)
	}
	fmt.Fprint(e.out, strings.TrimPrefix(history.Meaning(), "\n"))
	return nil
}

// withChoices adds, to why there is no series, the flags that choose others: the
// library says only that there are too many, none, or too long a one.
func withChoices(err error) error {
	var none *history.NoneError
	var long *history.LongError
	switch {
	case errors.Is(err, history.ErrMany):
		return fmt.Errorf("%w; choose some with --place, --point or --analyte", err)
	case errors.As(err, &long):
		return fmt.Errorf("%w; choose some with --from, --until or --lot", err)
	case errors.Is(err, history.ErrPresence):
		return fmt.Errorf("%w; padband find lists them", err)
	case errors.As(err, &none):
		return fmt.Errorf("%w by the flags", err)
	}
	return err
}

// trendCSV prints the table; what a text would say beside it goes to standard error.
func (e env) trendCSV(all []history.Series, said []string) error {
	data, err := history.CSV(all)
	if err != nil {
		return err
	}
	_, err = e.out.Write(data)
	for _, l := range said {
		fmt.Fprintln(e.err, lines.Blanked(l))
	}
	return err
}

// notesOf are what the series have to say, each with where it belongs: a table has
// no room for it.
func notesOf(all []history.Series) (out []string) {
	for _, s := range all {
		for _, n := range s.Notes {
			out = append(out, s.Analyte+", "+s.Where+": "+n)
		}
	}
	return out
}

// plotOne draws the one series that was chosen.
func plotOne(all []history.Series, name string, force bool) error {
	if len(all) != 1 {
		return fmt.Errorf(
			"--plot: the records hold %s of place, point and analyte; choose one with --place, --point and --analyte",
			fmt.Sprint(len(all), " series"),
		)
	}
	data, err := history.Plot(all[0], strings.TrimPrefix(filepath.Ext(name), "."))
	if err == nil {
		err = writeWhole(filepath.Dir(name), []hosted.File{{Name: filepath.Base(name), Data: data}}, force)
	}
	var exist *hosted.ExistsError
	if errors.As(err, &exist) {
		return fmt.Errorf("%s: is there already and was left as it is; name another file, or use --force", input.Shown(name))
	}
	if err != nil {
		return fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	return nil
}
