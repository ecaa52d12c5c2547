package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/usage"
	"padband/cmd/padband/internal/words"
)

// chartVerbs are the words that may follow chart.
var chartVerbs = []string{"list", "show", "check", "remember"}

// chartOptions are the flags of chart. Each goes with one of its verbs only.
type chartOptions struct {
	json, force bool
	marks, lot  string
}

// chartFlags adds the flags of chart.
func chartFlags(f *pflag.FlagSet) action {
	o := &chartOptions{}
	onOff(f, &o.json, "json", "with show: print the chart's own file, to save and change")
	f.StringVar(&o.marks, "marks", "", "with remember: marks `FILE` (default PHOTO.marks.json beside the photo)")
	f.StringVar(&o.lot, "lot", "", "with remember: `TEXT`: the lot of the bottle (default: that of the marks)")
	onOff(f, &o.force, "force", "with remember: replace what is remembered of this lot")
	return o.run
}

// run does what the verb says, which is the first argument; the other arguments are
// names or files of charts, and of a photo. A flag that the verb does not take is a wrong
// call, and is said before any file is opened.
func (o *chartOptions) run(e env, c called) int {
	verb, names := c.Arg(0), c.Args()[min(1, c.NArg()):]
	switch {
	case o.json && verb != "show":
		return e.misuse(c, errors.New("--json goes with chart show"))
	case (o.force || o.marks != "" || c.Changed("lot")) && verb != "remember":
		return e.misuse(c, errors.New("--marks, --lot and --force go with chart remember"))
	case verb == "list" && len(names) == 0:
		listCharts(e.out)
		return exitOK
	case verb == "show" && len(names) == 1:
		return e.showChart(names[0], o.json)
	case verb == "check" && len(names) > 0:
		return e.checkCharts(names)
	case verb == "remember" && len(names) == 2:
		if err := e.remember(names[0], names[1], o); err != nil {
			e.fail(err)
			return exitError
		}
		return exitOK
	}
	return e.misuse(c, chartCall(verb, names))
}

// remember lets a chart's file keep how its swatches look in a photo, and prints what
// is kept. A bundled chart has no file to keep it in. All that can be refused is refused
// before the file is written, which then is replaced as a whole: a photo that is not
// clear, and a lot that the file remembers already, leave every byte of it as it was.
// What is written adds to the file's own bytes, so that a person's order and spacing stay.
func (e env) remember(chart, photo string, o *chartOptions) error {
	if _, bundled := charts.BundledFile(chart); bundled {
		return fmt.Errorf("%s is bundled and has no file to remember in; save it with padband chart show --json %s, and name that file",
			chart, chart)
	}
	in, err := readInput(photo, o.marks, chart)
	if err != nil {
		return withNaming(err, true)
	}
	r, err := strip.Read(strip.Input{Photo: in.photo, Chart: in.chart.Chart, Marks: in.marks, Limits: photoLimits(usualMegapixels)})
	if err != nil {
		return fmt.Errorf("%s: %w", input.Shown(photo), withMarks(err, in.marksName))
	}
	p, err := r.PrintColours(o.lot)
	var unclear *strip.UnclearError
	switch {
	case errors.As(err, &unclear):
		text := words.NotRemembered(unclear)
		if unclear.Why == strip.UnclearLot {
			text += ", or with --lot"
		}
		return fmt.Errorf("%s: %s", input.Shown(photo), text)
	case err != nil:
		return fmt.Errorf("%s: %w", input.Shown(photo), err)
	}
	if was, known := in.chart.Of(p.Lot); known && !o.force {
		return fmt.Errorf("%s remembers lot %s of %s already; replace that with --force", input.Shown(chart), p.Lot, was.Day)
	}
	data, err := charts.Remember(in.chart.Data, p)
	if err != nil {
		return fmt.Errorf("%s: %w", input.Shown(chart), err)
	}
	folder, name := filepath.Split(chart)
	if err := writeWhole(filepath.Clean(folder), []hosted.File{{Name: name, Data: data}}, true); err != nil {
		return fmt.Errorf("%s: %w", input.Shown(chart), err)
	}
	fmt.Fprintf(e.out, "%s:\n%s", input.Shown(chart), report.PrintColours(in.chart.Chart, p))
	return nil
}

// chartCall says what is wrong with a call of chart.
func chartCall(verb string, names []string) error {
	switch verb {
	case "":
		return errors.New("say what to do: list, show, check or remember")
	case "list":
		return fmt.Errorf("chart list takes no name; chart show %s shows that chart", input.Shown(names[0]))
	case "show":
		return errors.New("name one chart to show")
	case "check":
		return errors.New("name a chart file to check")
	case "remember":
		return errors.New("name a chart's file and one clear photo of it by daylight")
	}
	hint := "it is list, show, check or remember"
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
