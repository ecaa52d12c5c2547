package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"github.com/spf13/pflag"

	"padband/calib"
	"padband/calib/strip"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/outlined"
	"padband/cmd/padband/internal/report"
	"padband/cmd/padband/internal/words"
	"padband/colorimetry/photo"
)

// readOptions are the flags of read.
type readOptions struct {
	marks, chart string
	json, strict bool
	pool, strips bool
	oneStrip     bool
	analytes     []string
	megapixels   int
	askOptions
	ask     strip.Ask              // what askOptions ask
	folders *input.Folders         // of a batch
	stream  func() ([]byte, error) // reads the photo "-"; nil in a batch, where "-" is a file like any
	find    outlined.Finder        // where photos without marks are outlined; nil where these are refused
	shows   string                 // the chart that a photo without marks shows, by another photo of the strip
}

// readFlags adds the flags of read. Those of what a reading is set against are
// shared with keep and batch.
func readFlags(f *pflag.FlagSet) action {
	o := &readOptions{}
	f.StringVar(&o.marks, "marks", "", "marks `FILE` (default PHOTO.marks.json beside the photo)")
	f.StringVar(
		&o.chart,
		"chart",
		"",
		"chart `FILE`, or the name of a bundled chart (default: found beside the photo or by the name in the marks)",
	)
	f.StringArrayVar(&o.analytes, "analyte", nil, "print this `ANALYTE` alone; may be repeated")
	o.add(f)
	o.addOthers(f)
	onOff(f, &o.json, "json", "print one JSON object a photo, one a line")
	onOff(f, &o.strict, "strict", "exit 3 when a reading is unreliable: graded \"Do not use this reading\"")
	onOff(f, &o.oneStrip, "one-strip", "one answer from photos of one strip: each pad from the photo taken at its own time")
	onOff(f, &o.pool, "pool", "also read all photos together, as photos of one strip")
	onOff(f, &o.strips, "strips", "with --pool: each photo is of another strip of the same sample")
	f.IntVar(&o.megapixels, "max-megapixels", usualMegapixels, "refuse a photo with more megapixels than `N`, at most 1000")
	return o.run
}

// run checks how the flags go together before the first photo is read: a wrong
// call prints no half of an answer.
func (o *readOptions) run(e env, c called) int {
	photos := c.Args()
	o.stream = e.stream
	if err := o.checkStream(photos); err != nil {
		return e.misuse(c, err)
	}
	var err error
	if o.ask, err = o.askOptions.ask(); err != nil {
		return e.wrong(c, err)
	}
	switch {
	case len(photos) == 0:
		return e.misuse(c, errors.New("name a photo to read"))
	case len(photos) > 1 && o.marks != "":
		return e.misuse(c, errors.New("--marks goes with one photo; each of several needs its own marks beside it"))
	case o.oneStrip && len(photos) < 2:
		return e.misuse(c, errors.New("--one-strip takes two photos or more"))
	case o.oneStrip && o.pool:
		return e.misuse(c, errors.New("--one-strip takes each pad from one photo, and --pool from all together; choose one of them"))
	case o.oneStrip && len(o.analytes) > 0:
		return e.misuse(c, errors.New("--analyte does not go with --one-strip"))
	case o.pool && len(photos) < 2:
		return e.misuse(c, errors.New("--pool takes two photos or more"))
	case o.pool && len(o.analytes) > 0:
		return e.misuse(c, errors.New("--analyte does not go with --pool"))
	case o.strips && !o.pool:
		return e.misuse(c, errors.New("--strips goes with --pool"))
	case o.megapixels < 1 || o.megapixels > mostMegapixels:
		return e.misuse(c, fmt.Errorf("--max-megapixels must be from 1 to %d", mostMegapixels))
	}
	return e.readAll(photos, *o)
}

// checkStream says what is wrong with a call that names standard input: one
// thing only can come from there, and no file lies beside it.
func (o *readOptions) checkStream(photos []string) error {
	switch {
	case o.marks == standardInput || o.chart == standardInput:
		return errors.New("--marks and --chart take files; only the photo can come from standard input")
	case !slices.Contains(photos, standardInput):
		return nil
	case len(photos) > 1:
		return errors.New("a photo from standard input is read alone: write - once, and read other photos in calls of their own")
	case o.marks == "":
		return errors.New("a photo from standard input has no marks beside it; name their file with --marks")
	}
	return nil
}

