package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/pflag"
	"golang.org/x/term"

	"padband/calib"
	"padband/calib/strip"
	"padband/charts"
	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
	"padband/cmd/padband/internal/record/sshsig"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// mostAttached is the most bytes of one attached file.
const mostAttached = 512 << 20

// keepOptions are the flags of keep.
type keepOptions struct {
	into, marks, chart, sign string
	checkedBy                string
	attach                   []string
	zip                      bool
	said                     map[string]*string // facts, by name
	askOptions
	ask strip.Ask // what askOptions ask
}

// keepFlags adds the flags of keep. Each fact that a person may be asked for has
// a flag of its own, so that a script can give all of them.
func keepFlags(f *pflag.FlagSet) action {
	o := &keepOptions{said: map[string]*string{}}
	f.StringVar(&o.into, "into", "", "keep the record in the folder `DIR`, which is made when it is not there")
	f.StringVar(&o.marks, "marks", "", "marks `FILE` (default PHOTO.marks.json beside the photo)")
	f.StringVar(&o.chart, "chart", "", "chart `FILE`, or the name of a bundled chart")
	f.StringArrayVar(&o.attach, "attach", nil, "keep this `FILE` too, such as a photo of the label; may be repeated")
	o.add(f)
	onOff(f, &o.zip, "zip", "keep one zip file instead of a folder")
	f.StringVar(&o.checkedBy, "checked-by", "", "the `NAME` of who looked at outlines that the program found, and took them for right")
	f.StringVar(&o.sign, "sign", "", "sign with this SSH `KEY` (or its .pub file, through the agent)")
	o.said["light"], o.said["water"] = &o.light, &o.water
	for _, a := range record.Sample {
		if o.said[a.Name] == nil {
			o.said[a.Name] = f.String(a.Name, "", "`TEXT`: "+a.Ask)
		}
	}
	return o.run
}

