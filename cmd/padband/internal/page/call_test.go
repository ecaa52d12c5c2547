package page

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/hosted"
	"padband/cmd/padband/internal/input"
)

const demo = "../../../../testdata/demo/"

// run is a page under test, on a port of its own.
type run struct {
	t      *testing.T
	page   *Page
	host   *host.Server
	server *httptest.Server
	folder string
}

// start runs a page whose folder holds the named demo files.
func start(t *testing.T, files ...string) *run {
	t.Helper()
	folder := t.TempDir()
	c := Config{Version: "test", Store: host.NewFolder(folder), Folder: folder}
	for _, f := range files {
		require.NoError(t, os.WriteFile(filepath.Join(folder, f), demoFile(t, f), 0o600))
		if strings.HasSuffix(f, ".jpg") {
			c.Photo = photoAt(t, filepath.Join(folder, f), true)
		}
	}
	return startWith(t, c)
}

// photoAt is a photo's file, which lies where files are saved or elsewhere.
func photoAt(t *testing.T, name string, saved bool) *Photo {
	t.Helper()
	again := func() ([]byte, error) { return input.Photo(name) }
	data, err := again()
	require.NoError(t, err)
	return &Photo{Name: filepath.Base(name), Data: data, Saved: saved, Again: again, Path: name, Beside: input.Disk()}
}

func startWith(t *testing.T, c Config) *run {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	p, err := New(c)
	require.NoError(t, err)
	h := host.NewServer(p, host.NewPath(), []string{server.Listener.Addr().String()})
	server.Config.Handler = h
	server.Start()
	t.Cleanup(server.Close)
	return &run{t, p, h, server, c.Folder}
}

func demoFile(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(demo + name)
	require.NoError(t, err)
	return data
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
	assert.NotEmpty(t, out.Error)
	assert.NotContains(t, out.Error, "\n")
	return out
}

// works says that the page still answers, and takes a photo.
func (r *run) works() {
	r.t.Helper()
	status, body := r.post("api/photos?name=k.jpg", cornered(r.t, 6))
	ok[PhotoInfo](r.t, status, body)
}

// kitchen is the demo photo's work: its marks and its chart.
func (r *run) kitchen() work {
	r.t.Helper()
	status, chart := r.get("api/charts/orchard-well")
	require.Equal(r.t, http.StatusOK, status)
	return work{Marks: demoFile(r.t, "kitchen.marks.json"), Chart: chart}
}

// changed is JSON with its fields edited.
func changed(t *testing.T, data []byte, edit func(m map[string]any)) json.RawMessage {
	t.Helper()
	var m map[string]any
	require.NoError(t, json.Unmarshal(data, &m))
	edit(m)
	out, err := json.Marshal(m)
	require.NoError(t, err)
	return out
}
