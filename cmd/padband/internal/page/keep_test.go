package page

import (
	"bytes"
	"encoding/json"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/record"
	"padband/cmd/padband/internal/record/bag"
)

// part is one part of a call to keep.
type part struct {
	field, name string
	data        []byte
}

// partsOf are the parts that the page sends.
func partsOf(t *testing.T, w keepWork, more ...part) []part {
	t.Helper()
	data, err := json.Marshal(w)
	require.NoError(t, err)
	return append([]part{{"work", "", data}}, more...)
}

// sendParts makes a call of several parts, as they are given.
func (r *run) sendParts(path string, parts []part) (status int, answer []byte) {
	r.t.Helper()
	kind, body := r.packed(parts)
	res, err := http.Post(r.url(path), kind, body)
	require.NoError(r.t, err)
	return whole(r.t, res)
}

// packed are parts as a body, and its content type.
func (r *run) packed(parts []part) (kind string, body *bytes.Buffer) {
	r.t.Helper()
	body = &bytes.Buffer{}
	m := multipart.NewWriter(body)
	for _, p := range parts {
		made := func() (io.Writer, error) { return m.CreateFormField(p.field) }
		if p.name != "" {
			made = func() (io.Writer, error) { return m.CreateFormFile(p.field, p.name) }
		}
		to, err := made()
		require.NoError(r.t, err)
		_, err = to.Write(p.data)
		require.NoError(r.t, err)
	}
	require.NoError(r.t, m.Close())
	return m.FormDataContentType(), body
}

// keeping is the demonstration photo's work, to be kept.
func (r *run) keeping() keepWork { return keepWork{work: r.kitchen(), Facts: map[string]string{}} }

// verified opens a record and verifies it with its reading made again.
func verified(t *testing.T, path string) (record.Result, *bag.Root) {
	t.Helper()
	root, err := bag.Open(path)
	require.NoError(t, err)
	t.Cleanup(func() { root.Close() })
	sheet, err := record.Options{Now: time.Now()}.Sheet(root, "test")
	require.NoError(t, err)
	assert.Zero(t, sheet.Result.Faults(), "%v", sheet.Result.Findings)
	return sheet.Result, root
}

func read(t *testing.T, elements ...string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(elements...))
	require.NoError(t, err)
	return data
}

// What the page keeps is what the page saves: the same marks, chart and reading,
// with the photo's own bytes; the facts are those that were said.
func TestKeepAsAFolder(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.keeping()
	status, body := r.post("api/photos/1/save", w.work)
	ok[kept](t, status, body)
	w.Facts = map[string]string{"handling": "yes, shaken off"}
	label := part{"label", "IMG_1.jpg", cornered(t, 1)}
	status, body = r.sendParts("api/photos/1/keep", partsOf(t, w, label, part{"tap", "IMG_1.jpg", cornered(t, 2)}))
	got := ok[keptAnswer](t, status, body)
	assert.Regexp(t, `^2026-11-14-kitchen-tap-[0-9a-f]{8}$`, got.Name)
	assert.Equal(t, []string{"tester", "read", "note"}, got.Missing)
	assert.Equal(t, 2, got.Attached)
	assert.Equal(t, r.folder, got.Folder)

	dir := filepath.Join(r.folder, got.Name)
	res, _ := verified(t, dir)
	assert.Equal(t, res.Fingerprint, got.Fingerprint)
	assert.Equal(t, demoFile(t, "kitchen.jpg"), read(t, dir, "data/photo/kitchen.jpg"))
	assert.Equal(t, label.data, read(t, dir, "data/attached/label-IMG_1.jpg"))
	assert.FileExists(t, filepath.Join(dir, "data/attached/tap-IMG_1.jpg"))
	for kept, saved := range map[string]string{"data/marks.json": "kitchen.marks.json", "data/reading.json": "kitchen.reading.json"} {
		assert.Equal(t, string(read(t, r.folder, saved)), string(read(t, dir, kept)))
	}
	for label, want := range map[string]string{
		"Photo-Received": "from its file", "Handling-Rule-Followed": "yes, shaken off", "Place": "kitchen", "Sampling-Point": "tap",
		"Kit-Lot": "OW-2418", "Photo-Taken": "2026-11-14T08:41:10-05:00", "Dipped": "2026-11-14T08:40:18-05:00", "Program": "padband test",
	} {
		assert.Equal(t, want, res.Info.Get(label), label)
	}
}