// readAll is what read does once the call is right: it reads the photos one by
// one and, with --pool, together. What a text means stands once, at its end: of
// several photos it would be the same words again.
func (e env) readAll(photos []string, o readOptions) int {
	if o.oneStrip {
		return e.readStrip(photos, o)
	}
	all, code := e.readEach(photos, o)
	switch {
	case code != exitOK:
	case o.pool:
		code = e.poolAll(all, o)
	case o.strict && slices.ContainsFunc(all, func(r one) bool { return unreliable(r.source.Readings) }):
		code = exitUnreliable
	}
	if len(all) > 0 && !o.json {
		fmt.Fprint(e.out, report.Meaning())
	}
	return code
}

// readEach reads and prints the photos one by one. A photo that cannot be read
// does not stop the others.
func (e env) readEach(photos []string, o readOptions) (all []one, code int) {
	for i, name := range photos {
		r, err := readOne(name, o)
		if err != nil {
			e.fail(fmt.Errorf("%s: %w", input.Shown(o.called(name)), err))
			code = exitError
			continue
		}
		if err := e.show(r.source, o.json, i > 0); err != nil {
			return nil, exitError // its line is printed, here or at the end of run
		}
		all = append(all, r)
	}
	return all, code
}

// poolAll pools what was read; with --strict the pooled reading decides.
func (e env) poolAll(all []one, o readOptions) int {
	s, err := e.pool(all, o)
	if err != nil {
		e.fail(err)
		return exitError
	}
	if o.strict {
		for _, r := range s.Readings {
			if r.Reliability == calib.Unreliable {
				return exitUnreliable
			}
		}
	}
	return exitOK
}

// readStrip reads photos of one strip and prints the one answer. Nothing is printed
// unless each of them can be read: the one left out might be the one in time. The
// photos' own answers are not printed, for a person would take the wrong one of two
// figures; with --strict the readings that were picked decide. Photos without marks are
// outlined by the marks of the others, which tell the chart that they show too.
func (e env) readStrip(photos []string, o readOptions) int {
	s := report.OneStripSource{Version: version}
	var results []*strip.Result
	var called []string
	known := oneStrip{find: e.finder, carry: e.carry, megapixels: o.megapixels}
	o.find = known.finder
	for _, name := range input.MarkedFirst(photos) {
		r, err := readOne(name, o)
		if err != nil {
			e.fail(fmt.Errorf("%s: %w", input.Shown(name), err))
			continue
		}
		o.shows = r.result.Chart.Name
		known.add(name, r.result)
		results, called, s.ChartSHA256 = append(results, r.result), append(called, input.Called(name, photos)), r.source.ChartSHA256
	}
	if len(results) < len(photos) {
		return exitError
	}
	var err error
	if s.Joined, err = strip.OneStrip(results, o.ask); err != nil {
		e.fail(words.NotOneStrip(err, input.ShownAll(called)))
		return exitError
	}
	for _, p := range s.Photos {
		s.Files = append(s.Files, called[p.Index])
	}
	if err := e.showStrip(s, o.json); err != nil {
		return exitError // its line is printed, here or at the end of run
	}
	if o.strict && unreliable(s.Readings) {
		return exitUnreliable
	}
	return exitOK
}

// showStrip prints the one answer, as text with what it means or as one JSON object.
// Only text is for a terminal, so only there a name is spelled out that would steer it:
// a program that reads JSON looks for the file by the name as it is.
func (e env) showStrip(s report.OneStripSource, asJSON bool) error {
	if !asJSON {
		s.Files = input.ShownAll(s.Files)
		_, err := io.WriteString(e.out, report.OneStripText(s)+report.Meaning())
		return err
	}
	line, err := report.OneStripJSON(s)
	if err != nil {
		e.fail(fmt.Errorf("the answer is no JSON: %w; read the photos without --json", err))
		return err
	}
	_, err = e.out.Write(append(line, '\n'))
	return err
}

// one is a photo that was read, with what it takes to pool it.
type one struct {
	source report.Source
	result *strip.Result
}

// input is a photo with the files that belong to it.
func (o readOptions) input(name string) (photoFiles, error) {
	if name == standardInput && o.stream != nil {
		return streamInput(o.stream, o.marks, o.chart)
	}
	in, err := readInputOf(o.folders, name, o.marks, o.chart)
	var none *input.NoMarksError
	if o.find != nil && errors.As(err, &none) {
		return o.outlined(in, name)
	}
	return in, err
}

