package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/history/difference"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/sshsig"
	"padband/cmd/padband/internal/record/stamp"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/report/paper"
)

// reportOptions are the flags of report.
type reportOptions struct {
	out, signers, what string
	csv, force         bool
}

// reportFlags adds the flags of report. A page is written into a file and a table
// to standard output, unless --out says otherwise.
func reportFlags(f *pflag.FlagSet) action {
	o := &reportOptions{}
	f.StringVarP(
		&o.out,
		"out",
		"o",
		"",
		"write to `FILE`; - is standard output (default RECORD.report.html or AFTER.difference.html, here; with --csv standard output)",
	)
	f.StringVar(&o.signers, "signers", "", "who may sign: an allowed-signers `FILE` as ssh-keygen reads it")
	f.StringVar(&o.what, "what", "", "with two records: `TEXT`, what was done between, such as \"softener put in\"")
	onOff(f, &o.csv, "csv", "the readings as a table instead of a page")
	onOff(f, &o.force, "force", "write over a file that is there")
	return o.run
}

// run checks the call. A record with faults is shown and still exits with 1, so
// that a script notices.
func (o *reportOptions) run(e env, c called) int {
	switch {
	case c.NArg() != 1 && c.NArg() != 2:
		return e.misuse(c, errors.New("report takes one record, or two: before and after"))
	case c.NArg() == 2 && o.csv:
		return e.misuse(c, errors.New("--csv goes with one record; ask for the table of each"))
	case c.NArg() == 1 && o.what != "":
		return e.misuse(c, errors.New("--what goes with two records"))
	}
	faults, err := e.report(c.Args(), *o)
	if err != nil {
		e.fail(err)
	}
	if err != nil || faults > 0 {
		return exitError
	}
	return exitOK
}

// report makes the page or the table and writes it. A record with faults is
// still shown, with them on it; they are counted.
func (e env) report(names []string, o reportOptions) (faults int, err error) {
	var sheets []record.Sheet
	for _, name := range names {
		s, err := openSheet(name, o.signers)
		if err != nil {
			return 0, err
		}
		if n := s.Result.Faults(); n > 0 {
			e.fail(fmt.Errorf("%s: %s in this record, named on the report; do not rely on it", input.Shown(name), lines.Count(n, "fault")))
			faults += n
		}
		sheets = append(sheets, s)
	}
	data, err := pageOf(sheets, o)
	if err != nil {
		return faults, err
	}
	return faults, e.put(data, o, names)
}

// pageOf makes what was asked for, whole, before anything of it is written.
func pageOf(sheets []record.Sheet, o reportOptions) ([]byte, error) {
	switch {
	case o.csv:
		return report.CSV(sheets[0].Source)
	case len(sheets) == 1:
		return paper.Page(sheets[0].Input)
	}
	return difference.Page(difference.Of(sheets[0], sheets[1], o.what))
}

// openSheet reads one record.
func openSheet(name, signers string) (s record.Sheet, err error) {
	opt := record.Options{Now: time.Now(), Limits: photoLimits(usualMegapixels)}
	if signers != "" {
		if opt.Signers, err = openSigners(signers); err != nil {
			return s, fmt.Errorf("%s: %w", input.Shown(signers), err)
		}
	}
	if s, err = sheetOf(name, opt); err != nil {
		return s, fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	return s, nil
}

// sheetOf is a record's sheet, its signature checked; the error does not name the record.
func sheetOf(name string, opt record.Options) (record.Sheet, error) {
	root, err := bag.Open(name)
	if err != nil {
		return record.Sheet{}, err
	}
	defer root.Close()
	opt.Check, opt.Stamp, opt.Ways = sshsig.Check, stamp.Check, recordWays
	return opt.Sheet(root, version)
}

// put writes the page to its file, or to standard output.
func (e env) put(data []byte, o reportOptions, names []string) error {
	switch {
	case o.out == "" && o.csv:
		o.out = "-"
	case o.out == "":
		o.out = recordStem(names[len(names)-1]) + []string{".report.html", ".difference.html"}[len(names)-1]
	}
	return e.writePage(data, o.out, o.force)
}

// writePage writes a file that is to be looked at; - is standard output.
func (e env) writePage(data []byte, name string, force bool) error {
	if name == "-" {
		_, err := e.out.Write(data)
		return err
	}
	var exists *hosted.ExistsError
	err := writeWhole(filepath.Dir(name), []hosted.File{{Name: filepath.Base(name), Data: data}}, force)
	switch {
	case errors.As(err, &exists):
		return fmt.Errorf(
			"%s: is there already with another content and was left as it is; name another with --out, or replace it with --force",
			input.Shown(name),
		)
	case err != nil:
		return fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	_, err = fmt.Fprintf(e.out, "wrote %s; open it in a browser, and print it from there\n", input.Shown(name))
	return err
}

// recordStem is a record's name without its folder and its ending.
func recordStem(name string) string {
	if full, err := filepath.Abs(name); err == nil {
		name = full // of "." too
	}
	return strings.TrimSuffix(filepath.Base(name), ".zip")
}