// A photo from a browser is said to be so, and may be kept as one file.
func TestKeepAsAZipFile(t *testing.T) {
	r := start(t)
	status, body := r.post("api/photos?name=..%2fmy%20kitchen.jpg", demoFile(t, "kitchen.jpg"))
	i := ok[PhotoInfo](t, status, body)
	w := r.keeping()
	w.Zip = true
	status, body = r.sendParts("api/photos/"+i.ID+"/keep", partsOf(t, w))
	got := ok[keptAnswer](t, status, body)
	assert.Regexp(t, `^2026-11-14-.*\.zip$`, got.Name)
	assert.Equal(t, []string{got.Name}, inside(t, r.folder), "the zip file alone")
	res, _ := verified(t, filepath.Join(r.folder, got.Name))
	assert.Equal(t, "as received from a browser", res.Info.Get("Photo-Received"))
	assert.Equal(t, res.Fingerprint, got.Fingerprint)
}

// A record that is there is left alone, and the way out is told.
func TestKeepNeverReplaces(t *testing.T) {
	r := start(t, "kitchen.jpg")
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, r.keeping()))
	first := ok[keptAnswer](t, status, body)
	before := read(t, r.folder, first.Name, bag.TagManifest)
	w := r.keeping()
	w.Force, w.Facts["handling"] = true, "no"
	status, body = r.sendParts("api/photos/1/keep", partsOf(t, w))
	assert.Contains(t, refused(t, http.StatusConflict, status, body).Error, "is there already and was left as it is")
	assert.Equal(t, before, read(t, r.folder, first.Name, bag.TagManifest))
	assert.Equal(t, []string{first.Name, "kitchen.jpg"}, inside(t, r.folder))
}

// What was read must still be what is in the photo's file.
func TestKeepRefusesAFileThatChanged(t *testing.T) {
	r := start(t, "kitchen.jpg")
	name := filepath.Join(r.folder, "kitchen.jpg")
	require.NoError(t, os.WriteFile(name, append(demoFile(t, "kitchen.jpg"), 0), 0o600))
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, r.keeping()))
	assert.Contains(t, refused(t, http.StatusConflict, status, body).Error, "kitchen.jpg was changed since it was opened here")
	require.NoError(t, os.Remove(name))
	status, body = r.sendParts("api/photos/1/keep", partsOf(t, r.keeping()))
	assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "kitchen.jpg")
	assert.Empty(t, inside(t, r.folder))
	require.NoError(t, os.WriteFile(name, demoFile(t, "kitchen.jpg"), 0o600))
	status, body = r.sendParts("api/photos/1/keep", partsOf(t, r.keeping()))
	ok[keptAnswer](t, status, body)
}

// Half a reading, marks of another photo, or no folder to write to, keeps nothing and is told.
func TestKeepWhatCannotBeKept(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.keeping()
	w.Marks = regionsOf(t, w.Marks, func(role, _ string) bool { return role == "white" })
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, w))
	refused(t, http.StatusUnprocessableEntity, status, body)
	assert.Equal(t, []string{"kitchen.jpg"}, inside(t, r.folder))
	w = r.keeping()
	w.Marks = changed(t, w.Marks, func(m map[string]any) {
		m["photo"].(map[string]any)["sha256"] = strings.Repeat("0", 64)
	})
	status, body = r.sendParts("api/photos/1/keep", partsOf(t, w))
	assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "sha256")
	status, body = r.post("api/photos?name=k.jpg", demoFile(t, "kitchen.jpg"))
	i := ok[PhotoInfo](t, status, body)
	require.NoError(t, os.RemoveAll(r.folder))
	status, body = r.sendParts("api/photos/"+i.ID+"/keep", partsOf(t, r.keeping()))
	assert.Contains(t, refused(t, http.StatusInsufficientStorage, status, body).Error, "nothing was kept")
	status, body = r.sendParts("api/photos/99/keep", partsOf(t, r.keeping()))
	assert.Contains(t, refused(t, http.StatusNotFound, status, body).Error, "no longer open")
}

