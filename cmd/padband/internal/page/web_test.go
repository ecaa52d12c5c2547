package page

import (
	"context"
	"io"
	"mime"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

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
	names, err := embedded.ReadDir("web")
	require.NoError(t, err)
	for _, e := range names {
		a := get("GET", "/"+e.Name())
		if e.Name() == "index.html" {
			assert.Equal(t, hosted.Answer{Status: http.StatusMovedPermanently, Header: map[string]string{"Location": "./"}}, a)
			a = get("HEAD", "/")
		}
		require.Equal(t, http.StatusOK, a.Status, e.Name())
		want, err := embedded.ReadFile("web/" + e.Name())
		require.NoError(t, err)
		data, err := io.ReadAll(a.File)
		require.NoError(t, err)
		assert.Equal(t, want, data, e.Name())
		kind, _, err := mime.ParseMediaType(a.Header["Content-Type"])
		require.NoError(t, err)
		assert.Equal(t, map[string]string{".js": "text/javascript", ".css": "text/css", ".html": "text/html", ".svg": "image/svg+xml"}[filepath.Ext(e.Name())], kind)
	}
	for _, path := range []string{"/web", "/web/app.js", "/app.js/", "/../page.go", "//app.js", "/nothing.js", "/app", "", "app.js/../app.js"} {
		a := get("GET", path)
		assert.Equal(t, http.StatusNotFound, a.Status, path)
		assert.Equal(t, "404 page not found\n", string(a.Data))
	}
	assert.Equal(t, http.StatusNotFound, get("POST", "/app.js").Status)
	a := get("PUT", "/api/charts")
	assert.Equal(t, http.StatusMethodNotAllowed, a.Status)
	assert.Equal(t, "GET, HEAD, POST", a.Header["Allow"])
}
