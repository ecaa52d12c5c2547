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
	"padband/charts"
	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/report"
)

// mostAttached is the most bytes of one attached file.
const mostAttached = 512 << 20

// keepOptions are the flags of keep.
type keepOptions struct {
	into, marks, chart, sign string
	attach                   []string
	zip                      bool
	facts                    [len(keptFacts)]string // as keptFacts
}

// keptFacts are the facts of a sample: its flag, its label in the record, what is
// asked for on a terminal, and where the marks say it.
var keptFacts = [...]struct {
	flag, label, ask string
	of               func(charts.SampleInfo) string
}{
	{"place", "Place", "place, such as the house", func(s charts.SampleInfo) string { return s.Place }},
	{"point", "Sampling-Point", "sampling point, such as tap or raw", func(s charts.SampleInfo) string { return s.Point }},
	{"tester", "Tester", "who dipped and read", func(s charts.SampleInfo) string { return s.Reader }},
	{"taken", "Photo-Taken", "time of the photo", func(s charts.SampleInfo) string { return s.Taken }},
	{"dipped", "Dipped", "time of the dip", func(s charts.SampleInfo) string { return s.Dipped }},
	{"read", "Read", "time of reading by eye", func(charts.SampleInfo) string { return "" }},
	{"lot", "Kit-Lot", "the kit's lot", func(s charts.SampleInfo) string { return s.Kit.Lot }},
	{"expires", "Kit-Expires", "the kit's expiry date", func(s charts.SampleInfo) string { return s.Kit.Expires }},
	{"opened", "Kit-Opened", "day the bottle was opened", func(s charts.SampleInfo) string { return s.Kit.Opened }},
	{"handling", "Handling-Rule-Followed", "the kit's handling rule was followed (yes, no, how)", func(charts.SampleInfo) string { return "" }},
	{"note", "Note", "a note", func(s charts.SampleInfo) string { return s.Note }},
}

func keepFlags(c command) (*pflag.FlagSet, *keepOptions) {
	f, o := c.flags(), &keepOptions{}
	f.StringVar(&o.into, "into", "", "keep the record in the folder `DIR`, which must exist")
	f.StringVar(&o.marks, "marks", "", "marks `FILE` (default PHOTO.marks.json beside the photo)")
	f.StringVar(&o.chart, "chart", "", "chart `FILE`, or the name of a bundled chart")
	f.StringArrayVar(&o.attach, "attach", nil, "keep this `FILE` too, such as a photo of the label; may be repeated")
	onOff(f, &o.zip, "zip", "keep one zip file instead of a folder")
	f.StringVar(&o.sign, "sign", "", "sign with this SSH `KEY` (or its .pub file, through the agent)")
	for i, k := range keptFacts {
		f.StringVar(&o.facts[i], k.flag, "", "`TEXT`: "+k.ask)
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
	content, position, err := e.content(name, o)
	if err != nil {
		return err
	}
	files, err := signed(content, o.sign)
	if err != nil {
		return err
	}
	now := time.Now()
	record.Sweep(o.into, now)
	folder, write := keptName(content), record.Write
	if o.zip {
		write = record.WriteZipFile
	}
	if position {
		fmt.Fprintln(e.err, "padband: the photo holds the position it was taken at, and so does the record; mind that before handing it on")
	}
	if err := write(o.into, folder, files); err != nil {
		return fmt.Errorf("%s: %w", beside.Shown(o.into), err)
	}
	if o.zip {
		folder += ".zip"
	}
	e.kept(filepath.Join(o.into, folder), files)
	return nil
}

// kept says what was kept.
func (e env) kept(path string, files []record.File) {
	fmt.Fprintf(e.out, "kept %s\n", beside.Shown(path))
	for _, f := range files {
		switch f.Name {
		case record.TagManifest:
			fmt.Fprintf(e.out, "fingerprint %s (write it down, or have it countersigned today)\n", record.Fingerprint(f.Data))
		case record.SignaturePath:
			fmt.Fprintln(e.out, "signed: this says who signed, not when, and the signer could sign again")
		case "bag-info.txt":
			if missing := missingFacts(f.Data); missing != "" {
				fmt.Fprintf(e.out, "not known, left out: %s\n", missing)
			}
		}
	}
}

func missingFacts(info []byte) string {
	for line := range strings.Lines(string(info)) {
		if v, ok := strings.CutPrefix(line, "Facts-Missing: "); ok {
			return strings.TrimSpace(v)
		}
	}
	return ""
}

// keptName is the record's name: day, place and point, photo.
func keptName(c record.Content) string {
	fact := func(label string) string {
		for _, f := range c.Facts {
			if f.Label == label {
				return f.Value
			}
		}
		return ""
	}
	day := fact("Photo-Taken")
	if day == "" {
		day = c.Day
	}
	return record.FolderName(day, strings.TrimSpace(fact("Place")+" "+fact("Sampling-Point")), fact("Photo-SHA-256"))
}

// signed makes the record's files, signed when a key is named.
func signed(c record.Content, key string) ([]record.File, error) {
	if key == "" {
		return record.Make(c, nil)
	}
	s, done, err := record.OpenKey(key)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", beside.Shown(key), err)
	}
	defer done()
	return record.Make(c, s)
}