// outlined completes a photo without marks by those that are found in it. They are
// taken only where nothing is left to ask: nobody looks at each photo of many. They
// are written nowhere.
func (o readOptions) outlined(in photoFiles, name string) (photoFiles, error) {
	var err error
	in.marks.Chart = o.shows
	if in.chart, err = chartToFind(o.folders, name, o.chart, in.marks); err != nil {
		return in, err
	}
	found, err := outlined.Photo(in.photo, photoLimits(o.megapixels), in.chart.Chart, o.find)
	switch {
	case err != nil:
		return in, withFlag(err)
	case found.Marks == nil || found.WhyNot() != "":
		return in, notOutlined(found, name)
	case !found.Sure():
		return in, fmt.Errorf("its outlines are to be looked at first, with padband mark %s: %s",
			input.Shown(name), lines.LowerFirst(found.Questions[0].Text))
	}
	in.marks, in.marksName = *found.Marks, "the outlines found"
	return in, nil
}

// called is how a photo is called in what is printed.
func (o readOptions) called(name string) string {
	if name == standardInput && o.stream != nil {
		return streamed
	}
	return name
}

// readOne reads one photo with the files that belong to it.
func readOne(name string, o readOptions) (one, error) {
	in, err := o.input(name)
	if err != nil {
		return one{}, withNaming(err, o.folders == nil)
	}
	o.into(&in.marks.Sample, o.folders == nil) // in a batch it is one word for all photos whose marks say none
	r, err := strip.Read(strip.Input{Photo: in.photo, Chart: in.chart.Chart, Marks: in.marks, Limits: photoLimits(o.megapixels), Ask: o.ask})
	if err != nil {
		return one{}, withFlag(withMarks(err, in.marksName))
	}
	r, err = only(r, o.analytes)
	if err != nil {
		return one{}, err
	}
	return one{report.Of(filepath.Base(o.called(name)), in.chart.Hash, version, r), r}, nil
}

// only is a photo's answer with the readings of some analytes alone; with no
// names it is the answer itself. The error names one that was not read.
func only(r *strip.Result, analytes []string) (*strip.Result, error) {
	if len(analytes) == 0 {
		return r, nil
	}
	out, missing := r.Only(analytes)
	if missing == "" {
		return out, nil
	}
	var there []string
	for _, x := range r.Readings {
		there = append(there, x.Analyte.Name)
	}
	return nil, fmt.Errorf("no reading of %s; the readings are of %s", missing, lines.List(there))
}

// withFlag names the flag that lifts the limit a photo is over.
func withFlag(err error) error {
	var large *photo.TooLargeError
	if errors.As(err, &large) && large.What == "pixels" {
		return fmt.Errorf("%w with --max-megapixels", err)
	}
	return err
}

// show prints one photo's readings.
func (e env) show(s report.Source, asJSON, more bool) error {
	if asJSON {
		line, err := s.JSON()
		if err != nil {
			e.fail(fmt.Errorf("%s: the reading is no JSON: %w; read it without --json", input.Shown(s.File), err))
			return err
		}
		_, err = e.out.Write(append(line, '\n'))
		return err
	}
	s.File = input.Shown(s.File)
	text := report.Text(s)
	if more {
		text = "\n" + text
	}
	_, err := io.WriteString(e.out, text)
	return err
}

// unreliable is whether any of the readings is: what --strict asks for.
func unreliable(readings []calib.Reading) bool {
	for _, r := range readings {
		if r.Reliability == calib.Unreliable {
			return true
		}
	}
	return false
}

// pool reads the photos together and prints it.
func (e env) pool(all []one, o readOptions) (report.PooledSource, error) {
	kind := calib.OneStrip
	if o.strips {
		kind = calib.Strips
	}
	var results []*strip.Result
	s := report.PooledSource{Strips: o.strips, Version: version}
	for _, x := range all {
		results = append(results, x.result)
		s.Files = append(s.Files, x.source.File)
		s.Hashes = append(s.Hashes, x.source.Photo.SHA256)
		s.Chart, s.ChartSHA256 = x.source.Chart, x.source.ChartSHA256
	}
	pooled, notes, err := strip.Pool(results, kind)
	if err != nil {
		return s, err
	}
	s.Notes = notes
	for _, p := range pooled {
		r := report.PooledOf(p, s.Files)
		r.Meaning = o.ask.Of(p.Reading, results[0].Day())
		s.Readings = append(s.Readings, r)
	}
	return s, e.showPooled(s, o.json)
}

// showPooled prints the pooled readings behind those of the photos, as text or as
// one more JSON object.
func (e env) showPooled(s report.PooledSource, asJSON bool) error {
	if asJSON {
		line, err := json.Marshal(report.NewPooled(s))
		if err != nil {
			return err
		}
		_, err = e.out.Write(append(line, '\n'))
		return err
	}
	_, err := io.WriteString(e.out, "\n"+report.PooledText(s))
	return err
}
