package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
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
	"padband/cmd/padband/internal/words"
	"padband/colorimetry"
	"padband/colorimetry/photo"
)

// keepOptions are the flags of keep.
type keepOptions struct {
	into, marks, chart, sign string
	checkedBy                string
	attach                   []string
	zip, oneStrip            bool
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
	onOff(f, &o.oneStrip, "one-strip", "keep photos of one strip in one record, with the one answer from them")
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
	case o.oneStrip && c.NArg() < 2:
		return e.misuse(c, errors.New("--one-strip takes two photos or more"))
	case o.oneStrip && o.marks != "":
		return e.misuse(c, errors.New("--marks goes with one photo; each of several needs its own marks beside it"))
	case o.oneStrip && c.Changed("taken"):
		return e.misuse(c, errors.New("--taken goes with one photo; each of several has its own time, in its file or in its marks"))
	case !o.oneStrip && c.NArg() > 1:
		return e.misuse(c, errors.New("keep takes one photo; photos of one strip go into one record with --one-strip"))
	case c.NArg() != 1 && !o.oneStrip:
		return e.misuse(c, errors.New("keep takes one photo"))
	case slices.Contains(c.Args(), standardInput):
		return e.misuse(c, errors.New("a record keeps the photo's own file under its name; save the photo and name its file"))
	case o.into == "":
		return e.misuse(c, errors.New("name the folder for the record with --into"))
	case c.Changed("checked-by") && strings.TrimSpace(o.checkedBy) == "":
		return e.misuse(c, errors.New("--checked-by takes the name of who looked at the outlines"))
	}
	if err := e.keep(c.Args(), *o); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// keep reads the photos, gathers the record and writes it. The order spares a
