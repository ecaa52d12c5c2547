package page_test

import (
	"image"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/outlined"
	own "padband/cmd/padband/internal/page"
)

// landscape is a phone held across.
var landscape = screen{width: 844, height: 390, ratio: 3, touch: true}

// finding serves a page that finds what it is told to find. It begins with a photo of
// the folder, or with none.
func finding(t *testing.T, folder, photo string, find outlined.Finder) string {
	t.Helper()
	c := own.Config{Version: "test", Store: host.NewFolder(folder), Folder: folder, Find: find}
	if photo != "" {
		name := filepath.Join(folder, photo)
		again := func() ([]byte, error) { return input.Photo(name) }
		data, err := again()
		require.NoError(t, err)
		c.Photo = &own.Photo{Name: photo, Data: data, Saved: true, Again: again, Path: name, Beside: input.Disk()}
	}
	p, err := own.New(c)
	require.NoError(t, err)
	server := httptest.NewUnstartedServer(nil)
	path := host.NewPath()
	server.Config.Handler = host.NewServer(p, path, []string{server.Listener.Addr().String()})
	server.Start()
	t.Cleanup(server.Close)
	return server.URL + path
}

// trueMarks are the marks of a demonstration photo as it was rendered, every swatch a
// region of its own.
func trueMarks(t *testing.T, name string) charts.Marks {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(demoFolder, name+".marks.json"))
	require.NoError(t, err)
	m, err := charts.ParseMarks(data)
	require.NoError(t, err)
	file, ok := charts.BundledFile(m.Chart)
	require.True(t, ok)
	c, err := charts.ParseChart(file)
	require.NoError(t, err)
	cells, err := m.Cells(c, m.Photo.Width, m.Photo.Height)
	require.NoError(t, err)
	m.Regions = append(slices.Clone(m.Regions), cells...)
	m.Corners, m.Sample = nil, charts.SampleInfo{}
	return m
}

// finds is a finder that gives one answer, whatever it is shown.
func finds(o outline.Outline) outlined.Finder {
	return func(image.Image, int, int, charts.Chart) outline.Outline { return o }
}

// found goes from a photo to its reading by two taps: the chart, and yes.
func found(t *testing.T, b *browser) {
	m := trueMarks(t, "kitchen")
	for name, on := range map[string]screen{"laptop": laptop, "phone": phone, "landscape": landscape} {
		t.Run(name, func(t *testing.T) {
			p := b.open(t, finding(t, newFolder(t), "", finds(outline.Outline{Marks: &m})), on)
			p.upload("#photo-file", filepath.Join(demoFolder, "kitchen.jpg"))
			p.push(`[data-chart="orchard-well"]`)
			p.looksAt(3, 21)
			p.shot("found")
			assert.Empty(t, p.calls.list("1/reading"), "nothing is read before a person has looked")
			p.answer("#found-yes")
			p.next("All is marked")
			p.quiet()
			p.valueInSight()
			p.shot("read")
			p.holdsTruth(p.reading(), "kitchen")
		})
	}
}

// looksAt waits until outlines stand there to be looked at, on so many lines with so
// many pictures.
func (p *tab) looksAt(lines, pictures int) {
	p.t.Helper()
	p.until(`document.getElementById('found-part').checkVisibility()`)
	p.quiet()
	p.until(`[...document.querySelectorAll('#found-rows img')].every((i) => i.complete && i.naturalWidth > 0)`)
	assert.Equal(p.t, lines, eval[int](p, `document.querySelectorAll('#found-rows .found-line').length`))
	assert.Equal(p.t, pictures, eval[int](p, `document.querySelectorAll('#found-rows img').length`))
	assert.Equal(p.t, "found-title", eval[string](p, `document.activeElement.id`), "the focus")
}