// download fetches a file of a record.
func (r *run) download(address string) (name string, data []byte) {
	r.t.Helper()
	res, err := http.Get(r.url(address))
	require.NoError(r.t, err)
	defer res.Body.Close()
	data, err = io.ReadAll(res.Body)
	require.NoError(r.t, err)
	require.Equal(r.t, http.StatusOK, res.StatusCode, "%s", data)
	return res.Header.Get("Content-Disposition"), data
}

// The report bears the fingerprint; the zip file is the whole record, from a
// folder and from a zip file.
func TestKeptIsHandedOut(t *testing.T) {
	for _, zip := range []bool{false, true} {
		r := start(t, "kitchen.jpg")
		w := r.keeping()
		w.Zip = zip
		status, body := r.sendParts("api/photos/1/keep", partsOf(t, w, part{"meter", "m.png", cornered(t, 1)}))
		got := ok[keptAnswer](t, status, body)
		name, page := r.download(got.Report)
		assert.Regexp(t, `^attachment; filename="2026-11-14-kitchen-tap-[0-9a-f]{8}\.report\.html"$`, name)
		assert.Contains(t, string(page), got.Fingerprint)
		assert.NotContains(t, string(page), "http://", "the report asks for nothing")

		name, data := r.download(got.Archive)
		assert.Regexp(t, `^attachment; filename="2026-11-14-kitchen-tap-[0-9a-f]{8}\.zip"$`, name)
		file := filepath.Join(t.TempDir(), "r.zip")
		require.NoError(t, os.WriteFile(file, data, 0o600))
		res, root := verified(t, file)
		assert.Equal(t, got.Fingerprint, res.Fingerprint)
		assert.Empty(t, root.Findings)
	}
}

// Records that lie in the folder from before, other files, and records that are
// gone are not handed out.
func TestOnlyWhatWasKeptIsHandedOut(t *testing.T) {
	r := start(t, "kitchen.jpg")
	require.NoError(t, os.WriteFile(filepath.Join(r.folder, "old.zip"), []byte("old"), 0o600))
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, r.keeping()))
	got := ok[keptAnswer](t, status, body)
	for _, name := range []string{"old.zip", "kitchen.jpg", "..%2f" + filepath.Base(r.folder), got.Name + "%2fdata", "%2e%2e", got.Name + "%00"} {
		for _, what := range []string{"/report", "/zip"} {
			status, body := r.get("api/records/" + name + what)
			assert.Equal(t, http.StatusNotFound, status, "%s %s", name, body)
		}
	}
	require.NoError(t, os.RemoveAll(filepath.Join(r.folder, got.Name)))
	status, body = r.get(got.Report)
	assert.Contains(t, refused(t, http.StatusNotFound, status, body).Error, "no longer in the folder")
}

// A link put into a record's folder is not followed, wherever it leads: the
// download breaks off.
func TestALinkInARecordIsNotHandedOut(t *testing.T) {
	r := start(t, "kitchen.jpg")
	status, body := r.sendParts("api/photos/1/keep", partsOf(t, r.keeping()))
	got := ok[keptAnswer](t, status, body)
	link := filepath.Join(r.folder, got.Name, "data", "x.jpg")
	for _, to := range []string{filepath.Join(r.folder, "kitchen.jpg"), filepath.Join("..", "bag-info.txt")} {
		if err := os.Symlink(to, link); err != nil {
			t.Skip("this system makes no links: " + err.Error())
		}
		res, err := http.Get(r.url(got.Archive))
		if err == nil {
			defer res.Body.Close()
			_, err = io.ReadAll(res.Body)
		}
		assert.Error(t, err, "a download that looks whole, with a link to %s", to)
		require.NoError(t, os.Remove(link))
	}
	r.download(got.Archive)
}
