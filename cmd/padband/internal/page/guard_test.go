package page

import (
	"context"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// Only our hosts, and only below the token.
func TestWrongHostOrTokenFindsNothing(t *testing.T) {
	r := start(t)
	token := strings.Trim(r.host.Path(), "/")
	require.Regexp(t, `^[a-z2-7]{16}$`, token)
	other := strings.Map(func(c rune) rune { return 'a' + (c+1)%26 }, token)
	for _, path := range []string{"/", "/api/start", "/index.html", "/" + other + "/", "/" + other + "/api/start", "/" + token, "/" + token[:15] + "/", "/x/" + token + "/", "//" + token + "/"} {
		res := r.ask("GET", r.server.URL+path, nil)
		assert.Equal(t, http.StatusNotFound, res.StatusCode, path)
		_, body := whole(t, res)
		assert.Equal(t, "404 page not found\n", string(body), path)
	}
	for _, host := range []string{"evil.example", "evil.example:80", "127.0.0.1", "127.0.0.1:1", "localhost"} {
		res := r.ask("GET", r.url("api/start"), map[string]string{"Host": host})
		assert.Equal(t, http.StatusNotFound, res.StatusCode, host)
	}
	assert.Equal(t, http.StatusOK, r.ask("GET", r.url("api/start"), nil).StatusCode)
	assert.NotEqual(t, r.host.Path(), start(t).host.Path(), "a new token every start")
}

func TestOtherSitesAreRefused(t *testing.T) {
	r := start(t)
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
		{"POST", "api/charts", map[string]string{"Sec-Fetch-Site": "same-origin", "Origin": own}, http.StatusUnprocessableEntity},
	} {
		assert.Equal(t, c.want, r.ask(c.method, r.url(c.path), c.headers).StatusCode, "%v", c)
	}
}

func TestEveryAnswerCarriesThePolicy(t *testing.T) {
	r := start(t)
	for _, u := range []string{r.url(""), r.url("app.js"), r.url("api/start"), r.url("api/photos/9/preview"), r.server.URL + "/nothing"} {
		h := r.ask("GET", u, nil).Header
		assert.Equal(t, "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'", h.Get("Content-Security-Policy"), u)
		assert.Equal(t, "nosniff", h.Get("X-Content-Type-Options"), u)
		assert.Equal(t, "no-referrer", h.Get("Referrer-Policy"), u)
		assert.Equal(t, "no-store", h.Get("Cache-Control"), u)
		assert.Equal(t, "same-origin", h.Get("Cross-Origin-Opener-Policy"), u)
		assert.Equal(t, "same-origin", h.Get("Cross-Origin-Resource-Policy"), u)
		assert.Empty(t, h.Get("Access-Control-Allow-Origin"), u)
	}
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
