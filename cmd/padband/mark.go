package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"time"

	"github.com/spf13/pflag"

	"padband/charts"
	"padband/cmd/padband/internal/beside"
	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/page"
)

// markOptions are the flags of mark.
type markOptions struct {
	port             int
	share, noBrowser bool
	into             string
	megapixels       int
	limits           []string
}

func markFlags(f *pflag.FlagSet) action {
	o := &markOptions{}
	onOff(f, &o.noBrowser, "no-browser", "print the page's address and open no browser")
	onOff(f, &o.share, "share", "let a phone in the same network open the page too")
	f.IntVar(&o.port, "port", 0, "listen on port `N` (default: a free one)")
	f.StringVar(&o.into, "into", "", "save into `FOLDER` (default: the photo's folder, or this one)")
	f.StringArrayVar(&o.limits, "limit", nil, "begin with what the water means against `LIMIT`, a set or a figure as in padband read; may be repeated")
	f.IntVar(&o.megapixels, "max-megapixels", usualMegapixels, "refuse a photo with more megapixels than `N`, at most 1000")
	return o.run
}

func (o *markOptions) run(e env, c called) int {
	switch {
	case c.NArg() > 1:
		return e.misuse(c, errors.New("name one photo to mark, or none and choose it in the page"))
	case o.port < 0 || o.port > 65535:
		return e.misuse(c, errors.New("--port must be from 1 to 65535"))
	case o.megapixels < 1 || o.megapixels > mostMegapixels:
		return e.misuse(c, fmt.Errorf("--max-megapixels must be from 1 to %d", mostMegapixels))
	}
	for _, text := range o.limits {
		if _, err := charts.ParseLimit(text); err != nil {
			return e.misuse(c, fmt.Errorf("--limit: %w", err))
		}
	}
	if err := e.mark(c.Arg(0), *o); err != nil {
		e.fail(err)
		return exitError
	}
	return exitOK
}

// mark serves the page until it is stopped.
func (e env) mark(name string, o markOptions) error {
	ctx, stop := signal.NotifyContext(context.Background(), endSignals...)
	defer stop()
	folder, err := folderOf(name, o.into)
	if err != nil {
		return err
	}
	at, err := listen(o, ownAddress)
	if err != nil {
		return err
	}
	defer at.close()
	photo, err := photoAt(name, folder)
	if err != nil {
		return err
	}
	path := host.NewPath()
	p, err := page.New(o.page(at.shared, path, folder, photo))
	if err != nil {
		return withFlag(err)
	}
	if err := e.tellAddress(at, path); err != nil {
		return nil // told at the end of run: nobody would find the page
	}
	if !o.noBrowser {
		e.open("http://" + at.hosts[0] + path)
	}
	return serve(ctx, at.listeners, host.NewServer(p, path, at.hosts))
}

// page is what the page is made with; shared is as in [place].
func (o markOptions) page(shared, path, folder string, photo *page.Photo) page.Config {
	c := page.Config{
		Version: version, Store: host.NewFolder(folder), Folder: folder, Photo: photo,
		Limits: limits(o.megapixels), Ask: o.limits,
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
	again := func() ([]byte, error) { return beside.Photo(name) }
	data, err := again()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	return &page.Photo{
		Name: filepath.Base(name), Data: data, Saved: sameFolder(filepath.Dir(name), folder), Again: again,
		Path: name, Beside: beside.Disk(),
	}, nil
}

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
		return "", fmt.Errorf("%s: is no folder; make it first, or name another with --into", beside.Shown(into))
	}
	return filepath.Abs(into)
}

// place is where the page listens.
type place struct {
	listeners []net.Listener
	hosts     []string // what a call's Host may say, this machine's own first
	shared    string   // the address for other machines, without the token
}

func (p place) close() {
	for _, l := range p.listeners {
		l.Close()
	}
}

// listen opens the port on this machine alone or, shared, on its address in the
// house's network too.
func listen(o markOptions, own func() (string, error)) (p place, err error) {
	if err := p.add("127.0.0.1", o.port); err != nil {
		return p, err
	}
	port := p.listeners[0].Addr().(*net.TCPAddr).Port
	p.hosts = append(p.hosts, net.JoinHostPort("localhost", strconv.Itoa(port)))
	if !o.share {
		return p, nil
	}
	address, err := own()
	if err == nil {
		err = p.add(address, port)
	}
	if err != nil {
		p.close()
		return p, err
	}
	p.shared = "http://" + p.hosts[len(p.hosts)-1]
	return p, nil
}

func (p *place) add(address string, port int) error {
	l, err := net.Listen("tcp4", net.JoinHostPort(address, strconv.Itoa(port)))
	if err != nil {
		return fmt.Errorf("port %d of %s cannot be used: %w; name another with --port, or none for a free one", port, address, beside.Cause(err))
	}
	p.listeners, p.hosts = append(p.listeners, l), append(p.hosts, l.Addr().String())
	return nil
}

// ownAddress is this machine's address in the house's network.
func ownAddress() (string, error) {
	all, err := net.InterfaceAddrs()
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && n.IP.IsPrivate() {
			return n.IP.String(), nil
		}
	}
	if err != nil {
		return "", fmt.Errorf("this machine's network cannot be asked: %w; use padband mark without --share", err)
	}
	return "", errors.New("this machine is in no house network; connect it, or use padband mark without --share")
}

// tellAddress prints where the page is.
func (e env) tellAddress(at place, path string) error {
	_, err := fmt.Fprintf(e.out, "The page is at http://%s%s\nNothing is kept that you do not save. Ctrl-C ends it.\n", at.hosts[0], path)
	if err == nil && at.shared != "" {
		_, err = fmt.Fprintf(e.out, sharedText, at.shared+path, host.Code(at.shared+path))
	}
	return err
}

// open opens the page in the browser, if there is one.
func (e env) open(address string) {
	if openBrowser(address) != nil {
		fmt.Fprintln(e.out, "No browser could be opened: open the address by hand.")
	}
}

const sharedText = `
Shared. Until you end it, whoever is in this network and has the address below
can see and mark the photos opened here, and save into the folder. The way is
not encrypted. On the phone, photograph the code or type the address:

%s

%s`

// Time-outs of a call; an upload has its own, longer one.
const (
	headerTime = 10 * time.Second
	idleTime   = 2 * time.Minute
	answerTime = 5 * time.Minute
	endTime    = 2 * time.Second
)

// serve answers calls until it is ended, and then lets those under way end.
func serve(ctx context.Context, listeners []net.Listener, h http.Handler) error {
	s := newServer(h)
	failed := make(chan error, len(listeners))
	for _, l := range listeners {
		go func() { failed <- s.Serve(l) }()
	}
	select {
	case err := <-failed:
		s.Close()
		return fmt.Errorf("the page cannot be served: %w; start it again", err)
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.Background(), endTime)
	defer cancel()
	if s.Shutdown(last) != nil {
		s.Close()
	}
	return nil
}

func newServer(h http.Handler) *http.Server {
	return &http.Server{Handler: h, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime, WriteTimeout: answerTime, MaxHeaderBytes: 64 << 10, ErrorLog: silent}
}
