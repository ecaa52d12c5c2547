package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"

	"padband/calib"
	"padband/cmd/padband/internal/batch"
	"padband/cmd/padband/internal/beside"
)

// batch reads the photos into the output, and says how it went.
func (e env) batch(ctx context.Context, photos []batch.Photo, o batchOptions) int {
	o.folders = new(beside.Folders)
	rows := rowMaker{options: o.readOptions, csv: o.csv, read: readOne}
	if o.chart != "" { // once, before any photo
		if _, err := beside.NamedChart(o.chart); err != nil {
			e.fail(err)
			return exitError
		}
	}
	to, err := e.sink(photos, rows, o)
	if err != nil {
		e.fail(err)
		return exitError
	}
	show := e.meter(len(photos), to.Done(), o.out != "")
	err = batch.Run(ctx, photos[len(to.Done()):], o.jobs, rows.row, func(r batch.Row) error {
		show.step(r.Outcome)
		return to.Append(r)
	})
	show.end()
	return e.ended(to, show.tally, len(photos), err, o)
}

// ended closes the output and finds the exit code.
func (e env) ended(to sink, t batch.Tally, all int, err error, o batchOptions) int {
	switch {
	case errors.Is(err, context.Canceled):
		e.fail(fmt.Errorf("stopped after %d of %d photos%s", t.Total(), all, o.goOn()))
		_ = to.Close() // the run has failed already
		return exitError
	case err != nil:
		if o.out != "" { // standard output's failure is told at the end of run
			e.fail(err)
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

// goOn is the advice after a stop.
func (o batchOptions) goOn() string {
	if o.out == "" {
		return "; with --out a run can be gone on with"
	}
	return "; go on with --resume"
}

// sink is where the rows go.
type sink interface {
	Done() []batch.Outcome // of rows that are there already
	Append(batch.Row) error
	Finish() error
	Close() error
}

// sink opens the file of --out, or standard output.
func (e env) sink(photos []batch.Photo, rows rowMaker, o batchOptions) (sink, error) {
	head, err := rows.head()
	if err != nil {
		return nil, err
	}
	if o.out == "" {
		_, err := e.out.Write(head)
		return plainSink{e.out}, err
	}
	if o.resume {
		if d, done, err := doneAlready(photos, o); done || err != nil {
			return d, err
		}
	}
	j, err := batch.Open(o.out, batch.OpenOptions{Run: identity(o), Photos: photos, Head: head, Resume: o.resume, Force: o.force})
	var there *beside.ExistsError
	if errors.As(err, &there) {
		err = fmt.Errorf("%w; name another file with --out, or replace it with --force", err)
	}
	return j, err
}

// plainSink is standard output.
type plainSink struct{ w io.Writer }

func (p plainSink) Done() []batch.Outcome      { return nil }
func (p plainSink) Finish() error              { return nil }
func (p plainSink) Close() error               { return nil }
func (p plainSink) Append(row batch.Row) error { _, err := p.w.Write(row.Data); return err }

// identity is a digest of all that decides a run's bytes, but for the photos and
// the contents of the files: the flags and the program.
func identity(o batchOptions) string {
	h := sha256.New()
	w := json.NewEncoder(h)
	what := []any{version, revision(), calib.Method, runtime.Version(), o.csv, o.chart, o.megapixels, o.shard.String()}
	for _, v := range what {
		_ = w.Encode(v) // a hash takes everything, and these are plain values
	}
	_, _ = fmt.Fprintf(h, "%q\n", []any{o.limits, o.units, o.guard, o.dilution, o.undiluted, o.standard, o.standardPhoto})
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