// run checks the call; what is wrong with the files is told once they are read.
func (o *keepOptions) run(e env, c called) int {
	var err error
	if o.ask, err = o.askOptions.ask(); err != nil {
		return e.wrong(c, err)
	}
	switch {
	case c.NArg() != 1:
		return e.misuse(c, errors.New("keep takes one photo"))
	case c.Arg(0) == standardInput:
		return e.misuse(c, errors.New("a record keeps the photo's own file under its name; save the photo and name its file"))
	case o.into == "":
		return e.misuse(c, errors.New("name the folder for the record with --into"))
	case c.Changed("checked-by") && strings.TrimSpace(o.checkedBy) == "":
		return e.misuse(c, errors.New("--checked-by takes the name of who looked at the outlines"))
	}
	if err := e.keep(c.Arg(0), *o); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// keep reads the photo, gathers the record and writes it. The order spares a
// person: all that can be wrong without an answer is told before a question is
// asked, the key is opened before that too, and nothing is written, not even the
// folder, until the whole record has been made.
func (e env) keep(name string, o keepOptions) error {
	if err := checkFolder(o.into); err != nil { // before a person answers questions
		return err
	}
	for _, a := range record.Sample {
		if err := record.CheckFact(a.Name, *o.said[a.Name]); err != nil {
			return fmt.Errorf("--%s %w", a.Name, err)
		}
	}
	m, read, err := gather(name, o)
	if err != nil {
		return err
	}
	s, done, err := e.signer(o.sign)
	if err != nil {
		return err
	}
	defer done()
	m.Signer, m.Facts = s, e.facts(m.Result, o.said)
	if err := m.Date(read, o.ask); err != nil {
		return fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	files, err := m.Files()
	if err != nil {
		return fmt.Errorf("%s: %w", input.Shown(name), withAttaching(err))
	}
	for _, name := range positions(m) {
		fmt.Fprintf(
			e.err,
			"padband: %s holds the position it was taken at, and so does the record; mind that before handing it on\n",
			input.Shown(name),
		)
	}
	kept, err := writeRecord(o.into, m.FolderName(), files, o.zip)
	if err != nil {
		return fmt.Errorf("%s: %w", input.Shown(o.into), err)
	}
	e.kept(filepath.Join(o.into, kept), files, m)
	return nil
}

// writeRecord writes a record into a folder, which is made when it is not there
// and taken away again when the record cannot be written.
func writeRecord(parent, name string, files []bag.File, zip bool) (kept string, err error) {
	undo, err := makeFolder(parent)
	if err != nil {
		return "", err
	}
	into := host.NewFolder(parent)
	hosted.Sweep(into, time.Now())
	if kept, err = record.Write(into, name, files, zip); err != nil {
		undo()
	}
	return kept, err
}

// positions are the pictures that hold the position they were taken at. Who passes
// a record on passes that on too, so it is said; an attached file that is no
// picture holds none.
func positions(m record.Made) (out []string) {
	if m.Result.Photo.Facts.HasPosition {
		out = append(out, m.Name)
	}
	for _, a := range m.Attached {
		nothing := colorimetry.Region{} // of its pixels, but its faults
		p, err := photo.Decode(a.Data, photoLimits(usualMegapixels), nothing)
		if err == nil && p.Facts.HasPosition { // what is no picture has none
			out = append(out, a.Name)
		}
	}
	return out
}

// kept says what was kept: where, the fingerprint to write down, and what a person
// may want to know before the record is passed on, such as the position in a photo.
func (e env) kept(path string, files []bag.File, m record.Made) {
	fmt.Fprintf(e.out, "kept %s\n", input.Shown(path))
	for _, f := range files {
		switch f.Name {
		case bag.TagManifest:
			fmt.Fprintf(e.out, "fingerprint %s (write it down, or have it countersigned today)\n", record.Fingerprint(f.Data))
		case record.SignaturePath:
			fmt.Fprintln(e.out, "signed: this says who signed, not when, and the signer could sign again")
		}
	}
	if l := m.Result.Marks.Looked; l != nil && l.By != "" {
		fmt.Fprintf(e.out, "the record says that %s looked at the outlines\n", lines.Blanked(l.By))
	}
	for _, r := range m.Result.Readings {
		if r.Reliability == calib.Unreliable {
			fmt.Fprintf(e.out, "the reading of %s is not to be used, and the record says so\n", lines.Blanked(r.Analyte.Name))
		}
	}
	if missing := m.Missing(); len(missing) > 0 {
		fmt.Fprintf(e.out, "not known, left out: %s\n", strings.Join(missing, ", "))
	}
}

// gather reads the photo with its files. What was measured can be answered again
// for what else is said of the sample.
func gather(name string, o keepOptions) (m record.Made, read *strip.Measured, err error) {
	in, err := readInput(name, o.marks, o.chart)
	if err != nil {
		return m, nil, fmt.Errorf("%s: %w", input.Shown(name), withNaming(err, true))
	}
	if err := in.lookedAt(o.checkedBy, time.Now()); err != nil {
		return m, nil, fmt.Errorf("%s: %w", input.Shown(name), withLooking(err, name))
	}
	picture, err := photo.Decode(in.photo, photoLimits(usualMegapixels))
	if err != nil {
		return m, nil, fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	read, err = strip.Measure(picture, in.chart.Chart, in.marks)
	if err != nil {
		return m, nil, fmt.Errorf("%s: %w", input.Shown(name), withMarks(err, in.marksName))
	}
	// What is wrong with the question is told before a person answers others.
	r, err := read.Answer(in.marks.Sample, o.ask)
	if err != nil {
		return m, nil, fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	attached, err := attachments(o.attach)
	return record.Made{
		Name: filepath.Base(name), Photo: in.photo, Chart: in.chart, Marks: in.marksData, Result: r, Received: record.FromFile,
		Asked:    record.AskedAs(o.ask, o.files),
		Attached: attached, Version: version, Day: time.Now().Format(time.DateOnly),
	}, read, err
}

// lookedAt puts into the marks of a record who looked at outlines that the program
// found, which else are refused before the photo is decoded. It is that person's word
// and not the program's: the file beside the photo stays as it is.
func (in *photoFiles) lookedAt(by string, now time.Time) (err error) {
	by = strings.TrimSpace(by)
	switch {
	case !in.marks.Unchecked && by != "":
		return fmt.Errorf("%s does not say that its outlines are to be looked at; leave --checked-by out", input.Shown(in.marksName))
	case !in.marks.Unchecked:
		return nil
	case by == "":
		return record.ErrUnchecked
	}
	in.marks.Unchecked, in.marks.Looked = false, &charts.Looked{By: by, At: now.Format(time.RFC3339)}
	if in.marksData, err = in.marks.Encode(); err != nil {
		return fmt.Errorf("--checked-by: %w", err)
	}
	return nil
}

// withLooking adds, to why a record cannot be made of outlines that nobody looked at,
// what to do about it.
func withLooking(err error, name string) error {
	if errors.Is(err, record.ErrUnchecked) {
		return fmt.Errorf("%w; look at them with padband mark %s, or say with --checked-by who has", err, input.Shown(name))
	}
	return err
}

// attachments reads the files to be kept too; links are refused.
func attachments(names []string) (out []bag.File, err error) {
	var total int64
	for _, name := range names { // before the first is read
		info, err := os.Lstat(name)
		switch {
		case err != nil: // said when it is read
		case info.Mode()&fs.ModeSymlink != 0:
			return nil, fmt.Errorf("%s: is a link; name the file itself", input.Shown(name))
		case info.Mode().IsRegular():
			total += info.Size()
		}
	}
	if err := record.CheckAttached(len(names), total); err != nil {
		return nil, err
	}
	for _, name := range names {
		data, err := input.ReadFile(name, mostAttached)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", input.Shown(name), err)
		}
		out = append(out, bag.File{Name: filepath.Base(name), Data: data})
	}
	return out, nil
}

// facts are the flags, else the marks' sample, else the photo, else what a person
// at the terminal answers; else empty.
func (e env) facts(r *strip.Result, flags map[string]*string) []bag.Fact {
	said := map[string]string{}
	for name, v := range flags {
		said[name] = *v
	}
	out := record.FactsOf(r, said)
	ask := e.asker()
	for i, a := range record.Sample {
		if out[i].Value == "" {
			out[i].Value = e.askFact(ask, a)
		}
	}
	return out
}

// askFact asks for a fact until it can be read; what cannot is said.
func (e env) askFact(ask func(string) string, a record.SampleFact) string {
	for {
		v := ask(a.Ask)
		err := record.CheckFact(a.Name, v)
		if err == nil {
			return v
		}
		fmt.Fprintf(e.err, "that %s\n", err)
	}
}

// signer opens the key to sign with, nil when there is none; at a terminal it
// asks for a key's passphrase, which is not shown.
func (e env) signer(name string) (s record.Signer, done func(), err error) {
	if name == "" {
		return nil, func() {}, nil
	}
	var ask func() ([]byte, error)
	if f := e.atTerminal(); f != nil {
		ask = func() ([]byte, error) {
			fmt.Fprintf(e.err, "passphrase of %s: ", input.Shown(name))
			defer fmt.Fprintln(e.err)
			p, err := term.ReadPassword(int(f.Fd()))
			if err != nil || len(p) == 0 {
				return nil, errors.New("needs its passphrase, and none was given")
			}
			return p, nil
		}
	}
	s, done, err = sshsig.OpenKey(name, ask)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	return s, done, nil
}
