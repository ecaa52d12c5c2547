package page

import (
	"context"
	"path"
	"strings"
	"time"

	"padband/cmd/padband/internal/hosted"
	"padband/colorimetry/photo"
)

// types are the content types of the page's own files, by their endings.
var types = map[string]string{
	".css":  "text/css; charset=utf-8",
	".html": "text/html; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".svg":  "image/svg+xml",
}

// File answers with one of the page's own files.
func File(name string) hosted.Answer {
	data, err := embedded.ReadFile("web/" + name)
	kind := types[path.Ext(name)]
	if err != nil || kind == "" {
		return hosted.Text(hosted.NotFound, "404 page not found")
	}
	return hosted.Answer{Status: hosted.OK, Header: map[string]string{"Content-Type": kind}, File: hosted.Bytes(name, data, time.Time{})}
}

// other answers any other call: with one of the page's files.
func other(_ context.Context, c hosted.Call) hosted.Answer {
	switch {
	case c.Method != "GET" && c.Method != "HEAD" && c.Method != "POST":
		a := hosted.Text(hosted.NotAllowed, "Method Not Allowed")
		a.Header["Allow"] = "GET, HEAD, POST"
		return a
	case c.Method == "POST", strings.HasPrefix(c.Path, "/api/"):
		return hosted.Nothing()
	case c.Path == "/":
		return File("index.html")
	case c.Path == "/index.html":
		return hosted.Answer{Status: hosted.Moved, Header: map[string]string{"Location": "./"}}
	}
	return File(strings.TrimPrefix(c.Path, "/"))
}

// Preview makes a photo into a picture for people, of a size that a screen shows. p
// has what the photo says of itself; its pixels may be left out.
func Preview(data []byte, l photo.Limits) (p *photo.Photo, jpeg []byte, err error) {
	p, out, _, err := glance(data, l)
	return p, out.jpeg, err
}

// Cut makes a part of a photo into a picture for people. The part begins at (x, y) and
// has w by h pixels; the picture is as many pixels wide as asked for.
func Cut(p *photo.Photo, x, y, w, h, to float64) (jpeg []byte, err error) {
	return cut(p, x, y, w, h, to)
}
