package page_test

import (
	"encoding/json"
	"image"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	scenes "padband/calib/scene"
	"padband/calib/strip/outline"
	"padband/charts"
	"padband/cmd/padband/internal/host"
	"padband/cmd/padband/internal/input"
	"padband/cmd/padband/internal/outlined"
	own "padband/cmd/padband/internal/page"
	"padband/colorimetry"
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

// foundReally goes from a photo to its reading with the program's own search, by at most
// three taps each: the two photos of the demonstration, whose chart is picked, and two
// rendered ones, whose chart lies beside them.
func foundReally(t *testing.T, b *browser) {
	for _, name := range []string{"kitchen", "cellar"} {
		t.Run(name, func(t *testing.T) {
			p := b.open(t, b.run(t, "mark", "--no-browser", "--into", t.TempDir()), phone)
			p.upload("#photo-file", filepath.Join(demoFolder, name+".jpg"))
			p.push(`[data-chart="orchard-well"]`)
			p.until(`document.querySelectorAll('#found-rows img').length === 21`) // swatches that the chart's corners place too
			taps := 1 + p.agrees()
			assert.LessOrEqual(t, taps, 3)
			p.holdsTruth(p.reading(), name)
		})
	}
	for seed, name := range map[uint64]string{1: "three rows", 11: "asked"} {
		t.Run(name, func(t *testing.T) {
			folder, want := rendered(t, seed)
			p := b.open(t, b.run(t, "mark", "--no-browser", filepath.Join(folder, "scene.jpg")), landscape)
			assert.LessOrEqual(t, p.agrees(), 3)
			p.quiet()
			p.shot("read")
			p.within(p.reading(), want)
		})
	}
}

// agrees says yes to what was found, and to what is asked about it, until all is read. It
// gives the number of taps.
func (p *tab) agrees() (taps int) {
	p.t.Helper()
	for range 5 {
		p.until(`document.getElementById('found-part').checkVisibility()`)
		p.quiet()
		p.shot("agrees")
		taps++
		if eval[bool](p, `Boolean(document.getElementById('found-yes'))`) {
			p.answer("#found-yes")
			p.next("All is marked")
			p.quiet()
			p.valueInSight()
			return taps
		}
		p.answer("#found-answer-0")
	}
	require.Fail(p.t, "the page goes on asking")
	return taps
}

// rendered writes a photo rendered from spectra into a folder, with its chart beside it.
func rendered(t *testing.T, seed uint64) (folder string, want map[string]float64) {
	t.Helper()
	c, err := scenes.Draw(seed, scenes.Good)
	require.NoError(t, err)
	s, err := scenes.Render(c)
	require.NoError(t, err)
	chart, err := s.Chart.Encode()
	require.NoError(t, err)
	folder, want = t.TempDir(), map[string]float64{}
	require.NoError(t, os.WriteFile(filepath.Join(folder, "scene.jpg"), s.Photo, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "scene.chart.json"), chart, 0o600))
	for _, pad := range s.Truth {
		want[pad.Analyte] = pad.Value
	}
	return folder, want
}

// within checks that each water band holds the true value.
func (p *tab) within(r reading, want map[string]float64) {
	p.t.Helper()
	require.True(p.t, r.Complete)
	var got struct {
		Readings []struct {
			Analyte   string
			WaterBand struct{ Low, High *float64 } `json:"water_band"`
		}
	}
	require.NoError(p.t, json.Unmarshal([]byte(r.JSON), &got))
	assert.Len(p.t, got.Readings, len(want))
	for _, g := range got.Readings {
		if g.WaterBand.Low != nil {
			assert.LessOrEqual(p.t, *g.WaterBand.Low, want[g.Analyte], g.Analyte)
		}
		if g.WaterBand.High != nil {
			assert.GreaterOrEqual(p.t, *g.WaterBand.High, want[g.Analyte], g.Analyte)
		}
	}
}

