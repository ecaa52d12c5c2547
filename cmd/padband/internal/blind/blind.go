package page

import (
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"strings"
	"sync"
	"time"

	"padband/charts"
	"padband/colorimetry/photo"
)

// BlindPhoto is a marked photo whose pads are to be called.
type BlindPhoto struct {
	Sample string // its name in the file of calls
	Marks  charts.Marks
	Chart  charts.Chart
	Read   func() ([]byte, error) // the photo's bytes; the error does not name the file
	Limits photo.Limits
}

// BlindConfig is what a run of blind calls is made with.
type BlindConfig struct {
	Hosts   []string // as in [Config]
	Photos  []BlindPhoto
	Analyte string // call this one alone; empty for all
	Reader  string // who calls
	File    string // where the calls are kept
	Seed    uint64 // of the order; 0 for that of the file, or a new one
}

// Blind is a page that shows pads one at a time and takes a reader's calls.
// It computes no reading. The file of calls is all that it knows of earlier runs.
type Blind struct {
	*Server
	pads  []blindPad // in the order of the seed
	ready *blindShelf
	now   func() time.Time

	mu    sync.Mutex
	calls *callFile
	clock stopwatch
	back  bool // the last call may be taken back
	begun bool // a pad was shown in this run
}

// blindPad is one pad to be called.
type blindPad struct {
	*BlindPhoto
	analyte charts.Analyte
}

// NewBlind opens the file of calls, or begins it, and makes a page with a new
// token. The error is one line that says what to do.
func NewBlind(c BlindConfig) (*Blind, error) {
	if err := CheckReader(c.Reader); err != nil {
		return nil, err
	}
	web, err := fs.Sub(embedded, "web")
	if err != nil {
		return nil, err
	}
	pads, err := padsOf(c.Photos, c.Analyte)
	if err != nil {
		return nil, err
	}
	b := &Blind{now: time.Now, Server: &Server{config: Config{Hosts: c.Hosts}, token: newToken(), web: http.FileServerFS(web), cross: http.NewCrossOriginProtection()}}
	if b.calls, b.pads, err = openCalls(c, pads); err != nil {
		return nil, err
	}
	b.ready = newBlindShelf(b.pads)
	b.routes = b.newRoutes()
	return b, nil
}

// longestReader caps a reader's name, in bytes.
const longestReader = 100

// CheckReader says what is wrong with a reader's name.
func CheckReader(name string) error {
	switch {
	case name == "" || strings.TrimSpace(name) != name:
		return errors.New("name the reader: --reader with a name that does not begin or end with a space")
	case len(name) > longestReader:
		return fmt.Errorf("the reader's name is over %d bytes; shorten it", longestReader)
	case oneLine(name) != name:
		return errors.New("the reader's name holds a character that does not print; write it in letters")
	}
	return nil
}

// padsOf are the pads of the photos, or of one analyte, each a call of its own.
func padsOf(photos []BlindPhoto, only string) (out []blindPad, err error) {
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
				out = append(out, blindPad{&photos[i], a})
			}
		}
	}
	if len(out) == 0 && only != "" && len(names) > 0 {
		return nil, fmt.Errorf("no pad is marked for %q; marked are %s", only, strings.Join(names, ", "))
	}
	if len(out) == 0 {
		return nil, errors.New("no pad is marked in these photos; mark them first, with padband mark")
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

// Calls are how many calls are made and how many there are to make.
func (b *Blind) Calls() (made, of int) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return len(b.calls.rows), len(b.pads)
}

// ownFiles are those of the page's files that this page uses.
var ownFiles = []string{"blind.js", "blindview.js", "blind.css", "page.css", "dom.js", "icon.svg"}

func (b *Blind) newRoutes() *http.ServeMux {
	m := http.NewServeMux()
	m.HandleFunc("/", nothing)
	m.HandleFunc("GET /{$}", func(w http.ResponseWriter, r *http.Request) {
		r.URL.Path = "/blind.html"
		b.web.ServeHTTP(w, r)
	})
	for _, name := range ownFiles {
		m.Handle("GET /"+name, b.web)
	}
	m.HandleFunc("GET /api/pad", b.state)
	m.HandleFunc("GET /api/pads/{at}/pad/{part}", b.padPicture)
	m.HandleFunc("GET /api/pads/{at}/swatch/{swatch}/{part}", b.swatchPicture)
	m.HandleFunc("GET /api/pads/{at}/photo", b.wholePicture)
	m.HandleFunc("POST /api/pads/{at}/shown", b.shown)
	m.HandleFunc("POST /api/pads/{at}/call", b.call)
	m.HandleFunc("POST /api/back", b.takeBack)
	return m
}
