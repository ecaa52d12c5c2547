package main

import (
	"context"
	"errors"
	"fmt"
	"os/signal"
	"path/filepath"

	"github.com/spf13/pflag"

	"padband/cmd/padband/internal/blind"
	"padband/cmd/padband/internal/blind/marked"
	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/lines"
)

// blindOptions are the flags of blind.
type blindOptions struct {
	reader, out, analyte string
	seed                 uint64
	noBrowser            bool
}

// blindFlags adds the flags of blind. It has neither --port nor --share: the page
// is for the one person at this machine.
func blindFlags(f *pflag.FlagSet) action {
	o := &blindOptions{}
	f.StringVar(&o.reader, "reader", "", "the `NAME` of the person who calls")
	f.StringVar(&o.out, "out", "", "keep the calls in `FILE` (default DIR/blind-NAME.csv)")
	f.StringVar(&o.analyte, "analyte", "", "call the pads of analyte `A` alone")
	f.Uint64Var(&o.seed, "seed", 0, "shuffle by the number `N`, 1 or more (default: drawn, and kept in the file)")
	onOff(f, &o.noBrowser, "no-browser", "print the page's address and open no browser")
	return o.run
}

// run checks the call, the reader's name above all: it becomes part of a file's
// name and stands in each row.
func (o *blindOptions) run(e env, c called) int {
	if c.NArg() != 1 {
		return e.misuse(c, errors.New("blind takes one folder of marked photos"))
	}
	if c.Changed("seed") && o.seed == 0 {
		return e.misuse(c, errors.New("--seed must be 1 or more"))
	}
	switch err := blind.CheckReader(o.reader); {
	case errors.Is(err, blind.ErrReader):
		return e.misuse(c, errors.New("name the reader: --reader with a name that does not begin or end with a space"))
	case err != nil:
		return e.misuse(c, err)
	}
	if err := e.blind(c.Arg(0), *o); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// blind finds the photos and serves the page until it is stopped.
func (e env) blind(dir string, o blindOptions) error {
	ctx, stop := signal.NotifyContext(context.Background(), endSignals...)
	defer stop()
	photos, left, err := marked.Find(dir, photoLimits(usualMegapixels))
	var none *marked.NoPhotosError
	switch {
	case errors.As(err, &none):
		return fmt.Errorf("%w; mark photos with padband mark", err)
	case err != nil:
		return err
	}
	for _, l := range left {
		fmt.Fprintf(e.err, "padband: left out: %s\n", lines.Blanked(l))
	}
	if o.out == "" {
		o.out = filepath.Join(dir, blind.FileName(o.reader))
	}
	at, err := host.Listen(0, nil) // a free port, of this machine alone
	if err != nil {
		return fmt.Errorf("%w; end other programs that use the network, and try again", err)
	}
	defer at.Close()
	b, err := blind.New(blind.Config{
		Photos: photos, Analyte: o.analyte, Reader: o.reader, Seed: o.seed,
		Store: host.NewFolder(filepath.Dir(o.out)), File: filepath.Base(o.out), Path: o.out,
	})
	if err != nil {
		return withOut(err, o.out)
	}
	if made, of := b.Calls(); made < of {
		path := host.NewPath()
		if err := e.tellBlind(at.Hosts[0]+path, o, made, of); err != nil {
			return nil // told at the end of run: nobody would find the page
		}
		if err := at.Serve(ctx, host.NewServer(b, path, at.Hosts)); err != nil {
			return err
		}
	}
	e.tellCalls(b, o.out)
	return nil
}

// withOut adds, to why a run cannot go on with a file, the flags that help.
func withOut(err error, name string) error {
	var file *blind.FileError
	switch {
	case errors.Is(err, blind.ErrSeed):
		return fmt.Errorf("%w; name one with --seed", err)
	case errors.Is(err, blind.ErrNoPads):
		return fmt.Errorf("%w, with padband mark", err)
	case !errors.As(err, &file):
		return err
	}
	switch file.Misfit {
	case blind.Mendable:
		return fmt.Errorf("%w, or name another file with --out", err)
	case blind.Unread:
		return fmt.Errorf("%w; or name another with --out", err)
	case blind.OtherSeed:
		return fmt.Errorf("%w; leave --seed out to go on with it, or name another with --out", err)
	case blind.OtherSet:
		return fmt.Errorf(
			"%s: was begun with other photos, another chart or another --analyte; name those, or another file with --out",
			input.Shown(name),
		)
	}
	return fmt.Errorf("%w; name another with --out", err)
}

// tellBlind prints where the page is, and opens it.
func (e env) tellBlind(address string, o blindOptions, made, of int) error {
	_, err := fmt.Fprintf(
		e.out,
		"The page is at http://%s\n%d of %s called. Every call is kept at once, in %s\nCtrl-C ends it; the same command goes on.\n",
		address,
		made,
		lines.Count(of, "pad"),
		input.Shown(o.out),
	)
	if err == nil && !o.noBrowser {
		e.open("http://" + address)
	}
	return err
}

// tellCalls says at the end how many calls there are, and nothing of them.
func (e env) tellCalls(b *blind.Page, out string) {
	made, of := b.Calls()
	if made < of {
		fmt.Fprintf(e.out, "%d of %s called; the same command goes on.\n", made, lines.Count(of, "pad"))
		return
	}
	fmt.Fprintf(
		e.out,
		"All %s called: %s\nTo compare with another reader: padband compare %[2]s OTHER.csv\n",
		lines.Count(of, "pad"),
		input.Shown(out),
	)
}
