// Package page is the marking page: a photo goes in, a person marks pads, swatches and
// white areas, and the reading grows beside it. Start at [New], and hand the page's
// calls to [Page.Handle]. The page adds nothing of its own: its marks, chart and
// reading are the same files that the command reads and writes. It runs no server, but
// stands on any host that brings it calls and keeps its files.
package page

import (
	"context"

	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/outlined"
	"padband/cmd/padband/internal/record"
	"padband/colorimetry/photo"
)

// Config is what a page is started with.
type Config struct {
	Version string
	Store   hosted.Store // where files are saved and charts looked for
	Folder  string       // what people call the store
	Photo   *Photo       // the photo that the page begins with, or nil
	Address string       // the page's address for other machines, when it is shared
	Code    string       // that address as a picture that a phone reads, in SVG
	Limits  photo.Limits
	Ask     []string        // limits, as they are typed, that the page begins with
	Ways    record.Ways     // the commands that a record's report sends a person to
	Find    outlined.Finder // looks for outlines in a photo; nil where all is marked by hand
	Carry   Carrier         // the same with an earlier photo of the strip; nil where none is carried over
}

// Photo is a photo that the page begins with.
type Photo struct {
	Name   string // without a folder
	Data   []byte
	Saved  bool                   // whether it lies in the store
	Again  func() ([]byte, error) // reads its bytes again; the error does not name it
	Path   string                 // what the photo is called in the place where it lies
	Beside input.Place            // the place where it lies
}

// Page is one run of the page.
type Page struct {
	config Config
	photos *session
	book   book
	kept   shelf
	routes hosted.Routes
}

// New makes a page. A photo named in the configuration is decoded at once. The error
// is one line that says what to do.
func New(c Config) (*Page, error) {
	s := &Page{config: c, photos: newSession(c.Limits), book: book{place: hosted.Beside(c.Store)}}
	s.photos.looks = c.Find != nil
	s.route()
	if c.Photo != nil {
		if err := s.photos.open(*c.Photo); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// Handle answers a call.
func (s *Page) Handle(ctx context.Context, c hosted.Call) hosted.Answer {
	return s.routes.Handle(ctx, c)
}

func (s *Page) route() {
	r := &s.routes
	r.Other = other
	r.On("GET /api/start", s.start)
	r.On("POST /api/photos", s.upload)
	r.On("GET /api/photos/{id}", s.again)
	r.On("GET /api/photos/{id}/preview", s.preview)
	r.On("GET /api/photos/{id}/part", s.part)
	r.On("POST /api/photos/{id}/edge", s.edge)
	r.On("POST /api/photos/{id}/line", s.line)
	r.On("POST /api/photos/{id}/outline", s.outline)
	r.On("POST /api/photos/{id}/layout", s.layout)
	r.On("POST /api/photos/{id}/reading", s.reading)
	r.On("POST /api/photos/{id}/rows", s.rows)
	r.On("POST /api/photos/{id}/save", s.save)
	r.On("POST /api/photos/{id}/files", s.files)
	r.On("POST /api/photos/{id}/shown", s.shown)
	r.On("POST /api/photos/{id}/keep", s.keep)
	r.On("POST /api/strip", s.strip)
	r.On("GET /api/records/{name}/report", s.recordReport)
	r.On("GET /api/records/{name}/zip", s.recordZip)
	r.On("GET /api/charts", s.charts)
	r.On("GET /api/charts/{name}", s.chart)
	r.On("GET /api/charts/{name}/plan", s.plan)
	r.On("POST /api/charts", s.describe)
	r.On("POST /api/charts/understood", s.understood)
}
