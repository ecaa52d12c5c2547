package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"

	"github.com/spf13/pflag"

	"padband/calib"
	"padband/cmd/padband/internal/batch"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/report"
)

// mostJobs is more than any machine has processors for. Each job holds a decoded
// photo in memory, so a slip of the hand in --jobs must not be taken at its word.
const mostJobs = 1024

// batchOptions are the flags of batch.
type batchOptions struct {
	readOptions
	out                string
	jobs               int
	csv, resume, force bool
	outline            bool
	shard              batch.Shard
}

// batchFlags adds the flags of batch. It has no --marks, because each photo of
// many has its own marks beside it, and none of the flags that show one photo.
func batchFlags(f *pflag.FlagSet) action {
	o := &batchOptions{}
	f.StringVar(&o.out, "out", "", "write to `FILE`; until all is read it is FILE.part (default: standard output)")
	onOff(f, &o.csv, "csv", "a table (CSV) with a row a reading, instead of one JSON object a photo")
	f.IntVar(&o.jobs, "jobs", 0, "read `N` photos at once (default: one a processor)")
	onOff(f, &o.resume, "resume", "go on with the FILE.part of a run that was cut off")
	f.Var(&o.shard, "shard", "read every N-th photo, from the K-th on: shards 1/N to N/N are the whole")
	onOff(f, &o.force, "force", "replace FILE, and FILE.part of an earlier run")
	f.StringVar(&o.chart, "chart", "", "chart `FILE` of all photos, or the name of a bundled chart (default: found for each photo)")
	o.add(f)
	onOff(f, &o.outline, "outline", "read photos without marks too, where the outlines found leave nothing to ask; nobody has looked at them")
	onOff(f, &o.strict, "strict", "exit 3 when a reading is unreliable: graded \"Do not use this reading\"")
	f.IntVar(&o.megapixels, "max-megapixels", 200, "refuse a photo with more megapixels than `N`, at most 1000")
	return o.run
}

// run checks the call before any photo is looked for, and then finds all photos
// before the first is read, so that a wrong folder costs no time.
func (o *batchOptions) run(e env, c called) int {
	var err error
	if o.ask, err = o.askOptions.ask(); err != nil {
		return e.wrong(c, err)
	}
	switch {
	case c.NArg() != 1:
		return e.misuse(c, errors.New("batch takes one folder, one list of names, or - for names on standard input"))
	case c.Changed("jobs") && (o.jobs < 1 || o.jobs > mostJobs):
		return e.misuse(c, fmt.Errorf("--jobs must be from 1 to %d", mostJobs))
	case o.resume && o.out == "":
		return e.misuse(c, errors.New("--resume goes with --out"))
	case o.force && o.out == "":
		return e.misuse(c, errors.New("--force goes with --out"))
	case o.megapixels < 1 || o.megapixels > mostMegapixels:
		return e.misuse(c, fmt.Errorf("--max-megapixels must be from 1 to %d", mostMegapixels))
	}
	if o.jobs == 0 {
		o.jobs = runtime.GOMAXPROCS(0)
	}
	if o.outline {
		o.find = e.finder
	}
	photos, err := batch.Photos(c.Arg(0), e.in, o.outline)
	if err != nil {
		e.fail(fmt.Errorf("%s: %w", input.Shown(c.Arg(0)), err))
		return exitError
	}
	ctx, done := signal.NotifyContext(context.Background(), os.Interrupt)
	defer done()
	return e.batch(ctx, o.shard.Of(photos), *o)
}

// batch reads the photos into the output, and says how it went.
func (e env) batch(ctx context.Context, photos []batch.Photo, o batchOptions) int {
	o.folders = new(input.Folders)
	rows := batch.RowMaker{Table: o.csv, Read: o.source}
	if o.chart != "" { // once, before any photo
		if _, err := input.NamedChart(o.chart); err != nil {
			e.fail(err)
			return exitError
		}
	}
	to, err := e.sink(photos, rows, o)
	if err != nil {
		e.fail(err)
		return exitError
	}
	show := batch.NewMeter(e.meterTo(o.out != ""), len(photos), to.Done())
	err = batch.Run(ctx, photos[len(to.Done()):], o.jobs, rows.Row, func(r batch.Row) error {
		show.Step(r.Outcome)
		return to.Append(r)
	})
	show.End()
	return e.ended(to, show.Tally, len(photos), err, o)
}

