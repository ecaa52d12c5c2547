//go:build !js

package host

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/hosted"
)

// answers is a page that answers as a function does.
type answers func(ctx context.Context, c hosted.Call) hosted.Answer

func (a answers) Handle(ctx context.Context, c hosted.Call) hosted.Answer { return a(ctx, c) }

// says answers every call with what it was.
func says(_ context.Context, c hosted.Call) hosted.Answer {
	body, err := io.ReadAll(hosted.AtMost(c.Body, 100))
	if err != nil {
		return hosted.Refuse(hosted.Failf(hosted.TooLarge, "too large"))
	}
	return hosted.Text(hosted.OK, fmt.Sprintf("%s %s %s %d %s", c.Method, c.Path, c.Query.Encode(), c.Length, body))
}

// run is a server under test, on a port of its own.
type run struct {
	t      *testing.T
	host   *Server
	server *httptest.Server
}

func start(t *testing.T, page answers) *run {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	h := NewServer(page, NewPath(), []string{server.Listener.Addr().String()})
	server.Config.Handler = h
	server.Start()
	t.Cleanup(server.Close)
	return &run{t, h, server}
}

func (r *run) url(path string) string { return r.server.URL + r.host.Path() + path }

// ask makes a call with headers; "Host" sets the host.
func (r *run) ask(method, url string, headers map[string]string) (*http.Response, string) {
	r.t.Helper()
	q, err := http.NewRequest(method, url, strings.NewReader("{}"))
	require.NoError(r.t, err)
	for k, v := range headers {
		q.Header.Set(k, v)
	}
	q.Host = headers["Host"]
	res, err := http.DefaultClient.Do(q)
	require.NoError(r.t, err)
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	require.NoError(r.t, err)
	return res, string(body)
}

// Only our hosts, and only below the token.
func TestWrongHostOrTokenFindsNothing(t *testing.T) {
	r := start(t, says)
	token := strings.Trim(r.host.Path(), "/")
	require.Regexp(t, `^[a-z2-7]{16}$`, token)
	other := strings.Map(func(c rune) rune { return 'a' + (c+1)%26 }, token)
	for _, path := range []string{"/", "/api/start", "/index.html", "/" + other + "/", "/" + other + "/api/start", "/" + token, "/" + token[:15] + "/", "/x/" + token + "/", "//" + token + "/"} {
		res, body := r.ask("GET", r.server.URL+path, nil)
		assert.Equal(t, http.StatusNotFound, res.StatusCode, path)
		assert.Equal(t, "404 page not found\n", body, path)
	}
	for _, host := range []string{"evil.example", "evil.example:80", "127.0.0.1", "127.0.0.1:1", "localhost"} {
		res, _ := r.ask("GET", r.url("api/start"), map[string]string{"Host": host})
		assert.Equal(t, http.StatusNotFound, res.StatusCode, host)
	}
	res, _ := r.ask("GET", r.url("api/start"), nil)
	assert.Equal(t, http.StatusOK, res.StatusCode)
	assert.NotEqual(t, NewPath(), NewPath(), "a new token every start")
}

func TestOtherSitesAreRefused(t *testing.T) {
	r := start(t, says)
	own := r.server.URL
	for _, c := range []struct {
		method, path string
		headers      map[string]string
		want         int
	}{
		{"POST", "api/charts", map[string]string{"Origin": "http://evil.example"}, http.StatusForbidden},
		{"POST", "api/charts", map[string]string{"Origin": "null"}, http.StatusForbidden},
		{"POST", "api/charts", map[string]string{"Sec-Fetch-Site": "cross-site"}, http.StatusForbidden},
		{"POST", "api/charts", map[string]string{"Sec-Fetch-Site": "same-site"}, http.StatusForbidden},
		{"GET", "api/start", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors"}, http.StatusForbidden},
		{"GET", "api/start", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}, http.StatusForbidden},
		{"GET", "app.js", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}, http.StatusForbidden},
		{"GET", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}, http.StatusOK}, // a link in a mail
		{"GET", "", map[string]string{"Sec-Fetch-Site": "none", "Sec-Fetch-Mode": "navigate"}, http.StatusOK},
		{"GET", "api/start", map[string]string{"Sec-Fetch-Site": "same-origin"}, http.StatusOK},
		{"POST", "api/charts", map[string]string{"Sec-Fetch-Site": "same-origin", "Origin": own}, http.StatusOK},
	} {
		res, body := r.ask(c.method, r.url(c.path), c.headers)
		assert.Equal(t, c.want, res.StatusCode, "%v", c)
		assert.Equal(t, c.want == http.StatusForbidden, strings.HasPrefix(body, `{"error":"this call came from another site`), "%v", c)
	}
}

func TestEveryAnswerCarriesThePolicy(t *testing.T) {
	r := start(t, says)
	for _, u := range []string{r.url(""), r.url("app.js"), r.server.URL + "/nothing"} {
		res, _ := r.ask("GET", u, nil)
		h := res.Header
		assert.Equal(t, "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'", h.Get("Content-Security-Policy"), u)
		assert.Equal(t, "nosniff", h.Get("X-Content-Type-Options"), u)
		assert.Equal(t, "no-referrer", h.Get("Referrer-Policy"), u)
		assert.Equal(t, "no-store", h.Get("Cache-Control"), u)
		assert.Equal(t, "same-origin", h.Get("Cross-Origin-Opener-Policy"), u)
		assert.Equal(t, "same-origin", h.Get("Cross-Origin-Resource-Policy"), u)
		assert.Empty(t, h.Get("Access-Control-Allow-Origin"), u)
	}
}

func TestAFaultOfThePageIsOneLine(t *testing.T) {
	r := start(t, func(context.Context, hosted.Call) hosted.Answer { panic("index out of\nrange") })
	res, body := r.ask("GET", r.url("x"), nil)
	assert.Equal(t, http.StatusInternalServerError, res.StatusCode)
	assert.Equal(t, `{"error":"padband went wrong here (index out of range); what is marked is still there: try again, or save and start it anew"}`, body)
}
