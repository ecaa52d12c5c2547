package page

import (
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/cmd/padband/internal/host"
)

type kept struct {
	Files  []string
	Folder string
}

// inside are the names of the files in a folder.
func inside(t *testing.T, folder string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// Nothing is written but by saving; what is saved is there when the page is
// loaded again, or started again.
func TestSaveBesideThePhoto(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.kitchen()
	status, body := r.post("api/photos/1/reading", w)
	reading := ok[readingAnswer](t, status, body)
	assert.Equal(t, []string{"kitchen.jpg"}, inside(t, r.folder))

	status, body = r.post("api/photos/1/save", w)
	assert.Equal(t, kept{[]string{"kitchen.marks.json", "kitchen.reading.json"}, r.folder}, ok[kept](t, status, body))
	assert.Equal(t, []string{"kitchen.jpg", "kitchen.marks.json", "kitchen.reading.json"}, inside(t, r.folder))
	data, err := os.ReadFile(filepath.Join(r.folder, "kitchen.reading.json"))
	require.NoError(t, err)
	assert.Equal(t, reading.JSON+"\n", string(data))

	type began struct{ Photo PhotoInfo }
	status, body = r.get("api/start")
	again := ok[began](t, status, body).Photo
	assert.JSONEq(t, string(w.Marks), string(again.Marks))
	assert.NotEmpty(t, again.Chart)
	next := startWith(t, Config{Store: host.NewFolder(r.folder), Folder: r.folder, Photo: photoAt(t, filepath.Join(r.folder, "kitchen.jpg"), true)})
	status, body = next.get("api/start")
	assert.JSONEq(t, string(w.Marks), string(ok[began](t, status, body).Photo.Marks))
}

// What is there is replaced only when that was asked for; files of the very
// same content are no hindrance.
func TestSaveDoesNotReplace(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.kitchen()
	for range 2 {
		status, body := r.post("api/photos/1/save", w)
		ok[kept](t, status, body)
	}
	moved := w
	moved.Marks = changed(t, w.Marks, func(m map[string]any) {
		m["sample"] = map[string]any{"place": "kitchen"}
		first := m["regions"].([]any)[0].(map[string]any)["polygon"].([]any)[0].([]any)
		first[0] = 336.26 // written to a tenth of a pixel
		m["corners"].([]any)[0].([]any)[0] = 557.84
	})
	before, err := os.ReadFile(filepath.Join(r.folder, "kitchen.marks.json"))
	require.NoError(t, err)
	status, body := r.post("api/photos/1/save", moved)
	assert.Equal(t, []string{"kitchen.marks.json", "kitchen.reading.json"}, refused(t, http.StatusConflict, status, body).Exists)
	after, err := os.ReadFile(filepath.Join(r.folder, "kitchen.marks.json"))
	require.NoError(t, err)
	assert.Equal(t, before, after)

	moved.Force = true
	status, body = r.post("api/photos/1/save", moved)
	ok[kept](t, status, body)
	after, err = os.ReadFile(filepath.Join(r.folder, "kitchen.marks.json"))
	require.NoError(t, err)
	assert.Contains(t, string(after), `[336.3, 423]`)
	assert.Contains(t, string(after), `[557.8, 345.6]`)
	assert.Equal(t, []string{"kitchen.jpg", "kitchen.marks.json", "kitchen.reading.json"}, inside(t, r.folder), "no passing file stays")
}

// Marks that are not complete are saved without a reading.
func TestSaveOfHalfTheWork(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.kitchen()
	w.Marks = regionsOf(t, w.Marks, func(role, _ string) bool { return role == "white" })
	status, body := r.post("api/photos/1/save", w)
	assert.Equal(t, []string{"kitchen.marks.json"}, ok[kept](t, status, body).Files)
}

// An uploaded photo is saved with the rest, under its plain name, and never over
// another photo, not even by force. Chosen again later, its marks are found.
func TestSaveOfAnUploadedPhoto(t *testing.T) {
	r := start(t)
	status, body := r.post("api/photos?name=..%2fmy%20kitchen.jpg", demoFile(t, "kitchen.jpg"))
	i := ok[PhotoInfo](t, status, body)
	assert.Equal(t, "as received from a browser", i.Came)
	assert.False(t, i.FromFile)
	w := r.kitchen()
	w.Chart = changed(t, w.Chart, func(m map[string]any) { m["version"] = "next" }) // no chart that is found by its name
	status, body = r.post("api/photos/1/save", w)
	ok[kept](t, status, body)
	assert.Equal(t, []string{"my kitchen.chart.json", "my kitchen.jpg", "my kitchen.marks.json", "my kitchen.reading.json"}, inside(t, r.folder))
	data, err := os.ReadFile(filepath.Join(r.folder, "my kitchen.jpg"))
	require.NoError(t, err)
	assert.Equal(t, demoFile(t, "kitchen.jpg"), data, "the bytes as they came")

	status, body = r.post("api/photos?name=my%20kitchen.jpg", demoFile(t, "kitchen.jpg"))
	assert.JSONEq(t, string(w.Marks), string(ok[PhotoInfo](t, status, body).Marks))

	status, body = r.post("api/photos?name=my%20kitchen.jpg", demoFile(t, "cellar.jpg"))
	cellar := ok[PhotoInfo](t, status, body)
	assert.Equal(t, "null", string(cellar.Marks), "marks of another photo are not taken")
	status, body = r.post("api/photos/"+cellar.ID+"/save", work{Marks: json.RawMessage(`{"regions": []}`), Chart: w.Chart, Force: true})
	assert.Contains(t, refused(t, http.StatusUnprocessableEntity, status, body).Error, "another photo named my kitchen.jpg")
	data, err = os.ReadFile(filepath.Join(r.folder, "my kitchen.jpg"))
	require.NoError(t, err)
	assert.Equal(t, demoFile(t, "kitchen.jpg"), data)
}

// With another folder named, all goes there, the photo too.
func TestSaveIntoAnotherFolder(t *testing.T) {
	from, into := t.TempDir(), t.TempDir()
	name := filepath.Join(from, "k.jpg")
	require.NoError(t, os.WriteFile(name, demoFile(t, "kitchen.jpg"), 0o600))
	r := startWith(t, Config{Store: host.NewFolder(into), Folder: into, Photo: photoAt(t, name, false)})
	status, body := r.post("api/photos/1/save", r.kitchen())
	ok[kept](t, status, body)
	assert.Equal(t, []string{"k.jpg", "k.marks.json", "k.reading.json"}, inside(t, into))
	assert.Equal(t, []string{"k.jpg"}, inside(t, from))
}

// A folder that cannot be written to is told, and the page goes on.
func TestSaveWhereNothingCanBeWritten(t *testing.T) {
	r := start(t, "kitchen.jpg")
	require.NoError(t, os.RemoveAll(r.folder))
	status, body := r.post("api/photos/1/save", r.kitchen())
	assert.Contains(t, refused(t, http.StatusInsufficientStorage, status, body).Error, "nothing was written")
	r.works()
}

// Downloads are the same files; a chart that other copies of the program do not
// have goes with them.
func TestFilesForDownload(t *testing.T) {
	r := start(t, "kitchen.jpg")
	w := r.kitchen()
	type handed struct {
		Files []struct{ Name, Text string }
	}
	names := func(w work) (out []string) {
		status, body := r.post("api/photos/1/files", w)
		for _, f := range ok[handed](t, status, body).Files {
			assert.NotEmpty(t, f.Text)
			out = append(out, f.Name)
		}
		return out
	}
	assert.Equal(t, []string{"kitchen.marks.json", "kitchen.reading.json"}, names(w))
	w.Chart = changed(t, w.Chart, func(m map[string]any) { m["version"] = "next" })
	assert.Equal(t, []string{"kitchen.marks.json", "kitchen.chart.json", "kitchen.reading.json"}, names(w))
	assert.Equal(t, []string{"kitchen.jpg"}, inside(t, r.folder))
	require.NoError(t, os.WriteFile(filepath.Join(r.folder, "mine.chart.json"), w.Chart, 0o600))
	assert.Equal(t, []string{"kitchen.marks.json", "kitchen.chart.json", "kitchen.reading.json"}, names(w), "elsewhere the folder's chart is not there")
	status, body := r.post("api/photos/1/save", w)
	assert.Equal(t, []string{"kitchen.marks.json", "kitchen.reading.json"}, ok[kept](t, status, body).Files, "here it is")
}