// ended closes the output and finds the exit code. What was read before a stop
// stays in the file, which a later run goes on with; a photo that could not be
// read makes the run fail at its end, and not before.
func (e env) ended(to batch.Output, t batch.Tally, all int, err error, o batchOptions) int {
	switch {
	case errors.Is(err, context.Canceled):
		e.fail(fmt.Errorf("stopped after %d of %d photos%s", t.Total(), all, o.goOn()))
		_ = to.Close() // the run has failed already
		return exitError
	case err != nil:
		if o.out != "" { // standard output's failure is told at the end of run
			e.fail(withGoingOn(err))
		}
		_ = to.Close()
		return exitError
	}
	if err := to.Finish(); err != nil {
		e.fail(err)
		return exitError
	}
	switch {
	case t.Failed > 0:
		e.fail(fmt.Errorf("%d of %d photos could not be read; their rows say why", t.Failed, all))
		return exitError
	case o.strict && t.Unreliable > 0:
		return exitUnreliable
	}
	return exitOK
}

// goOn is the advice after a stop: the rows that are done stay in FILE.part, and
// --resume goes on behind them.
func (o batchOptions) goOn() string {
	if o.out == "" {
		return "; with --out a run can be gone on with"
	}
	return "; go on with --resume"
}

// sink opens the file of --out, or standard output.
func (e env) sink(photos []batch.Photo, rows batch.RowMaker, o batchOptions) (batch.Output, error) {
	head, err := rows.Head()
	if err != nil {
		return nil, err
	}
	if o.out == "" {
		_, err := e.out.Write(head)
		return batch.Plain(e.out), err
	}
	if o.resume {
		if whole, yes, err := batch.Whole(o.out, photos, o.csv); yes || err != nil {
			return whole, withGoingOn(err)
		}
	}
	j, err := batch.Open(o.out, batch.OpenOptions{Run: identity(o), Photos: photos, Head: head, Resume: o.resume, Force: o.force})
	var there *hosted.ExistsError
	if errors.As(err, &there) {
		err = fmt.Errorf("%w; name another file with --out, or replace it with --force", err)
	}
	return j, withGoingOn(err)
}

// withGoingOn adds, to what is wrong with an output, the flags that go on with it
// or begin again.
func withGoingOn(err error) error {
	var part *batch.PartError
	var other *batch.OtherRunError
	var busy *batch.BusyError
	var full *batch.FullError
	switch {
	case errors.As(err, &part):
		return fmt.Errorf("%w; go on with --resume, or begin again with --force", err)
	case errors.As(err, &other):
		return fmt.Errorf("%w, or begin again with --force", err)
	case errors.As(err, &busy):
		return fmt.Errorf("%w, or name another file with --out", err)
	case errors.As(err, &full):
		return fmt.Errorf("%w with --resume", err)
	}
	return err
}

// meterTo is the terminal that the progress is shown on, nil for none: where the
// rows go to the same terminal nothing is shown.
func (e env) meterTo(toFile bool) io.Writer {
	f, ok := e.err.(*os.File)
	if ok && terminal(f) && (toFile || !e.outIsTerminal()) {
		return f
	}
	return nil
}

// outIsTerminal is whether the rows are shown to a person: they would be mixed
// with the progress.
func (e env) outIsTerminal() bool {
	o, ok := e.out.(*output)
	if !ok {
		return false
	}
	f, ok := o.w.(*os.File)
	return ok && terminal(f)
}

// source reads one photo of many.
func (o batchOptions) source(name string) (report.Source, error) {
	x, err := readOne(name, o.readOptions)
	return x.source, err
}

// identity is a digest of all that decides a run's bytes, but for the photos and
// the contents of the files: the flags and the program.
func identity(o batchOptions) string {
	h := sha256.New()
	w := json.NewEncoder(h)
	what := []any{version, revision(), calib.Method, runtime.Version(), o.csv, o.outline, o.chart, o.megapixels, o.shard.String()}
	for _, v := range what {
		_ = w.Encode(v) // a hash takes everything, and these are plain values
	}
	_, _ = fmt.Fprintf(h, "%q\n", []any{o.limits, o.units, o.guard, o.dilution, o.undiluted, o.standard, o.standardPhoto, o.lamp, o.look})
	return hex.EncodeToString(h.Sum(nil))
}

// revision is the program's source as its build stamped it; empty when it did not.
func revision() (out string) {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" || s.Key == "vcs.modified" {
			out += s.Value + " "
		}
	}
	return out
}
