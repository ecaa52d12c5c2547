package blind

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/hosted"
)

const demo = "../../../../testdata/demo/"

func demoFile(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(demo + name)
	require.NoError(t, err)
	return data
}

// run is a page under test, on a port and with a clock of its own.
type run struct {
	t      *testing.T
	page   *Page
	host   *host.Server
	server *httptest.Server
	clock  time.Time
	file   string
	folder string
}

func start(t *testing.T, c Config) *run {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	b, err := New(c)
	require.NoError(t, err)
	h := host.NewServer(b, host.NewPath(), []string{server.Listener.Addr().String()})
	server.Config.Handler = h
	server.Start()
	t.Cleanup(server.Close)
	r := &run{t, b, h, server, time.Unix(1_800_000_000, 0), c.Path, filepath.Dir(c.Path)}
	b.now = func() time.Time { return r.clock }
	return r
}

func (r *run) url(path string) string { return r.server.URL + r.host.Path() + path }

// get fetches one of the page's files or answers.
func (r *run) get(path string) (status int, body []byte) {
	r.t.Helper()
	res, err := http.Get(r.url(path))
	require.NoError(r.t, err)
	return whole(r.t, res)
}

func whole(t *testing.T, res *http.Response) (int, []byte) {
	t.Helper()
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	return res.StatusCode, body
}

// post calls with a body that is sent as it is when it is bytes, else as JSON.
func (r *run) post(path string, body any) (status int, answer []byte) {
	r.t.Helper()
	data, raw := body.([]byte)
	if !raw {
		var err error
		data, err = json.Marshal(body)
		require.NoError(r.t, err)
	}
	res, err := http.Post(r.url(path), "application/octet-stream", bytes.NewReader(data))
	require.NoError(r.t, err)
	return whole(r.t, res)
}

// ask makes a call with headers; "Host" sets the host.
func (r *run) ask(method, url string, headers map[string]string) *http.Response {
	r.t.Helper()
	q, err := http.NewRequest(method, url, nil)
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

// ok is an answer's fields; the call must have been taken.
func ok[T any](t *testing.T, status int, body []byte) (out T) {
	t.Helper()
	require.Equal(t, http.StatusOK, status, "%s", body)
	require.NoError(t, json.Unmarshal(body, &out))
	return out
}

// refused is the line that a call is refused with.
func refused(t *testing.T, want, status int, body []byte) hosted.Refusal {
	t.Helper()
	require.Equal(t, want, status, "%s", body)
	var out hosted.Refusal
	require.NoError(t, json.Unmarshal(body, &out))
	require.NotEmpty(t, out.Error)
	require.NotContains(t, out.Error, "\n")
	return out
}
