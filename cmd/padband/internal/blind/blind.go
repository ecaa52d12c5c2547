// Package blind is the page of calls by eye. It shows the pads of marked photos one at
// a time, and keeps in a file what a reader calls them. Start at [New], and hand the
// page's calls to [Page.Handle]. The package computes no reading, and shows none.
package blind

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/page"
	"padband/colorimetry/photo"
)

// Photo is a marked photo whose pads are to be called.
type Photo struct {
	Sample string // the sample's name in the file of calls
	Marks  charts.Marks
	Chart  charts.Chart
	Read   func() ([]byte, error) // the photo's bytes; the error does not name the file
	Limits photo.Limits
}

// Config is what a run of blind calls is started with.
type Config struct {
	Photos  []Photo
	Analyte string       // the only analyte to be called; empty for all
	Reader  string       // the name of the person who calls
	Store   hosted.Store // where the calls are kept
	File    string       // the name of the file of calls there
	Path    string       // what the reader calls that file
	Seed    uint64       // the seed of the order; with 0 the file's own is taken, or a new one
}

// Page shows pads one at a time and takes a reader's calls. It knows of earlier runs
// only what the file of calls holds.
type Page struct {
	routes hosted.Routes
	pads   []pad // the pads in the order of the seed
	ready  *shelf
	now    func() time.Time

	mu    sync.Mutex
	calls *callFile
	clock stopwatch
	back  bool // the last call may be taken back
	begun bool // a pad was shown in this run
}

// pad is one pad to be called.
type pad struct {
	*Photo
	analyte charts.Analyte
}

// New opens the file of calls, or begins it, and makes a page. The error is one line
// that says what to do.
func New(c Config) (*Page, error) {
	if err := CheckReader(c.Reader); err != nil {
		return nil, err
	}
	pads, err := padsOf(c.Photos, c.Analyte)
	if err != nil {
		return nil, err
	}
	b := &Page{now: time.Now}
	if b.calls, b.pads, err = openCalls(c, pads); err != nil {
		return nil, err
	}
	b.ready = newShelf(b.pads)
	b.route()
	return b, nil
}

// longestReader caps a reader's name, in bytes.
const longestReader = 100

// CheckReader says what is wrong with a reader's name: the error is [ErrReader] or
// another.
func CheckReader(name string) error {
	switch {
	case name == "" || strings.TrimSpace(name) != name:
		return ErrReader
	case len(name) > longestReader:
		return fmt.Errorf("the reader's name is over %d bytes; shorten it", longestReader)
	case oneLine(name) != name:
		return errors.New("the reader's name holds a character that does not print; write it in letters")
	}
	return nil
}

// padsOf are the pads of the photos, or only those of one analyte. Each pad is called
// by itself.
func padsOf(photos []Photo, only string) (out []pad, err error) {
	seen, samples := map[string]bool{}, map[string]bool{}
	var names []string
	for i := range photos {
		if samples[photos[i].Sample] {
			return nil, fmt.Errorf("two photos would be the sample %s; rename one", photos[i].Sample)
		}
		samples[photos[i].Sample] = true
		for _, a := range Marked(photos[i].Marks, photos[i].Chart) {
			if !seen[a.Name] {
				seen[a.Name] = true
				names = append(names, a.Name)
			}
			if only == "" || strings.EqualFold(a.Name, only) {
				out = append(out, pad{&photos[i], a})
			}
		}
	}
	if len(out) == 0 && only != "" && len(names) > 0 {
		return nil, fmt.Errorf("no pad is marked for %q; marked are %s", only, strings.Join(names, ", "))
	}
	if len(out) == 0 {
		return nil, ErrNoPads
	}
	return out, nil
}

// Marked are the analytes of a chart whose pads are marked, in the chart's order.
func Marked(m charts.Marks, c charts.Chart) (out []charts.Analyte) {
	for _, a := range c.Analytes {
		for _, r := range m.Regions {
			if r.Role == charts.RolePad && r.Analyte == a.Name {
				out = append(out, a)
				break
			}
		}
	}
	return out
}

// Calls says how many calls are made, and how many there are to make in all.
func (b *Page) Calls() (made, of int) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return len(b.calls.rows), len(b.pads)
}

// ownFiles are those of the page's files that this page uses.
var ownFiles = []string{
	"blind/app.js",
	"blind/pad.js",
	"blind/blind.css",
	"common/page.css",
	"common/dom.js",
	"common/words.js",
	"server/call.js",
	"icon.svg",
}

// Handle answers a call.
func (b *Page) Handle(ctx context.Context, c hosted.Call) hosted.Answer {
	return b.routes.Handle(ctx, c)
}

// route says which function answers which call of the page.
func (b *Page) route() {
	r := &b.routes
	r.Other = other
	r.On("GET /api/pad", b.state)
	r.On("GET /api/pads/{at}/pad/{part}", b.padPicture)
	r.On("GET /api/pads/{at}/swatch/{swatch}/{part}", b.swatchPicture)
	r.On("GET /api/pads/{at}/photo", b.wholePicture)
	r.On("POST /api/pads/{at}/shown", b.shown)
	r.On("POST /api/pads/{at}/call", b.call)
	r.On("POST /api/back", b.takeBack)
}

// other answers any other call: with one of the page's files.
func other(_ context.Context, c hosted.Call) hosted.Answer {
	name := strings.TrimPrefix(c.Path, "/")
	switch {
	case c.Method != "GET" && c.Method != "HEAD":
	case name == "":
		return page.File("blind.html")
	case slices.Contains(ownFiles, name):
		return page.File(name)
	}
	return hosted.Nothing()
}
