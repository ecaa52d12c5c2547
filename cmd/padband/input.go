package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"golang.org/x/term"

	"padband/calib/agreement"
	"padband/calib/strip"
	"padband/charts"
	"padband/charts/strict"
	"padband/cmd/padband/internal/decoder"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
	"padband/colorimetry/photo"
)

// mostMegapixels is as far as the limit on a photo's size can be raised: a
// decoded picture takes up to 8 bytes a pixel, and running out of memory gives
// no message that helps.
const mostMegapixels = 1000

// usualMegapixels is the limit on a photo's size without a flag.
const usualMegapixels = 200

// photoLimits are those of a photo of at most so many megapixels, with the decoder for HEIC.
func photoLimits(megapixels int) photo.Limits {
	return photo.Limits{Pixels: int64(megapixels) * 1_000_000, HEIC: decoder.HEIC}
}

// photoFiles is a photo with the files that belong to it.
type photoFiles struct {
	photo, marksData []byte
	marks            charts.Marks
	marksName        string
	chart            input.ChartFile
}

// readInput reads a photo's file, and its marks and chart: those named, else
// those that are found.
func readInput(name, marks, chart string) (in photoFiles, err error) {
	return readInputOf(nil, name, marks, chart)
}

// readInputOf is readInput for one of many photos.
func readInputOf(folders *input.Folders, name, marks, chart string) (in photoFiles, err error) {
	if in.photo, err = input.Photo(name); err != nil {
		return in, err
	}
	if in.marks, in.marksName, err = input.Marks(name, marks); err != nil {
		return in, err
	}
	if in.marksData, err = input.ReadFile(in.marksName, 4<<20); err != nil {
		return in, fmt.Errorf("%s: %w", input.Shown(in.marksName), err)
	}
	in.chart, err = folders.Chart(name, chart, in.marks)
	return in, err
}

// standardInput names the photo that is sent into the program, and streamed is
// what is said of it: it has no file's name. A file called "-" is "./-".
const (
	standardInput = "-"
	streamed      = "standard input"
)

// mostStreamed is the most bytes of a photo from standard input; a file's limit
// is the same.
const mostStreamed = 512 << 20

// stream is the whole of standard input. A terminal is told of and not waited
// for: nobody types a photo.
func (e env) stream() ([]byte, error) {
	if f, ok := e.in.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		return nil, errors.New("is a terminal; send a photo into it, as in padband read - --marks MARKS < PHOTO, or name the photo's file")
	}
	data, err := io.ReadAll(io.LimitReader(e.in, mostStreamed+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("cannot be read: %w; name the photo's file", input.Cause(err))
	case len(data) == 0:
		return nil, errors.New("nothing came; send the whole photo into it, or name the photo's file")
	case len(data) > mostStreamed:
		return nil, fmt.Errorf("is over the limit of %d MB; make the photo smaller", mostStreamed>>20)
	}
	return data, nil
}

// streamInput is a photo from standard input with its marks, which are named,
// and its chart: the one named, else as for a photo that lies beside the marks.
func streamInput(stream func() ([]byte, error), marks, chart string) (in photoFiles, err error) {
	if in.marks, in.marksName, err = input.Marks("", marks); err != nil {
		return in, err
	}
	photo := strings.TrimSuffix(marks, input.MarksEnding) + ".jpg"
	if in.chart, err = input.Chart(photo, chart, in.marks); err != nil {
		return in, err
	}
	in.photo, err = stream() // last, for it may take long to come
	return in, err
}

// withMarks names the marks file when that is what keeps a photo from being read.
func withMarks(err error, name string) error {
	var marks *strict.FileError
	if errors.As(err, &marks) {
		return fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	return err
}

// readingBytes is as large as a reading file may be.
const readingBytes = 4 << 20

// isReading reports whether a name is that of a reading or a record, and not of
// a table of calls.
func isReading(name string) bool {
	return strings.HasSuffix(strings.ToLower(name), ".json") || isRecord(name)
}

// isRecord reports whether a name is that of a record: a folder or a zip file.
func isRecord(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir() || strings.HasSuffix(strings.ToLower(name), ".zip")
}

// openReadings reads a reading file, or the reading of a record.
func openReadings(name string) ([]agreement.Single, error) {
	read := func() ([]byte, error) { return input.ReadFile(name, readingBytes) }
	if isRecord(name) {
		read = func() ([]byte, error) { return recordReading(name) }
	}
	data, err := read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	s, err := agreement.ParseReading(filepath.Base(name), data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", input.Shown(name), withMaking(err))
	}
	return s, nil
}

// recordReading is the reading that a record keeps. One with faults is not compared.
func recordReading(name string) ([]byte, error) {
	s, err := sheetOf(name, record.Options{Now: time.Now(), Limits: photoLimits(usualMegapixels)})
	if err != nil {
		return nil, err
	}
	if n := s.Result.Faults(); n > 0 {
		return nil, fmt.Errorf("%s in this record; padband verify names them", lines.Count(n, "fault"))
	}
	return s.Source.JSON()
}

// chartHints are how --chart mends what is wrong with a photo's chart.
var chartHints = map[input.ChartFault]string{
	input.Unnamed: "name a chart with --chart",
	input.Nowhere: "name its file with --chart",
	input.Broken:  "or name the chart's file with --chart",
	input.Double:  "name one with --chart",
}

// withNaming adds, to why a photo's marks or chart are not there, the flag that
// names them; marks is whether the command has --marks.
func withNaming(err error, marks bool) error {
	var none *input.NoMarksError
	var chart *input.ChartError
	switch {
	case marks && errors.As(err, &none):
		return fmt.Errorf("%w, or name the file with --marks", err)
	case errors.As(err, &chart):
		return fmt.Errorf("%w; %s", err, chartHints[chart.Fault])
	}
	return err
}

// recordWays are the commands that a record's findings send a person to.
var recordWays = record.Ways{Report: "padband report", Verify: "padband verify"}

// withMaking adds, to a file that holds no readings, what makes one.
func withMaking(err error) error {
	if errors.Is(err, agreement.ErrNoReadings) {
		return fmt.Errorf("%w, as --json or the page makes it", err)
	}
	return err
}

// withAttaching adds, to a fact that is too long for a record, the flag that keeps
// it in a file, and to one that is told in two ways the flag that says it.
func withAttaching(err error) error {
	var two *record.TwofoldError
	if errors.As(err, &two) {
		return fmt.Errorf("%w; correct the marks, or say it with --%s", err, two.Fact.Name)
	}
	var long *record.LongFactError
	if errors.As(err, &long) {
		return fmt.Errorf("%w, or keep it in a file with --attach", err)
	}
	return err
}

// mostAttached is the most bytes of one attached file.
const mostAttached = 512 << 20

// read decodes the whole photo, measures it and answers what is asked. What is wrong with
// the question is told before a person answers others.
func (in photoFiles) read(ask strip.Ask) (*strip.Measured, *strip.Result, error) {
	picture, err := photo.Decode(in.photo, photoLimits(usualMegapixels))
	if err != nil {
		return nil, nil, err
	}
	read, err := strip.Measure(picture, in.chart.Chart, in.marks)
	if err != nil {
		return nil, nil, withMarks(err, in.marksName)
	}
	r, err := read.Answer(in.marks.Sample, ask)
	return read, r, err
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
