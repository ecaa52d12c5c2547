// Package page is the marking page: a photo goes in, a person marks pads,
// swatches and white areas, and the reading grows beside it. The page holds no
// truth: marks, chart and reading are the files of the command.
package page

import (
	"crypto/rand"
	"embed"
	"encoding/base32"
	"io/fs"
	"net/http"
	"strings"

	"padband/colorimetry/photo"
)

//go:embed web
var embedded embed.FS

// Config is what a page is made with.
type Config struct {
	Version string
	Folder  string   // where files are saved and charts looked for
	Photo   string   // a photo's file to begin with, or empty
	Hosts   []string // what the Host header may say, such as 127.0.0.1:40123
	Address string   // with --share: the address for other machines
	Limits  photo.Limits
	Ask     []string // limits, as they are typed, that the page begins with
}

// Server is one run of the page.
type Server struct {
	config Config
	token  string
	photos *session
	book   book
	kept   shelf
	web    http.Handler
	routes *http.ServeMux
	cross  *http.CrossOriginProtection
}

// New makes a page with a new token. A photo named in the configuration is
// read at once; its error is one line that says what to do.
func New(c Config) (*Server, error) {
	web, err := fs.Sub(embedded, "web")
	if err != nil {
		return nil, err
	}
	s := &Server{config: c, token: newToken(), web: http.FileServerFS(web), cross: http.NewCrossOriginProtection()}
	s.photos = newSession(c.Limits)
	s.book = book{folder: c.Folder}
	s.routes = s.newRoutes()
	if c.Photo != "" {
		if err := s.photos.open(c.Photo, c.Folder); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// Path is the page's path, which holds the token.
func (s *Server) Path() string { return "/" + s.token + "/" }

// newToken is 80 random bits as 16 letters and digits: enough against guessing,
// short enough to type on a phone.
func newToken() string {
	var b [10]byte
	rand.Read(b[:])
	return strings.ToLower(base32.StdEncoding.EncodeToString(b[:]))
}

func (s *Server) newRoutes() *http.ServeMux {
	m := http.NewServeMux()
	m.Handle("GET /", s.web)
	m.HandleFunc("GET /api/", nothing)
	m.HandleFunc("POST /", nothing)
	m.HandleFunc("GET /api/start", s.start)
	m.HandleFunc("POST /api/photos", s.upload)
	m.HandleFunc("GET /api/photos/{id}/preview", s.preview)
	m.HandleFunc("GET /api/photos/{id}/part", s.part)
	m.HandleFunc("POST /api/photos/{id}/edge", s.edge)
	m.HandleFunc("POST /api/photos/{id}/layout", s.layout)
	m.HandleFunc("POST /api/photos/{id}/reading", s.reading)
	m.HandleFunc("POST /api/photos/{id}/save", s.save)
	m.HandleFunc("POST /api/photos/{id}/files", s.files)
	m.HandleFunc("POST /api/photos/{id}/keep", s.keep)
	m.HandleFunc("GET /api/records/{name}/report", s.recordReport)
	m.HandleFunc("GET /api/records/{name}/zip", s.recordZip)
	m.HandleFunc("GET /api/charts", s.charts)
	m.HandleFunc("GET /api/charts/{name}", s.chart)
	m.HandleFunc("GET /api/charts/{name}/plan", s.plan)
	m.HandleFunc("POST /api/charts", s.describe)
	return m
}
