package main

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"padband/calib/strip"
	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/record"
)

// mostAttached is the most bytes of one attached file.
const mostAttached = 512 << 20

// keepOptions are the flags of keep.
type keepOptions struct {
	into, marks, chart, sign string
	attach                   []string
	zip                      bool
	said                     map[string]*string // facts, by name
}

func keepFlags(c command) (*pflag.FlagSet, *keepOptions) {
	f, o := c.flags(), &keepOptions{said: map[string]*string{}}
	f.StringVar(&o.into, "into", "", "keep the record in the folder `DIR`, which must exist")
	f.StringVar(&o.marks, "marks", "", "marks `FILE` (default PHOTO.marks.json beside the photo)")
	f.StringVar(&o.chart, "chart", "", "chart `FILE`, or the name of a bundled chart")
	f.StringArrayVar(&o.attach, "attach", nil, "keep this `FILE` too, such as a photo of the label; may be repeated")
	onOff(f, &o.zip, "zip", "keep one zip file instead of a folder")
	f.StringVar(&o.sign, "sign", "", "sign with this SSH `KEY` (or its .pub file, through the agent)")
	for _, a := range record.Sample {
		o.said[a.Name] = f.String(a.Name, "", "`TEXT`: "+a.Ask)
	}
	return f, o
}

func runKeep(e env, c command, args []string) int {
	f, o := keepFlags(c)
	if goOn, code := e.parse(c, f, args); !goOn {
		return code
	}
	switch {
	case f.NArg() != 1:
		return e.misuse(c, f, errors.New("keep takes one photo"))
	case o.into == "":
		return e.misuse(c, f, errors.New("name the folder for the record with --into"))
	}
	if err := e.keep(f.Arg(0), *o); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// keep reads the photo, gathers the record and writes it.
func (e env) keep(name string, o keepOptions) error {
	m, err := e.gather(name, o)
	if err != nil {
		return err
	}
	if o.sign != "" {
		s, done, err := record.OpenKey(o.sign)
		if err != nil {
			return fmt.Errorf("%s: %w", beside.Shown(o.sign), err)
		}
		defer done()
		m.Signer = s
	}
	files, err := m.Files()
	if err != nil {
		return err
	}
	record.Sweep(o.into, time.Now())
	folder, write := m.FolderName(), record.Write
	if o.zip {
		write = record.WriteZipFile
	}
	if m.Result.Photo.Facts.HasPosition {
		fmt.Fprintln(e.err, "padband: the photo holds the position it was taken at, and so does the record; mind that before handing it on")
	}
	if err := write(o.into, folder, files); err != nil {
		return fmt.Errorf("%s: %w", beside.Shown(o.into), err)
	}
	if o.zip {
		folder += ".zip"
	}
	e.kept(filepath.Join(o.into, folder), files, m)
	return nil
}

// kept says what was kept.
func (e env) kept(path string, files []record.File, m record.Made) {
	fmt.Fprintf(e.out, "kept %s\n", beside.Shown(path))
	for _, f := range files {
		switch f.Name {
		case record.TagManifest:
			fmt.Fprintf(e.out, "fingerprint %s (write it down, or have it countersigned today)\n", record.Fingerprint(f.Data))
		case record.SignaturePath:
			fmt.Fprintln(e.out, "signed: this says who signed, not when, and the signer could sign again")
		}
	}
	if missing := m.Missing(); len(missing) > 0 {
		fmt.Fprintf(e.out, "not known, left out: %s\n", strings.Join(missing, ", "))
	}
}

// gather reads the photo with its files and what is known of it.
func (e env) gather(name string, o keepOptions) (m record.Made, err error) {
	in, err := readInput(name, o.marks, o.chart)
	if err != nil {
		return m, fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	r, err := strip.Read(strip.Input{Photo: in.photo, Chart: in.chart.Chart, Marks: in.marks})
	if err != nil {
		return m, fmt.Errorf("%s: %w", beside.Shown(name), withMarks(err, in.marksName))
	}
	attached, err := attachments(o.attach)
	return record.Made{
		Name: filepath.Base(name), Photo: in.photo, Chart: in.chart, Marks: in.marksData, Result: r, Received: record.FromFile,
		Facts: e.facts(r, o.said), Attached: attached, Version: version, Day: time.Now().Format(time.DateOnly),
	}, err
}

// facts are the flags, else the marks' sample, else the photo, else what a person
// at the terminal answers; else empty.
func (e env) facts(r *strip.Result, flags map[string]*string) []record.Fact {
	said := map[string]string{}
	for name, v := range flags {
		said[name] = *v
	}
	out := record.FactsOf(r, said)
	ask := e.asker()
	for i, a := range record.Sample {
		if out[i].Value == "" {
			out[i].Value = ask(a.Ask)
		}
	}
	return out
}

// asker asks at a terminal and answers nothing elsewhere.
func (e env) asker() func(string) string {
	f, ok := e.in.(*os.File)
	if !ok {
		return func(string) string { return "" }
	}
	if !terminal(f) {
		return func(string) string { return "" }
	}
	in := bufio.NewScanner(f)
	return func(what string) string {
		fmt.Fprintf(e.err, "%s (empty when not known): ", what)
		if !in.Scan() {
			return ""
		}
		return strings.TrimSpace(in.Text())
	}
}

// attachments reads the files to be kept too; links are refused.
func attachments(names []string) (out []record.File, err error) {
	for _, name := range names {
		if info, err := os.Lstat(name); err == nil && info.Mode()&fs.ModeSymlink != 0 {
			return nil, fmt.Errorf("%s: is a link; name the file itself", beside.Shown(name))
		}
		data, err := beside.ReadFile(name, mostAttached)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", beside.Shown(name), err)
		}
		out = append(out, record.File{Name: filepath.Base(name), Data: data})
	}
	return out, nil
}
