package page

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"time"

	"padband/charts"
	"padband/cmd/padband/internal/beside"
	"padband/colorimetry/photo"
)

// Caps of a session.
const (
	photosKept  = 4
	pixelsKept  = 250_000_000 // over all of them, but for one larger photo
	uploadBytes = 128 << 20
	uploadTime  = 3 * time.Minute
	waitTime    = 20 * time.Second
)

// How a photo came.
const (
	fromFile    = "read from its file"
	fromBrowser = "as received from a browser"
)

// opened is one photo of the session. It does not change.
type opened struct {
	id, name, came string
	file           string // where it lies, when it was read from its file
	data           []byte // as received, to be saved; nil when it lies in a file
	photo          *photo.Photo
	preview        []byte
	previewWidth   int
	previewHeight  int
	marks          []byte // the marks file beside it
	marksProblem   string
	chart          *beside.ChartFile
}

// session holds the photos of one run.
type session struct {
	limits photo.Limits
	wait   time.Duration // for a place

	// How many of each are under way at once; the rest wait.
	uploads, decodes, drawings, readings, keeps chan struct{}

	mu     sync.Mutex
	next   int
	photos []*opened // the oldest first
}

func newSession(l photo.Limits) *session {
	places := func(n int) chan struct{} { return make(chan struct{}, n) }
	return &session{limits: l, wait: waitTime, uploads: places(2), decodes: places(1), drawings: places(2), readings: places(1), keeps: places(1)}
}

// errBusy is told when others are being read.
var errBusy = errors.New("busy with other photos; try again in a moment")

// enter waits a little for a place.
func (s *session) enter(ctx context.Context, places chan struct{}) (leave func(), err error) {
	ctx, cancel := context.WithTimeout(ctx, s.wait)
	defer cancel()
	select {
	case places <- struct{}{}:
		return func() { <-places }, nil
	case <-ctx.Done():
		return nil, errBusy
	}
}

// decode makes a session's photo of bytes.
func (s *session) decode(ctx context.Context, data []byte, name string) (*opened, error) {
	leave, err := s.enter(ctx, s.decodes)
	if err != nil {
		return nil, err
	}
	defer leave()
	p, err := photo.Decode(data, s.limits)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	o := &opened{name: name, photo: p}
	o.preview, o.previewWidth, o.previewHeight, err = smaller(p, previewPixels)
	return o, err
}

// keep gives the photo a number; the oldest makes way.
func (s *session) keep(o *opened) *opened {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.next++
	o.id = strconv.Itoa(s.next)
	s.photos = append(s.photos, o)
	for len(s.photos) > 1 && (len(s.photos) > photosKept || pixels(s.photos) > pixelsKept) {
		s.photos = slices.Delete(s.photos, 0, 1)
	}
	return o
}

func pixels(photos []*opened) (n int64) {
	for _, o := range photos {
		n += int64(o.photo.Width) * int64(o.photo.Height)
	}
	return n
}

func (s *session) find(id string) (*opened, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, o := range s.photos {
		if o.id == id {
			return o, true
		}
	}
	return nil, false
}

// first is the photo that the page opens with.
func (s *session) first() *opened {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.photos) == 0 {
		return nil
	}
	return s.photos[len(s.photos)-1]
}

// open reads a photo from its file, with the marks and the chart beside it.
// When files are to be saved in another folder the photo goes there too.
func (s *session) open(name, folder string) error {
	data, err := beside.Photo(name)
	if err != nil {
		return fmt.Errorf("%s: %w", beside.Shown(name), err)
	}
	o, err := s.decode(context.Background(), data, filepath.Base(name))
	if err != nil {
		return err
	}
	o.came, o.file = fromFile, name
	if !sameFolder(filepath.Dir(name), folder) {
		o.data = data
	}
	o.findFiles()
	s.keep(o)
	return nil
}

func sameFolder(a, b string) bool {
	x, err := os.Stat(a)
	y, err2 := os.Stat(b)
	return err == nil && err2 == nil && os.SameFile(x, y)
}

// findFiles looks for marks and chart beside the photo's file. What cannot be
// used is told, and leaves the photo to be marked anew.
func (o *opened) findFiles() {
	m, name, err := beside.Marks(o.file, "")
	var none *beside.NoMarksError
	switch {
	case errors.As(err, &none):
	case err != nil:
		o.marksProblem = "the marks beside the photo cannot be used: " + err.Error()
	default:
		if err := m.CheckPhoto(o.photo.Width, o.photo.Height, o.photo.Facts.SHA256); err != nil {
			o.marksProblem = beside.Shown(filepath.Base(name)) + ": " + err.Error()
			return
		}
	}
	o.use(m)
}

// use takes these marks and the chart that goes with them.
func (o *opened) use(m charts.Marks) {
	if c, err := beside.Chart(o.file, "", m); err == nil {
		o.chart = &c
	} else if m.Chart != "" {
		o.marksProblem = err.Error()
	}
	if len(m.Regions) == 0 && len(m.Corners) == 0 {
		return
	}
	data, err := m.Encode()
	if err != nil {
		o.marksProblem = err.Error()
	}
	o.marks = data
}

// findSaved looks for what was saved of an uploaded photo before: marks in the
// folder that name this very photo by its hash.
func (o *opened) findSaved(folder string) {
	o.file = filepath.Join(folder, o.name)
	defer func() { o.file = "" }()
	if m, _, err := beside.Marks(o.file, ""); err == nil && m.Photo.SHA256 == o.photo.Facts.SHA256 {
		o.use(m)
	}
}

// saved notes what now lies beside a photo, for when the page is loaded again.
func (s *session) saved(id string, marks []byte, chart beside.ChartFile) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for i, o := range s.photos {
		if o.id == id {
			now := *o // others may be reading the old one
			now.marks, now.chart, now.marksProblem = marks, &chart, ""
			s.photos[i] = &now
		}
	}
}

// upload takes a photo's bytes as they are.
func (s *Server) upload(w http.ResponseWriter, r *http.Request) {
	if r.ContentLength > uploadBytes {
		refuse(w, http.StatusRequestEntityTooLarge, errTooLarge)
		return
	}
	leave, err := s.photos.enter(r.Context(), s.photos.uploads)
	if err != nil {
		refuse(w, http.StatusServiceUnavailable, err)
		return
	}
	defer leave()
	http.NewResponseController(w).SetReadDeadline(time.Now().Add(uploadTime))
	data, status, err := body(w, r)
	if err != nil {
		refuse(w, status, err)
		return
	}
	o, err := s.photos.decode(r.Context(), data, plainName(r.URL.Query().Get("name"), endingOf(data)))
	switch {
	case errors.Is(err, errBusy):
		refuse(w, http.StatusServiceUnavailable, err)
	case err != nil:
		refuse(w, http.StatusUnprocessableEntity, err)
	default:
		o.came, o.data = fromBrowser, data
		o.findSaved(s.config.Folder)
		answer(w, info(s.photos.keep(o)))
	}
}
