package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"

	"github.com/spf13/pflag"

	"padband/calib/strip/outline"
	"padband/charts/limits"
	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/page"
)

// markOptions are the flags of mark.
type markOptions struct {
	port             int
	share, noBrowser bool
	byHand           bool // look for no outlines
	into             string
	megapixels       int
	limits           []string
}

// markFlags adds the flags of mark, which is also what padband alone runs; none
// of them is needed.
func markFlags(f *pflag.FlagSet) action {
	o := &markOptions{}
	onOff(f, &o.noBrowser, "no-browser", "print the page's address and open no browser")
	onOff(f, &o.share, "share", "let a phone in the same network open the page too")
	onOff(f, &o.byHand, "by-hand", "begin with nothing marked, and look for no outlines")
	f.IntVar(&o.port, "port", 0, "listen on port `N` (default: a free one)")
	f.StringVar(&o.into, "into", "", "save into `FOLDER` (default: the photo's folder, or this one)")
	f.StringArrayVar(
		&o.limits,
		"limit",
		nil,
		"begin with what the water means against `LIMIT`, a set or a figure as in padband read; may be repeated",
	)
	f.IntVar(&o.megapixels, "max-megapixels", usualMegapixels, "refuse a photo with more megapixels than `N`, at most 1000")
	return o.run
}

// run checks the call. Limits are only read here, so that a wrong one is told
// before the page opens; the page reads them again by itself.
func (o *markOptions) run(e env, c called) int {
	switch {
	case c.NArg() > 1:
		return e.misuse(c, errors.New("name one photo to mark, or none and choose it in the page"))
	case c.Arg(0) == standardInput:
		return e.misuse(c, errors.New("the page saves beside the photo's own file; save the photo and name its file"))
	case o.port < 0 || o.port > 65535:
		return e.misuse(c, errors.New("--port must be from 1 to 65535"))
	case o.megapixels < 1 || o.megapixels > mostMegapixels:
		return e.misuse(c, fmt.Errorf("--max-megapixels must be from 1 to %d", mostMegapixels))
	}
	for _, text := range o.limits {
		if _, err := limits.ParseLimit(text); err != nil {
			return e.misuse(c, fmt.Errorf("--limit: %w", err))
		}
	}
	if err := e.mark(c.Arg(0), *o); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// endSignals are those that end a page.
var endSignals = []os.Signal{os.Interrupt, syscall.SIGTERM}

// mark serves the page until it is stopped. The folder and the port are tried
// before the photo is read, because a photo may take a while and they do not.
func (e env) mark(name string, o markOptions) error {
	ctx, stop := signal.NotifyContext(context.Background(), endSignals...)
	defer stop()
	folder, err := folderOf(name, o.into)
	if err != nil {
		return err
	}
	at, err := o.listen()
	if err != nil {
		return withPage(err)
	}
	defer at.Close()
	photo, err := photoAt(name, folder)
	if err != nil {
		return err
	}
	path := host.NewPath()
	c := o.page(at.Shared, path, folder, photo)
	// The page itself looks for nothing: it is handed what finds outlines, or nothing, and
	// then a photo begins without a mark.
	if !o.byHand {
		c.Find, c.Carry = e.finder, outline.Carry
	}
	p, err := page.New(c)
	if err != nil {
		return withFlag(err)
	}
	if err := e.tellAddress(at, path); err != nil {
		return nil // told at the end of run: nobody would find the page
	}
	if !o.noBrowser {
		e.open("http://" + at.Hosts[0] + path)
	}
	return at.Serve(ctx, host.NewServer(p, path, at.Hosts))
}

// listen opens the port.
func (o markOptions) listen() (host.Place, error) {
	var own func() (string, error)
	if o.share {
		own = host.OwnAddress
	}
	return host.Listen(o.port, own)
}

// withPage adds, to why a page cannot be served, the flags that help.
func withPage(err error) error {
	var port *host.PortError
	var network *host.NetworkError
	switch {
	case errors.As(err, &port):
		return fmt.Errorf("%w; name another with --port, or none for a free one", err)
	case errors.As(err, &network) && network.Err == nil:
		return fmt.Errorf("%w; connect it, or use padband mark without --share", err)
	case errors.As(err, &network):
		return fmt.Errorf("%w; use padband mark without --share", err)
	}
	return err
}

// page is what the page is made with; shared is as in [host.Place].
func (o markOptions) page(shared, path, folder string, photo *page.Photo) page.Config {
	c := page.Config{
		Version: version, Store: host.NewFolder(folder), Folder: folder, Photo: photo,
		Limits: photoLimits(o.megapixels), Ask: o.limits, Ways: recordWays,
	}
	if shared != "" {
		c.Address = shared + path
		c.Code = host.CodeSVG(c.Address)
	}
	return c
}

// photoAt is the photo of this name, or none for an empty name, for a page that
// saves into a folder.
func photoAt(name, folder string) (*page.Photo, error) {
	if name == "" {
		return nil, nil
	}
	again := func() ([]byte, error) { return input.Photo(name) }
	data, err := again()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	return &page.Photo{
		Name: filepath.Base(name), Data: data, Saved: sameFolder(filepath.Dir(name), folder), Again: again,
		Path: name, Beside: input.Disk(),
	}, nil
}

// sameFolder asks the system, since one folder may have several names.
func sameFolder(a, b string) bool {
	x, err := os.Stat(a)
	y, err2 := os.Stat(b)
	return err == nil && err2 == nil && os.SameFile(x, y)
}

// folderOf is the folder that files are saved in.
func folderOf(photo, into string) (string, error) {
	if into == "" {
		return filepath.Abs(filepath.Dir(photo)) // of no photo: this folder
	}
	info, err := os.Stat(into)
	if err != nil || !info.IsDir() {
		return "", fmt.Errorf("%s: is no folder; make it first, or name another with --into", input.Shown(into))
	}
	return filepath.Abs(into)
}

// tellAddress prints where the page is.
func (e env) tellAddress(at host.Place, path string) error {
	_, err := fmt.Fprintf(e.out, "The page is at http://%s%s\nNothing is kept that you do not save. Ctrl-C ends it.\n", at.Hosts[0], path)
	if err == nil && at.Shared != "" {
		_, err = fmt.Fprintf(e.out, sharedText, at.Shared+path, host.Code(at.Shared+path))
	}
	return err
}

// open opens the page in the browser, if there is one.
func (e env) open(address string) {
	if host.OpenBrowser(address) != nil {
		fmt.Fprintln(e.out, "No browser could be opened: open the address by hand.")
	}
}

const sharedText = `
Shared. Until you end it, whoever is in this network and has the address below
can see and mark the photos opened here, and save into the folder. The way is
not encrypted. On the phone, photograph the code or type the address:

%s

%s`
