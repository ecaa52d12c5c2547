//go:build !js

package host

import (
	"context"
	"crypto/rand"
	"encoding/base32"
	"errors"
	"io"
	"net/http"
	"strings"
	"time"

	"padband/cmd/padband/internal/hosted"
)

// Page answers calls.
type Page interface {
	Handle(ctx context.Context, c hosted.Call) hosted.Answer
}

// Server serves a page over HTTP, to those who have its path.
type Server struct {
	page  Page
	path  string
	hosts []string
	cross *http.CrossOriginProtection
}

// NewPath is a path that nobody guesses, such as /abcdefghij234567/: 80 random
// bits as 16 letters and digits, short enough to type on a phone.
func NewPath() string {
	var b [10]byte
	rand.Read(b[:])
	return "/" + strings.ToLower(base32.StdEncoding.EncodeToString(b[:])) + "/"
}

// NewServer serves a page below a path of [NewPath], to calls whose Host header
// is one of the hosts, such as 127.0.0.1:40123.
func NewServer(p Page, path string, hosts []string) *Server {
	return &Server{p, path, hosts, http.NewCrossOriginProtection()}
}

// Path is the page's path, which holds the token.
func (s *Server) Path() string { return s.path }

// serve makes a page's call of a request that the guard has let in.
func (s *Server) serve(w http.ResponseWriter, r *http.Request, path string) {
	c := hosted.Call{
		Method: r.Method, Path: path, Query: r.URL.Query(), Length: r.ContentLength,
		Body: r.Body, Form: form(r), Within: within(w),
	}
	send(w, r, s.page.Handle(r.Context(), c))
}

// within sets the deadlines of a connection: how long a call may take to come and,
// once it has come, how long its answer may take.
func within(w http.ResponseWriter) func(come, taken time.Duration) {
	c := http.NewResponseController(w)
	return func(come, taken time.Duration) { // what has no deadlines goes on without
		if come > 0 {
			_ = c.SetReadDeadline(time.Now().Add(come))
		}
		if taken > 0 {
			_ = c.SetWriteDeadline(time.Now().Add(taken))
		}
	}
}

// form reads the body as a form, part by part as the page asks for them, and no
// more of it than the page takes.
func form(r *http.Request) func(most int64) (func() (hosted.Part, error), error) {
	return func(most int64) (func() (hosted.Part, error), error) {
		r.Body = io.NopCloser(hosted.AtMost(r.Body, most)) // the server closes its own
		parts, err := r.MultipartReader()
		if err != nil {
			return nil, err
		}
		return func() (hosted.Part, error) {
			p, err := parts.NextPart()
			if err != nil {
				return hosted.Part{}, err
			}
			return hosted.Part{Field: p.FormName(), File: p.FileName(), Reader: p}, nil
		}, nil
	}
}

// send sends an answer. One that breaks off ends the connection.
func send(w http.ResponseWriter, r *http.Request, a hosted.Answer) {
	h := w.Header()
	for k, v := range a.Header {
		h.Set(k, v)
	}
	if a.Status == hosted.TooLarge {
		h.Set("Connection", "close") // the rest of the body is not waited for
	}
	switch {
	case a.Status == 0: // nobody waits
	case a.File != nil:
		defer a.File.Close()
		info, err := a.File.Stat()
		if err != nil {
			panic(errors.New("a file cannot be looked at"))
		}
		http.ServeContent(w, r, info.Name(), info.ModTime(), a.File)
	case a.Stream != nil:
		w.WriteHeader(a.Status)
		if a.Stream(w) != nil {
			panic(http.ErrAbortHandler) // half of it must not look like a whole
		}
	default:
		w.WriteHeader(a.Status)
		w.Write(a.Data)
	}
}