// content reads the photo with its files and gathers what is kept.
func (e env) content(name string, o keepOptions) (c record.Content, position bool, err error) {
	data, err := beside.Photo(name)
	if err != nil {
		return c, false, fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	marks, marksName, err := beside.Marks(name, o.marks)
	if err != nil {
		return c, false, fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	marksData, err := beside.ReadFile(marksName, 4<<20)
	if err != nil {
		return c, false, fmt.Errorf("%s: %w", beside.Shown(marksName), err)
	}
	chart, err := beside.Chart(name, o.chart, marks)
	if err != nil {
		return c, false, fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	r, err := strip.Read(strip.Input{Photo: data, Chart: chart.Chart, Marks: marks})
	if err != nil {
		return c, false, fmt.Errorf("%s: %w", beside.Shown(name), withMarks(err, marksName))
	}
	reading, err := report.Of(filepath.Base(name), chart.Hash, version, r).JSON()
	if err != nil {
		return c, false, err
	}
	attached, err := attachments(o.attach)
	c = record.Content{PhotoName: filepath.Base(name), Photo: data, Chart: chart.Data, Marks: marksData,
		Reading: append(reading, '\n'), Attached: attached, Facts: e.facts(o, r), Day: time.Now().Format(time.DateOnly)}
	return c, r.Photo.Facts.HasPosition, err
}

// facts are the flags, else the marks' sample, else the photo, else what a person
// at the terminal answers; else empty.
func (e env) facts(o keepOptions, r *strip.Result) (out []record.Fact) {
	ask := e.asker()
	for i, k := range keptFacts {
		v := o.facts[i]
		if v == "" {
			v = k.of(r.Marks.Sample)
		}
		if v == "" && k.flag == "taken" {
			v = photoTime(r)
		}
		if v == "" {
			v = ask(k.ask)
		}
		out = append(out, record.Fact{Label: k.label, Value: v})
	}
	p := report.New(report.Of("", "", version, r)).Program
	position := "no"
	if r.Photo.Facts.HasPosition {
		position = "yes"
	}
	return append(out, record.Fact{Label: "Photo-Received", Value: "from its file"},
		record.Fact{Label: "Photo-SHA-256", Value: r.Photo.Facts.SHA256}, record.Fact{Label: "Photo-Position", Value: position},
		record.Fact{Label: "Program", Value: p.Name + " " + p.Version}, record.Fact{Label: "Method", Value: fmt.Sprint(p.Method)},
		record.Fact{Label: "Go-Version", Value: p.Go})
}

// photoTime is the photo's own time as it stands there, its lack of an offset said.
func photoTime(r *strip.Result) string {
	f := r.Photo.Facts
	if f.Taken == "" || f.TakenHasOffset {
		return f.Taken
	}
	return f.Taken + " (no offset)"
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

// terminal is whether a file is a terminal: a character device, but not the one
// that swallows everything.
func terminal(f *os.File) bool {
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	null, err := os.Stat(os.DevNull)
	return err != nil || !os.SameFile(info, null)
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