// person: all that can be wrong without an answer is told before a question is
// asked, the key is opened before that too, and nothing is written, not even the
// folder, until the whole record has been made.
func (e env) keep(names []string, o keepOptions) error {
	if err := checkFolder(o.into); err != nil { // before a person answers questions
		return err
	}
	for _, a := range record.Sample {
		if err := record.CheckFact(a.Name, *o.said[a.Name]); err != nil {
			return fmt.Errorf("--%s %w", a.Name, err)
		}
	}
	collect := gather
	if o.oneStrip {
		collect = gatherStrip
	}
	m, date, err := collect(names, o)
	if err != nil {
		return err
	}
	s, done, err := e.signer(o.sign)
	if err != nil {
		return err
	}
	defer done()
	m.Signer, m.Facts = s, e.facts(m, o.said)
	of := lines.List(input.ShownAll(names))
	if err := date(&m); err != nil {
		return fmt.Errorf("%s: %w", of, err)
	}
	files, err := m.Files()
	if err != nil {
		return fmt.Errorf("%s: %w", of, withAttaching(err))
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
	if m.Joined == nil && m.Result.Photo.Facts.HasPosition {
		out = append(out, m.Name)
	}
	for _, p := range photosOf(m) {
		if p.Photo.Facts.HasPosition {
			out = append(out, m.Shots[p.Index].Name)
		}
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
	for _, by := range lookers(m) {
		fmt.Fprintf(e.out, "the record says that %s looked at the outlines\n", lines.Blanked(by))
	}
	for _, r := range readingsOf(m) {
		if r.Reliability == calib.Unreliable {
			fmt.Fprintf(e.out, "the reading of %s is not to be used, and the record says so\n", lines.Blanked(r.Analyte.Name))
		}
	}
	if missing := m.Missing(); len(missing) > 0 {
		fmt.Fprintf(e.out, "not known, left out: %s\n", strings.Join(missing, ", "))
	}
}

// photosOf are the several photos of a record of one strip.
func photosOf(m record.Made) []strip.Timed {
	if m.Joined == nil {
		return nil
	}
	return m.Joined.Photos
}

// readingsOf are the readings of a record.
func readingsOf(m record.Made) []calib.Reading {
	if m.Joined != nil {
		return m.Joined.Readings
	}
	return m.Result.Readings
}

// lookers are who looked at outlines, each once.
func lookers(m record.Made) (out []string) {
	marks := []charts.Marks{}
	if m.Result != nil {
		marks = append(marks, m.Result.Marks)
	}
	for _, p := range photosOf(m) {
		marks = append(marks, p.Marks)
	}
	for _, one := range marks {
		if l := one.Looked; l != nil && l.By != "" && !slices.Contains(out, l.By) {
			out = append(out, l.By)
		}
	}
	return out
}

// gather reads the one photo with its files. date then puts what a person says of times
// and kit into the record, for which what was measured is answered again.
func gather(names []string, o keepOptions) (m record.Made, date func(*record.Made) error, err error) {
	name := names[0]
	in, err := readInput(name, o.marks, o.chart)
	if err != nil {
		return m, nil, fmt.Errorf("%s: %w", input.Shown(name), withNaming(err, true))
	}
	if err := in.lookedAt(o.checkedBy, time.Now()); err != nil {
		return m, nil, fmt.Errorf("%s: %w", input.Shown(name), withLooking(err, name))
	}
	read, r, err := in.read(o.ask)
	if err != nil {
		return m, nil, fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	m, err = o.made(in.chart)
	m.Name, m.Photo, m.Marks, m.Result, m.Received = filepath.Base(name), in.photo, in.marksData, r, record.FromFile
	return m, func(m *record.Made) error { return m.Date(read, o.ask) }, err
}

// gatherStrip is gather for photos of one strip. Nothing is kept unless each can be read,
// and somebody has looked at the marks of each.
func gatherStrip(names []string, o keepOptions) (m record.Made, date func(*record.Made) error, err error) {
	var shots []record.Shot
	var results []*strip.Result
	var of []input.ChartFile
	now := time.Now()
	ins, err := o.inputs(names)
	if err != nil {
		return m, nil, err
	}
	for i, in := range ins {
		name := names[i]
		if in.marks.Unchecked {
			if err := in.lookedAt(o.checkedBy, now); err != nil {
				return m, nil, fmt.Errorf("%s: %w", input.Shown(name), withLooking(err, name))
			}
		}
		_, r, err := in.read(o.ask)
		if err != nil {
			return m, nil, fmt.Errorf("%s: %w", input.Shown(name), err)
		}
		shots = append(shots, record.Shot{Name: filepath.Base(name), Photo: in.photo, Marks: in.marksData, Received: record.FromFile})
		results, of = append(results, r), append(of, in.chart)
	}
	j, err := strip.OneStrip(results, o.ask)
	if err != nil {
		return m, nil, words.NotOneStrip(err, input.ShownAll(names))
	}
	m, err = o.made(of[j.Photos[0].Index])
	m.Shots, m.Joined = shots, j
	return m, func(m *record.Made) error { return m.DateStrip(results, o.ask) }, err
}

// inputs are photos of one strip with the files that belong to each. A name of who looked
// is for outlines that nobody has looked at, so one of the photos must have such.
func (o keepOptions) inputs(names []string) (out []photoFiles, err error) {
	asked := false
	for _, name := range names {
		in, err := readInput(name, "", o.chart)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", input.Shown(name), withNaming(err, false))
		}
		asked, out = asked || in.marks.Unchecked, append(out, in)
	}
	if o.checkedBy != "" && !asked {
		return nil, errors.New("no marks of these photos say that outlines are to be looked at; leave --checked-by out")
	}
	return out, nil
}

// made is what a record has besides its photos.
func (o keepOptions) made(chart input.ChartFile) (record.Made, error) {
	attached, err := attachments(o.attach)
	return record.Made{
		Chart: chart, Asked: record.AskedAs(o.ask, o.files), Attached: attached, Version: version, Day: time.Now().Format(time.DateOnly),
	}, err
}

// facts are the flags, else the marks' sample, else the photo, else what a person
// at the terminal answers; else empty.
func (e env) facts(m record.Made, flags map[string]*string) []bag.Fact {
	said := map[string]string{}
	for name, v := range flags {
		said[name] = *v
	}
	var out []bag.Fact
	if m.Joined != nil {
		out = record.FactsOfStrip(m.Joined, said)
	} else {
		out = record.FactsOf(m.Result, said)
	}
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
