package page

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"padband/charts"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
	"padband/colorimetry/photo"
)

// These are the caps of a session.
const (
	photosKept  = 4
	pixelsKept  = 250_000_000 // over all of them, but for one larger photo
	uploadBytes = 128 << 20
	uploadTime  = 3 * time.Minute
	waitTime    = 20 * time.Second
)

// These words say how a photo came.
const (
	fromFile    = "read from its file"
	fromBrowser = "as received from a browser"
)

// opened is one photo of the session. It is never changed; a change makes a new one.
type opened struct {
	id, name, came string
	again          func() ([]byte, error)       // reads its file again; nil when it came from a browser
	data           []byte                       // as received, to be saved; nil when it lies in the store
	photo          *photo.Photo                 // what the photo says of itself; its pixels come from whole
	whole          func() (*photo.Photo, error) // with all its pixels, decoded when they are first asked for
	preview        shown
	marks          []byte // the marks file beside it
	marksProblem   string
	chart          *input.ChartFile
}

// session holds the photos of one run.
type session struct {
	limits photo.Limits
	wait   time.Duration // for a place
	looks  bool          // outlines are looked for in the photos

	// Each of these caps how many of its kind are under way at once; the rest wait.
	uploads, decodes, drawings, readings, keeps chan struct{}

	mu     sync.Mutex
	next   int
	photos []*opened // the oldest first
}

func newSession(l photo.Limits) *session {
	places := func(n int) chan struct{} { return make(chan struct{}, n) }
	return &session{
		limits: l, wait: waitTime, uploads: places(2), decodes: places(1), drawings: places(2),
		readings: places(1), keeps: places(1),
	}
}

// errBusy is the error when other photos are being read.
var errBusy = hosted.Failf(hosted.Busy, "busy with other photos; try again in a moment")

// enter waits a little while for a free place.
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

// decode makes a photo of the session from its bytes.
func (s *session) decode(ctx context.Context, data []byte, name string) (*opened, error) {
	leave, err := s.enter(ctx, s.decodes)
	if err != nil {
		return nil, err
	}
	defer leave()
	p, preview, whole, err := glance(data, s.limits)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", input.Shown(name), err)
	}
	preview.keep(s.looks)
	o := &opened{name: name, photo: p, preview: preview}
	o.whole = sync.OnceValues(func() (*photo.Photo, error) {
		if whole {
			return p, nil
		}
		return photo.Decode(data, s.limits)
	})
	return o, nil
}

// add gives the photo a number. When there is no room, the oldest photo makes way, but
// none of those with which it is of one strip.
func (s *session) add(o *opened, with ...string) *opened {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.next++
	o.id = strconv.Itoa(s.next)
	s.photos = append(s.photos, o)
	for len(s.photos) > photosKept || pixels(s.photos) > pixelsKept {
		i := slices.IndexFunc(s.photos, func(p *opened) bool { return p != o && !slices.Contains(with, p.id) })
		if i < 0 {
			break
		}
		s.photos = slices.Delete(s.photos, i, i+1)
	}
	return o
}

// apart gives a photo another name where one of these has its name already, as phones
// name all photos alike that are taken through a page.
func (s *session) apart(o *opened, from []string) {
	taken := map[string]bool{}
	for _, id := range from {
		if p, ok := s.find(id); ok && p.photo.Facts.SHA256 != o.photo.Facts.SHA256 {
			taken[strings.ToLower(input.Stem(p.name))] = true
		}
	}
	stem, ending := input.Stem(o.name), filepath.Ext(o.name)
	for n := 2; taken[strings.ToLower(input.Stem(o.name))]; n++ {
		o.name = stem + "-" + strconv.Itoa(n) + ending
	}
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

// open takes the photo that the page begins with, and the marks and the chart beside
// it. The bytes of a photo that does not lie in the store are kept, to be saved there
// too.
func (s *session) open(p Photo) error {
	o, err := s.decode(context.Background(), p.Data, p.Name)
	if err != nil {
		return err
	}
	o.came, o.again = fromFile, p.Again
	if !p.Saved {
		o.data = p.Data
	}
	o.findFiles(p.Beside, p.Path)
	s.add(o)
	return nil
}

// findFiles looks for marks and a chart beside the photo's file. When these cannot be
// used, it says so, and the photo is marked anew.
func (o *opened) findFiles(in input.Place, path string) {
	m, name, err := input.MarksIn(in, path)
	var none *input.NoMarksError
	switch {
	case errors.As(err, &none):
	case err != nil:
		o.marksProblem = "the marks beside the photo cannot be used: " + err.Error()
	default:
		if err := m.CheckPhoto(o.photo.Width, o.photo.Height, o.photo.Facts.SHA256); err != nil {
			o.marksProblem = input.Shown(filepath.Base(name)) + ": " + err.Error()
			return
		}
	}
	o.use(in, path, m)
}

// use takes these marks and the chart that goes with them.
func (o *opened) use(in input.Place, path string, m charts.Marks) {
	if c, err := input.ChartIn(in, path, m); err == nil {
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

// findSaved looks for what was saved earlier of an uploaded photo: marks in the store
// that name this very photo by its hash.
func (o *opened) findSaved(in input.Place) {
	if m, _, err := input.MarksIn(in, o.name); err == nil && m.Photo.SHA256 == o.photo.Facts.SHA256 {
		o.use(in, o.name, m)
	}
}

// saved notes what lies beside a photo now, for when the page is loaded again.
func (s *session) saved(id string, marks []byte, chart input.ChartFile) {
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

// upload takes a photo's bytes as they come.
func (s *Page) upload(ctx context.Context, c hosted.Call) hosted.Answer {
	if c.Length > uploadBytes {
		return hosted.Refuse(errTooLarge)
	}
	var with []string // the other photos of its strip
	if of := c.Query.Get("of"); of != "" {
		with = strings.Split(of, ",")
	}
	if len(with) >= photosKept {
		return hosted.Refuse(hosted.Failf(hosted.Unprocessable, "one strip has at most %d photos here; take one out first", photosKept))
	}
	leave, err := s.photos.enter(ctx, s.photos.uploads)
	if err != nil {
		return hosted.Refuse(err)
	}
	defer leave()
	c.Comes(uploadTime)
	data, err := body(c)
	if err != nil {
		return hosted.Refuse(err)
	}
	o, err := s.photos.decode(ctx, data, plainName(c.Query.Get("name"), endingOf(data)))
	if err != nil {
		return hosted.Refuse(err)
	}
	o.came, o.data = fromBrowser, data
	o.findSaved(s.book.place)
	s.photos.apart(o, with)
	return hosted.JSON(info(s.photos.add(o, with...)))
}