// foundParts finds pads of three parts, on a chart that does not say which end of a row is
// pale: one look says that too, and no row is asked about again.
func foundParts(t *testing.T, b *browser) {
	n := newBench(t)
	m := n.outlines()
	dark := phone
	dark.dark = true
	p := b.open(t, finding(t, n.folder, "bench.jpg", finds(outline.Outline{Marks: &m})), dark)
	p.looksAt(3, 3*4+2*6)
	b.audit(p, "parts")
	p.push("#marks-part > summary")
	p.quiet()
	p.fingerSized("looking")
	p.answer("#found-yes")
	p.next("All is marked")
	p.quiet()
	assert.False(t, eval[bool](p, `document.getElementById('order').open`), "it is told once")
	assert.Equal(t, map[string]string{"pH": "neither", "nitrate": "lowest", "iron": "lowest"}, p.palest())
	assert.Equal(t, []string{"pH", "nitrate", "iron"}, sent[sentWork](p, "1/reading").Chart.Strip)
	p.until(`document.getElementById('looked').textContent.includes('a person looked at them')`)
	b.audit(p, "looked at")
	p.push("#look-again")
	p.looksAt(3, 3*4+2*6)
	p.answer("#found-yes")
	p.next("All is marked")
	p.quiet() // the reading comes, and what stands above it moves
	p.push("#remember-found")
	p.next("top left corner")
}

// outlines are the bench's pads and swatches, and a white area.
func (b bench) outlines() (m charts.Marks) {
	about := func(at spot, half float64) colorimetry.Region {
		return colorimetry.Region{Shape: colorimetry.Rect, Points: []colorimetry.Point{{X: at.x - half, Y: at.y - half}, {X: 2 * half, Y: 2 * half}}}
	}
	m.Regions = append(m.Regions, charts.Mark{Role: charts.RoleWhite, Region: about(spot{90, 900}, 30)})
	for _, a := range benchChart["analytes"].([]any) {
		name := a.(map[string]any)["name"].(string)
		for part := 1; len(b.rows[name+strconv.Itoa(part)]) > 0; part++ {
			m.Regions = append(m.Regions, charts.Mark{Role: charts.RolePad, Analyte: name, Part: part, Region: about(b.pads[name+strconv.Itoa(part)], 14)})
			for i, at := range b.rows[name+strconv.Itoa(part)] {
				v := a.(map[string]any)["swatches"].([]any)[i].(map[string]any)["value"].(float64)
				m.Regions = append(m.Regions, charts.Mark{Role: charts.RoleSwatch, Analyte: name, Part: part, Value: v, Region: about(at, 25)})
			}
		}
	}
	return m
}

// foundLate lets the search take its time: who has begun to mark meanwhile goes on, and
// who leaves a photo whose outlines nobody moved loses nothing.
func foundLate(t *testing.T, b *browser) {
	m, folder, ready := trueMarks(t, "kitchen"), newFolder(t, "kitchen.jpg"), make(chan struct{}, 8)
	slow := func(image.Image, int, int, charts.Chart) outline.Outline {
		<-ready
		return outline.Outline{Marks: &m}
	}
	address := finding(t, folder, "kitchen.jpg", slow)
	p := b.open(t, address, laptop)
	p.push(`[data-chart="orchard-well"]`)
	p.until(`document.getElementById('hint').textContent.startsWith('The program looks for')`)
	white := demo(t, "kitchen").whites[0]
	p.drag(p.on(spot{white.x - 20, white.y - 25}), p.on(spot{white.x + 20, white.y + 25}))
	p.next("another piece of white")
	ready <- struct{}{}
	p.quiet()
	p.next("another piece of white")
	assert.Equal(t, 1, p.marks(), "what a person marks is not written over")

	ready <- struct{}{}
	again := b.open(t, address, laptop)
	again.push(`[data-chart="orchard-well"]`)
	again.looksAt(3, 21)
	ready <- struct{}{} // for the page that is loaded anew
	assert.False(t, again.warns(), "nobody has done anything yet")
	again.looksAt(3, 21)
	again.answer("#found-yes")
	again.next("All is marked")
	again.quiet()
	assert.True(t, again.warns(), "a person has looked")
}
