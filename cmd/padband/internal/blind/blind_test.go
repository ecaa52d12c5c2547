package blind

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
	"padband/cmd/padband/internal/host"
)

// demoPhotos are the two demonstration photos.
func demoPhotos(t *testing.T) (out []Photo) {
	t.Helper()
	chart, ok := charts.Find("orchard-well")
	require.True(t, ok)
	for _, name := range []string{"cellar", "kitchen"} {
		m, err := charts.ParseMarks(demoFile(t, name+".marks.json"))
		require.NoError(t, err)
		out = append(out, Photo{Sample: name, Marks: m, Chart: chart, Read: func() ([]byte, error) { return os.ReadFile(demo + name + ".jpg") }})
	}
	return out
}

// blindConfig is that of the demonstration, in a fresh folder.
func blindConfig(t *testing.T) Config {
	return keptAt(Config{Photos: demoPhotos(t), Reader: "A. Reader", Seed: 7}, filepath.Join(t.TempDir(), "calls.csv"))
}

// keptAt has the calls kept in a file.
func keptAt(c Config, path string) Config {
	c.Store, c.File, c.Path = host.NewFolder(filepath.Dir(path)), filepath.Base(path), path
	return c
}

func (r *run) state() state {
	r.t.Helper()
	status, body := r.get("api/pad")
	return ok[state](r.t, status, body)
}

// show says that the pad is on the screen, and lets time pass.
func (r *run) show(at int, for_ time.Duration) {
	r.t.Helper()
	status, body := r.post(fmt.Sprintf("api/pads/%d/shown", at), struct{}{})
	require.Equal(r.t, http.StatusOK, status, "%s", body)
	r.clock = r.clock.Add(for_)
}

// send makes a call.
func (r *run) send(at int, c call) (int, []byte) {
	r.t.Helper()
	return r.post(fmt.Sprintf("api/pads/%d/call", at), c)
}

// withoutPictures makes a run quick that looks at none.
func (r *run) withoutPictures() *run {
	r.page.ready.make = func(pad) prepared { return prepared{} }
	return r
}

// make shows the pad whose turn it is and calls the swatch of an index.
func (r *run) make(swatch int) state {
	r.t.Helper()
	s := r.state()
	r.show(s.At, 2*time.Second)
	status, body := r.send(s.At, call{Kind: "swatch", Value: &s.Pad.Swatches[swatch].Value})
	return ok[state](r.t, status, body)
}

func (r *run) text() string {
	r.t.Helper()
	data, err := os.ReadFile(r.file)
	require.NoError(r.t, err)
	return string(data)
}

func TestReaders(t *testing.T) {
	for _, name := range []string{"", " A", "A ", "A\nB", "A\x1b[2J", "A  B", strings.Repeat("x", 101), "\xff"} {
		assert.Error(t, CheckReader(name), "%q", name)
	}
	assert.NoError(t, CheckReader("Zoë O'Hara, 2nd"))
}

func TestWithoutPads(t *testing.T) {
	c := blindConfig(t)
	c.Analyte = "copper"
	_, err := New(c)
	assert.EqualError(t, err, `no pad is marked for "copper"; marked are nitrate, total hardness, pH`)
	c = blindConfig(t)
	c.Photos[1].Sample = "cellar"
	_, err = New(c)
	assert.ErrorContains(t, err, "two photos would be the sample cellar")
	c.Photos = nil
	_, err = New(c)
	assert.ErrorContains(t, err, "no pad is marked in these photos")
	assert.NoFileExists(t, c.Path)
}

// What the page is sent tells neither the sample nor padband's own reading, and
// only the pad whose turn it is can be seen.
func TestTellsNothing(t *testing.T) {
	c := blindConfig(t)
	for i := range c.Photos {
		c.Photos[i].Marks.Sample.Place = "secret place"
	}
	r := start(t, c)
	for k := range 6 {
		s := r.state()
		bodies := map[string][]byte{}
		for _, path := range []string{"api/pad", fmt.Sprintf("api/pads/%d/pad/1", k), fmt.Sprintf("api/pads/%d/swatch/0/1", k), fmt.Sprintf("api/pads/%d/photo", k)} {
			status, body := r.get(path)
			require.Equal(t, http.StatusOK, status, path)
			bodies[path] = body
		}
		r.show(k, time.Second)
		status, body := r.send(k, call{Kind: "swatch", Value: &s.Pad.Swatches[0].Value})
		require.Equal(t, http.StatusOK, status)
		bodies["call"] = body
		for what, body := range bodies {
			for _, bad := range []string{"kitchen", "cellar", "secret", "2026", "Exif", "raw", "band", "delta", "reliab", "bracket"} {
				assert.NotContains(t, string(body), bad, what)
			}
		}
		for _, path := range []string{"pad/1", "swatch/0/1", "photo"} {
			for _, at := range []int{k, k + 2, -1} {
				status, _ := r.get(fmt.Sprintf("api/pads/%d/%s", at, path))
				assert.Equal(t, http.StatusConflict, status, "%d %s", at, path)
			}
		}
	}
}

// The page is guarded as the marking page is, and has none of its calls.
func TestIsGuarded(t *testing.T) {
	r := start(t, blindConfig(t))
	assert.Equal(t, http.StatusNotFound, r.ask("GET", r.server.URL+"/", nil).StatusCode)
	assert.Equal(t, http.StatusNotFound, r.ask("GET", r.server.URL+"/api/pad", nil).StatusCode)
	assert.Equal(t, http.StatusNotFound, r.ask("GET", r.url("api/pad"), map[string]string{"Host": "evil.example"}).StatusCode)
	assert.Equal(t, http.StatusForbidden, r.ask("POST", r.url("api/pads/0/shown"), map[string]string{"Origin": "http://evil.example"}).StatusCode)
	assert.Equal(t, http.StatusForbidden, r.ask("GET", r.url("api/pads/0/pad/1"), map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}).StatusCode)
	assert.False(t, r.state().Begun)
	res := r.ask("GET", r.url(""), nil)
	_, body := whole(t, res)
	assert.Contains(t, string(body), "Call each pad by eye")
	assert.Equal(t, "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'", res.Header.Get("Content-Security-Policy"))
	for _, name := range ownFiles {
		assert.Equal(t, http.StatusOK, r.ask("GET", r.url(name), nil).StatusCode, name)
	}
	for _, path := range []string{"api/start", "api/charts", "api/photos/1/preview", "app.js", "index.html", "x"} {
		assert.Equal(t, http.StatusNotFound, r.ask("GET", r.url(path), nil).StatusCode, path)
	}
	assert.Equal(t, http.StatusNotFound, r.ask("POST", r.url("api/photos"), nil).StatusCode)
}
