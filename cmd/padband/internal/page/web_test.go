package page

import (
	"context"
	"io"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/hosted"
)

// ask makes a call with headers; "Host" sets the host.
func (r *run) ask(method, url string, headers map[string]string) *http.Response {
	r.t.Helper()
	q, err := http.NewRequest(method, url, strings.NewReader("{}"))
	require.NoError(r.t, err)
	for k, v := range headers {
		q.Header.Set(k, v)
	}
	q.Host = headers["Host"]
	res, err := http.DefaultClient.Do(q)
	require.NoError(r.t, err)
	r.t.Cleanup(func() { res.Body.Close() })
	return res
}

func TestAFaultOfTheProgramIsOneLine(t *testing.T) {
	r := start(t)
	r.page.routes.On("GET /fault", func(context.Context, hosted.Call) hosted.Answer { panic("index out of\nrange") })
	status, body := r.get("fault")
	assert.Contains(t, refused(t, http.StatusInternalServerError, status, body).Error, "index out of range")
	r.works()
}

func TestUnknownCallsAreToldSo(t *testing.T) {
	r := start(t)
	status, body := r.get("api/nothing")
	refused(t, http.StatusNotFound, status, body)
	status, body = r.post("api/start", work{})
	refused(t, http.StatusNotFound, status, body)
	status, body = r.get("api/photos/7/preview")
	assert.Contains(t, refused(t, http.StatusNotFound, status, body).Error, "no longer open")
	for _, path := range []string{"api/charts/..%2f..%2f..%2fetc%2fpasswd", "%2e%2e/guard.go", "..%5cguard.go", "api/photos/..%2f1/preview"} {
		status, _ = r.get(path)
		assert.Equal(t, http.StatusNotFound, status, path)
	}
}

// Every file of the page is handed out with its type, and its length is known;
// nothing else is.
func TestThePagesFiles(t *testing.T) {
	p, err := New(Config{Store: &host.Memory{}})
	require.NoError(t, err)
	get := func(method, path string) hosted.Answer {
		return p.Handle(t.Context(), hosted.Call{Method: method, Path: path})
	}
	for _, name := range ownNames(t) {
		a := get("GET", "/"+name)
		if name == "index.html" {
			assert.Equal(t, hosted.Answer{Status: http.StatusMovedPermanently, Header: map[string]string{"Location": "./"}}, a)
			a = get("HEAD", "/")
		}
		require.Equal(t, http.StatusOK, a.Status, name)
		want, err := embedded.ReadFile("web/" + name)
		require.NoError(t, err)
		data, err := io.ReadAll(a.File)
		require.NoError(t, err)
		assert.Equal(t, want, data, name)
		kind, _, err := mime.ParseMediaType(a.Header["Content-Type"])
		require.NoError(t, err)
		assert.Equal(t, map[string]string{".js": "text/javascript", ".css": "text/css", ".html": "text/html", ".svg": "image/svg+xml"}[filepath.Ext(name)], kind)
	}
	for _, path := range []string{"/web", "/web/app.js", "/app.js/", "/../page.go", "//app.js", "/nothing.js", "/app", "", "app.js/../app.js",
		"/photo", "/photo/", "/lens.js", "/photo//lens.js", "/photo/../app.js", "/photo/lens.js/"} {
		a := get("GET", path)
		assert.Equal(t, http.StatusNotFound, a.Status, path)
		assert.Equal(t, "404 page not found\n", string(a.Data))
	}
	assert.Equal(t, http.StatusNotFound, get("POST", "/app.js").Status)
	a := get("PUT", "/api/charts")
	assert.Equal(t, http.StatusMethodNotAllowed, a.Status)
	assert.Equal(t, "GET, HEAD, POST", a.Header["Allow"])
}

// ownNames are the names of the page's own files, with their folders.
func ownNames(t *testing.T) (names []string) {
	t.Helper()
	web, err := fs.Sub(embedded, "web")
	require.NoError(t, err)
	require.NoError(t, fs.WalkDir(web, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			names = append(names, name)
		}
		return err
	}))
	require.Greater(t, len(names), 30)
	return names
}

// What a file of the page names lies where it says, so that the page runs from
// a folder of files as it does from here.
func TestWhatThePagesFilesNameIsThere(t *testing.T) {
	names, seen := ownNames(t), 0
	for _, name := range names {
		data, err := embedded.ReadFile("web/" + name)
		require.NoError(t, err)
		for _, m := range namedFiles.FindAllStringSubmatch(string(data), -1) {
			seen++
			assert.Contains(t, names, path.Join(path.Dir(name), m[1]), "named in %s", name)
		}
	}
	assert.Greater(t, seen, 50)
}

// namedFiles finds what a script imports and what a page links to.
var namedFiles = regexp.MustCompile(`(?:from '|<(?:script|link) [^>]*(?:src|href)=")([^'"]+)['"]`)

// The lines of the page's files fit a screen.
func TestThePagesLinesAreShort(t *testing.T) {
	for _, name := range ownNames(t) {
		data, err := embedded.ReadFile("web/" + name)
		require.NoError(t, err)
		for i, line := range strings.Split(string(data), "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 140, "%s:%d", name, i+1)
		}
	}
}
