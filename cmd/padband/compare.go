package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"padband/calib/agreement"
	"padband/charts"
	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/readers"
)

// compareOptions are the flags of compare.
type compareOptions struct {
	chart, limit, readers, html, figures, against, strips string
	knownTo                                               float64
	json, csv, force                                      bool
}

func compareFlags(c command) (*pflag.FlagSet, *compareOptions) {
	f, o := c.flags(), &compareOptions{}
	f.StringVar(&o.chart, "chart", "", "chart `FILE`, or the name of a bundled chart: gives the swatch steps")
	f.StringVar(&o.limit, "limit", "", "count the samples on opposite sides of `LIMIT`: \"10 mg/L as N\", \"6.5-8.5\" or a set such as us-epa")
	f.StringVar(&o.readers, "readers", "", "compare only these two: `A,B`; differences are A minus B")
	f.Float64Var(&o.knownTo, "known-to", 0, "say how many samples would tell the limits of agreement to within `N`, in the calls' unit")
	onOff(f, &o.json, "json", "print one JSON object a comparison, one a line")
	onOff(f, &o.csv, "csv", "print the pairs as a table")
	f.StringVar(&o.strips, "strips", "", "of two readings: `one` or two; the photos show one strip, or two of the same sample")
	f.StringVar(&o.against, "against", "", "hold one reading against another method's `VALUE`: \"12 +- 1 gr/gal\"")
	f.StringVar(&o.html, "html", "", "also write it as a page to `FILE`")
	f.StringVar(&o.figures, "figures", "", "also write the figures as SVG and PNG into `DIR`")
	onOff(f, &o.force, "force", "write over files that are there")
	return f, o
}

func runCompare(e env, c command, args []string) int {
	f, o := compareFlags(c)
	if goOn, code := e.parse(c, f, args); !goOn {
		return code
	}
	if err := o.check(f); err != nil {
		return e.misuse(c, f, err)
	}
	compare := func() error { return e.compareCalls(f.Args(), *o) }
	if isReading(f.Arg(0)) {
		compare = func() error { return e.compareReadings(f.Args(), *o) }
	}
	if err := compare(); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// forCalls and forReadings are the flags that go with one of the two only.
var (
	forCalls    = []string{"chart", "limit", "readers", "known-to", "csv", "html", "figures", "force"}
	forReadings = []string{"strips", "against"}
)

// check says what is wrong with a call.
func (o compareOptions) check(f *pflag.FlagSet) error {
	files := f.Args()
	switch {
	case len(files) == 0:
		return errors.New("name a file of calls, or the reading files of one sample")
	case isReading(files[0]):
		return o.checkReadings(f, files)
	case slices.ContainsFunc(files, isReading):
		return errors.New("compare takes files of calls, or two files that end in .reading.json")
	case o.json && o.csv:
		return errors.New("take one of --json and --csv")
	case f.Changed("known-to") && !(o.knownTo > 0):
		return errors.New("--known-to takes a number over 0")
	}
	return without(f, forReadings, "a reading file")
}

func (o compareOptions) checkReadings(f *pflag.FlagSet, files []string) error {
	switch {
	case o.against != "" && len(files) != 1:
		return errors.New("--against takes one reading file")
	case o.against == "" && len(files) != 2:
		return errors.New("name two reading files, or one with --against")
	case o.against != "" && o.strips != "":
		return errors.New("--strips goes with two reading files")
	case o.strips != "" && o.strips != "one" && o.strips != "two":
		return errors.New("--strips takes one or two")
	}
	return without(f, forCalls, "a file of calls")
}

// without refuses flags that go with another kind of file.
func without(f *pflag.FlagSet, names []string, kind string) error {
	for _, n := range names {
		if f.Changed(n) {
			return fmt.Errorf("--%s goes with %s", n, kind)
		}
	}
	return nil
}

// compareCalls compares the readers of one file of calls, or of several taken
// together. Files are written before anything is printed.
func (e env) compareCalls(names []string, o compareOptions) error {
	joined, err := readJoined(names)
	if err != nil {
		return err
	}
	calls, name := joined.calls, joined.name()
	opt, err := o.options()
	if err != nil {
		return err
	}
	all, err := calls.Compare(opt)
	if err != nil {
		return fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	joined.nameLeft(all)
	if err := o.limitMissed(all); err != nil {
		return err
	}
	return e.showCompared(name, all, o)
}

// readCalls reads a file of calls as it comes.
func readCalls(name string) (*agreement.Calls, error) {
	info, err := os.Stat(name) // before opening it: a pipe that is opened waits for its writer
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, errors.New("there is no such file; check the name and the folder")
	case err == nil && !info.Mode().IsRegular():
		return nil, errors.New("is a pipe or a device, not an ordinary file; save it and name the file")
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w; check its permissions", pathless(err))
	}
	defer f.Close()
	return agreement.Read(f)
}

// pathless is what the system says, without the name it says it of.
func pathless(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// options are the library's for the flags.
func (o compareOptions) options() (opt agreement.Options, err error) {
	opt.Wanted = o.knownTo
	if o.readers != "" {
		a, b, ok := strings.Cut(o.readers, ",")
		a, b = strings.TrimSpace(a), strings.TrimSpace(b)
		if !ok || a == "" || b == "" || a == b {
			return opt, errors.New("--readers takes two names with a comma between them, such as Ann,Bob")
		}
		opt.Readers = [2]string{a, b}
	}
	if o.chart != "" {
		c, err := beside.NamedChart(o.chart)
		if err != nil {
			return opt, err
		}
		opt.Chart = &c.Chart
	}
	opt.LimitFor, err = limitFor(o.limit)
	return opt, err
}

// showCompared writes the files and prints the comparisons.
func (e env) showCompared(name string, all []agreement.Comparison, o compareOptions) error {
	if err := o.writeCompared(name, all); err != nil {
		return err
	}
	if o.csv {
		data, err := readers.CSV(all)
		if err == nil {
			_, err = e.out.Write(data)
		}
		return err
	}
	if !o.json {
		fmt.Fprint(e.out, readers.Text(all)) // a failure is kept and told at the end of run
		return nil
	}
	for _, c := range all {
		data, err := readers.JSON(c, version)
		if err != nil {
			return fmt.Errorf("the comparison is no JSON: %w; print it without --json", err)
		}
		e.out.Write(append(data, '\n'))
	}
	return nil
}

// analytesOf are the analytes compared, as a limit is looked up for them.
func analytesOf(all []agreement.Comparison) (out []charts.Analyte) {
	for _, c := range all {
		out = append(out, charts.Analyte{Name: c.Analyte, Unit: c.Unit, As: c.As})
	}
	return out
}
