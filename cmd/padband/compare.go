package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"padband/calib/agreement"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/readers"
)

// compareOptions are the flags of compare.
type compareOptions struct {
	chart, limit, readers, html, figures, against, strips string
	knownTo                                               float64
	json, csv, force                                      bool
}

// compareFlags adds the flags of all kinds of comparison; which of them go with
// which kind is checked when the files are known.
func compareFlags(f *pflag.FlagSet) action {
	o := &compareOptions{}
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
	return o.run
}

// run tells the kind of comparison by the first file: calls stand in a table,
// readings in a reading file or a record.
func (o *compareOptions) run(e env, c called) int {
	if err := o.check(c.FlagSet); err != nil {
		return e.misuse(c, err)
	}
	compare := func() error { return e.compareCalls(c.Args(), *o) }
	if isReading(c.Arg(0)) {
		compare = func() error { return e.compareReadings(c.Args(), *o) }
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

// check says what is wrong with a call. Files of calls and readings do not mix:
// calls are of many samples by two readers, two readings are of one sample.
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

// checkReadings says what is wrong with a call that compares readings. Two of
// them, or one and the value of another method, make a comparison.
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
	joined, err := readers.ReadFiles(names)
	if err != nil {
		return err
	}
	opt, err := o.options()
	if err != nil {
		return err
	}
	all, err := joined.Compare(opt)
	if err != nil {
		return err
	}
	err = readers.CheckLimit(o.limit, all)
	var none *readers.NoLimitError
	switch {
	case errors.As(err, &none):
		return fmt.Errorf("--limit %q %w", o.limit, err)
	case err != nil:
		return err
	}
	return e.showCompared(joined.Name(), all, o)
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
		c, err := input.NamedChart(o.chart)
		if err != nil {
			return opt, err
		}
		opt.Chart = &c.Chart
	}
	opt.LimitFor, err = readers.LimitFor(o.limit, time.Now())
	return opt, err
}

// showCompared writes the files and prints the comparisons. What cannot be written
// is known before the first line is printed.
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
		fmt.Fprint(e.out, readers.Text(all)+flagsFor(all)) // a failure is kept and told at the end of run
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

// flagsFor names the flags that help with what the text of comparisons leaves open.
func flagsFor(all []agreement.Comparison) string {
	var b strings.Builder
	for _, hint := range []struct {
		text   string
		needed func(agreement.Comparison) bool
	}{
		{"The flag --chart names the chart, and --limit the limit that matters.",
			func(c agreement.Comparison) bool { return c.Verdict == agreement.NoMeasure }},
		{"With --json, up to 1000 of the rows left out are listed.",
			func(c agreement.Comparison) bool { return readers.Unlisted(c) > 0 }},
	} {
		if slices.ContainsFunc(all, hint.needed) {
			b.WriteString("\n")
			lines.Paragraph(&b, "", hint.text)
		}
	}
	return b.String()
}

// writeCompared writes the page and the figures that were asked for; all are
// made before the first is written.
func (o compareOptions) writeCompared(name string, all []agreement.Comparison) error {
	var page, figures []hosted.File
	if o.html != "" {
		data, err := readers.HTML(filepath.Base(name), all)
		if err != nil {
			return fmt.Errorf("the page could not be made: %w; print it without --html", err)
		}
		page = []hosted.File{{Name: filepath.Base(o.html), Data: data}}
	}
	if o.figures != "" {
		var err error
		if figures, err = readers.Files(all); err != nil {
			return fmt.Errorf("the figures could not be drawn: %w; print it without --figures", err)
		}
		if len(figures) == 0 {
			return errors.New("there is nothing to draw: no sample has calls of both readers that can be compared; leave --figures out")
		}
		if err := os.MkdirAll(o.figures, 0o777); err != nil {
			return fmt.Errorf("%s: cannot be made: %w; name another folder with --figures", input.Shown(o.figures), input.Cause(err))
		}
	}
	if err := putFiles(filepath.Dir(o.html), page, o.force, "--html"); err != nil {
		return err
	}
	return putFiles(o.figures, figures, o.force, "--figures")
}

// compareReadings compares two reading files, or one with another method's value.
func (e env) compareReadings(names []string, o compareOptions) error {
	a, err := openReadings(names[0])
	if err != nil {
		return err
	}
	var gaps []agreement.Gap
	var notes []string
	if o.against != "" {
		gaps, err = gapAgainst(a, o.against)
	} else {
		var b []agreement.Single
		if b, err = openReadings(names[1]); err == nil {
			gaps, notes, err = gapsOfTwo(a, b, o.strips)
		}
	}
	if err != nil {
		return err
	}
	if err := e.showGaps(gaps, o.json); err != nil {
		return err
	}
	for _, n := range notes {
		if !o.json {
			fmt.Fprintf(e.out, "\n%s\n", n)
		}
	}
	return nil
}

// gapAgainst compares the one reading that the value of --against can be of.
func gapAgainst(all []agreement.Single, text string) ([]agreement.Gap, error) {
	value, err := agreement.ParseAgainst(text)
	if err != nil {
		return nil, err
	}
	gaps, err := readers.Against(all, value)
	if err != nil {
		return nil, fmt.Errorf("--against %q %w", text, err)
	}
	return gaps, nil
}

// gapsOfTwo compares two reading files by what --strips says of them.
func gapsOfTwo(a, b []agreement.Single, strips string) (gaps []agreement.Gap, notes []string, err error) {
	known := map[string]agreement.Relation{"one": agreement.OneStrip, "two": agreement.TwoStrips}[strips]
	gaps, notes, err = readers.Two(a, b, known)
	switch {
	case errors.Is(err, readers.ErrOnePhoto), errors.Is(err, readers.ErrOneStrip):
		err = fmt.Errorf("%w; leave --strips out", err)
	case errors.Is(err, readers.ErrTwoPhotos):
		err = fmt.Errorf("%w: --strips one, or --strips two", err)
	}
	return gaps, notes, err
}

// showGaps prints the comparisons.
func (e env) showGaps(gaps []agreement.Gap, asJSON bool) error {
	for i, g := range gaps {
		text := []byte(readers.GapText(g))
		if asJSON {
			data, err := readers.GapJSON(g, version)
			if err != nil {
				return fmt.Errorf("the comparison is no JSON: %w; print it without --json", err)
			}
			text = append(data, '\n')
		} else if i > 0 {
			text = append([]byte("\n"+strings.Repeat("-", 80)+"\n\n"), text...)
		}
		if _, err := e.out.Write(text); err != nil {
			return nil // it is told at the end of run
		}
	}
	return nil
}
