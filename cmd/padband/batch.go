package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"runtime"

	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/batch"
	"padband/cmd/padband/internal/beside"
)

// mostJobs is more than any machine has processors for.
const mostJobs = 1024

// batchOptions are the flags of batch.
type batchOptions struct {
	readOptions
	out                string
	jobs               int
	csv, resume, force bool
	shard              batch.Shard
}

func batchFlags(c command) (*pflag.FlagSet, *batchOptions) {
	f, o := c.flags(), &batchOptions{}
	f.StringVar(&o.out, "out", "", "write to `FILE`; until all is read it is FILE.part (default: standard output)")
	onOff(f, &o.csv, "csv", "a table (CSV) with a row a reading, instead of one JSON object a photo")
	f.IntVar(&o.jobs, "jobs", 0, "read `N` photos at once (default: one a processor)")
	onOff(f, &o.resume, "resume", "go on with the FILE.part of a run that was cut off")
	f.Var(&o.shard, "shard", "read every N-th photo, from the K-th on: shards 1/N to N/N are the whole")
	onOff(f, &o.force, "force", "replace FILE, and FILE.part of an earlier run")
	f.StringVar(&o.chart, "chart", "", "chart `FILE` of all photos, or the name of a bundled chart (default: found for each photo)")
	o.add(f)
	onOff(f, &o.strict, "strict", "exit 3 when a reading is unreliable")
	f.IntVar(&o.megapixels, "max-megapixels", 200, "refuse a photo with more megapixels than `N`, at most 1000")
	return f, o
}

func runBatch(e env, c command, args []string) int {
	f, o := batchFlags(c)
	if goOn, code := e.parse(c, f, args); !goOn {
		return code
	}
	var err error
	if o.ask, err = o.askOptions.ask(); err != nil {
		return e.wrong(c, f, err)
	}
	switch {
	case f.NArg() != 1:
		return e.misuse(c, f, errors.New("batch takes one folder, one list of names, or - for names on standard input"))
	case f.Changed("jobs") && (o.jobs < 1 || o.jobs > mostJobs):
		return e.misuse(c, f, fmt.Errorf("--jobs must be from 1 to %d", mostJobs))
	case o.resume && o.out == "":
		return e.misuse(c, f, errors.New("--resume goes with --out"))
	case o.force && o.out == "":
		return e.misuse(c, f, errors.New("--force goes with --out"))
	case o.megapixels < 1 || o.megapixels > mostMegapixels:
		return e.misuse(c, f, fmt.Errorf("--max-megapixels must be from 1 to %d", mostMegapixels))
	}
	if o.jobs == 0 {
		o.jobs = runtime.GOMAXPROCS(0)
	}
	photos, err := e.photosOf(f.Arg(0))
	if err != nil {
		e.fail(fmt.Errorf("%s: %w", beside.Shown(f.Arg(0)), err))
		return exitError
	}
	ctx, done := signal.NotifyContext(context.Background(), os.Interrupt)
	defer done()
	return e.batch(ctx, o.shard.Of(photos), *o)
}

// photosOf finds the photos of a folder, or of a list.
func (e env) photosOf(name string) ([]batch.Photo, error) {
	if name == "-" {
		photos, err := batch.List(e.in)
		if err == nil && len(photos) == 0 {
			err = errors.New("no name of a photo came in")
		}
		return photos, err
	}
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		photos, err := batch.Find(name)
		if err == nil && len(photos) == 0 {
			err = errors.New("there is no photo with marks in this folder; mark some first")
		}
		return photos, err
	}
	return listIn(name)
}

// mostList is the most bytes of a list of names.
const mostList = 1 << 30

// listIn reads the names in a file.
func listIn(name string) ([]batch.Photo, error) {
	data, err := beside.ReadFile(name, mostList)
	if err != nil {
		return nil, err
	}
	photos, err := batch.List(bytes.NewReader(data))
	if err == nil && len(photos) == 0 {
		err = errors.New("no name of a photo stands in it")
	}
	return photos, err
}
