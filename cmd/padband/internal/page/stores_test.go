package page

import (
	"bytes"
	"encoding/json"
	"io"
	"io/fs"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/hosted"
)

// hand is a page that is called by hand, on no server at all.
type hand struct {
	t     *testing.T
	page  *Page
	store hosted.Store
	told  strings.Builder // every answer, one after another
}

// call makes a call and gives the answer's body.
func (h *hand) call(method, address string, c hosted.Call) (status int, body []byte) {
	h.t.Helper()
	u, err := url.Parse(address)
	require.NoError(h.t, err)
	c.Method, c.Path, c.Query = method, "/"+u.Path, u.Query()
	a := h.page.Handle(h.t.Context(), c)
	body = a.Data
	switch {
	case a.File != nil:
		body, err = io.ReadAll(a.File)
		require.NoError(h.t, err)
		require.NoError(h.t, a.File.Close())
	case a.Stream != nil:
		var b bytes.Buffer
		require.NoError(h.t, a.Stream(&b))
		body = b.Bytes()
	}
	return a.Status, body
}

func (h *hand) post(address string, body any) (int, []byte) {
	h.t.Helper()
	data, raw := body.([]byte)
	if !raw {
		var err error
		data, err = json.Marshal(body)
		require.NoError(h.t, err)
	}
	status, answer := h.call("POST", address, hosted.Call{Body: bytes.NewReader(data), Length: int64(len(data))})
	h.told.WriteString(address + " " + string(answer) + "\n")
	return status, answer
}

// parts makes a call of a form.
func (h *hand) parts(address string, parts []part) (int, []byte) {
	h.t.Helper()
	form := func(int64) (func() (hosted.Part, error), error) {
		return func() (hosted.Part, error) {
			if len(parts) == 0 {
				return hosted.Part{}, io.EOF
			}
			p := parts[0]
			parts = parts[1:]
			return hosted.Part{Field: p.field, File: p.name, Reader: bytes.NewReader(p.data)}, nil
		}, nil
	}
	status, answer := h.call("POST", address, hosted.Call{Length: -1, Form: form})
	h.told.WriteString(address + " " + string(answer) + "\n")
	return status, answer
}

// stored are all files of the store.
func (h *hand) stored() map[string]string {
	h.t.Helper()
	out := map[string]string{}
	require.NoError(h.t, fs.WalkDir(hosted.Below(h.store, ""), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(hosted.Below(h.store, ""), p)
		out[p] = string(data)
		return err
	}))
	return out
}

// job does all that keeps files: marks and readings are saved and found again,
// records kept and handed out.
func (h *hand) job() {
	t := h.t
	status, body := h.post("api/photos?name=kitchen.jpg", demoFile(t, "kitchen.jpg"))
	i := ok[PhotoInfo](t, status, body)
	_, chart := h.call("GET", "api/charts/orchard-well", hosted.Call{})
	w := work{Marks: demoFile(t, "kitchen.marks.json"), Chart: chart}
	w.Chart = changed(t, w.Chart, func(m map[string]any) { m["version"] = "next" }) // its own file is needed
	status, body = h.post("api/photos/"+i.ID+"/save", w)
	ok[kept](t, status, body)
	w.Marks = changed(t, w.Marks, func(m map[string]any) { m["sample"] = map[string]any{"place": "kitchen"} })
	status, body = h.post("api/photos/"+i.ID+"/save", w)
	refused(t, http.StatusConflict, status, body)
	w.Force = true
	status, body = h.post("api/photos/"+i.ID+"/save", w)
	ok[kept](t, status, body)
	status, body = h.post("api/photos?name=kitchen.jpg", demoFile(t, "kitchen.jpg"))
	again := ok[PhotoInfo](t, status, body)
	assert.NotEmpty(t, again.Marks)
	assert.Equal(t, "kitchen.chart.json", again.ChartFrom)
	for _, zipped := range []bool{false, true} {
		k := keepWork{work: w, Facts: map[string]string{}, Zip: zipped}
		more := []part{{"label", "l.jpg", cornered(t, 1)}}
		status, body = h.parts("api/photos/"+again.ID+"/keep", partsOf(t, k, more...))
		got := ok[keptAnswer](t, status, body)
		status, page := h.call("GET", got.Report, hosted.Call{})
		require.Equal(t, http.StatusOK, status, "%s", page)
		assert.Contains(t, string(page), got.Fingerprint)
		status, archive := h.call("GET", got.Archive, hosted.Call{})
		require.Equal(t, http.StatusOK, status)
		h.told.Write(archive)
		if zipped {
			status, body = h.parts("api/photos/"+again.ID+"/keep", partsOf(t, k, more...))
			assert.Contains(t, refused(t, http.StatusConflict, status, body).Error, got.Name+" is there already and was left as it is")
		}
	}
}

// In memory and in a folder the page answers the same, and keeps the same files.
func TestThePageOnEveryStore(t *testing.T) {
	if testing.Short() {
		t.Skip("two whole jobs, of which nothing is concurrent; left out with -short")
	}
	var told []string
	var files []map[string]string
	for _, store := range []hosted.Store{host.NewFolder(t.TempDir()), &host.Memory{}} {
		p, err := New(Config{Version: "test", Store: store, Folder: "here"})
		require.NoError(t, err)
		h := &hand{t: t, page: p, store: store}
		h.job()
		told, files = append(told, h.told.String()), append(files, h.stored())
	}
	assert.True(t, told[0] == told[1], "the answers differ")
	require.Greater(t, len(files[0]), 14)
	assert.Equal(t, len(files[0]), len(files[1]))
	for name, data := range files[0] {
		assert.True(t, data == files[1][name], name)
	}
}
