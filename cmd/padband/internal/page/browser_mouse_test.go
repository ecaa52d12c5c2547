package page_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// byMouse marks three pads and three rows of the demonstration photo, saves,
// and finds the same again.
func byMouse(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg")
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.choose("orchard-well")
	var sizes []box
	p.follow(demo(t, "kitchen"), false, func(kind string, at spot) {
		p.withMouse(kind, at)
		p.quiet()
		sizes = append(sizes, p.stage())
	})
	assert.Len(t, slices.Compact(sizes), 1, "the photo jumps from step to step")
	r := p.reading()
	p.holdsTruth(r, "kitchen")
	p.shows(r, "nitrate", "total hardness", "pH")

	p.push("#save")
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	p.savedAs(b, folder, "kitchen", r)

	p.do(chromedp.Reload())
	p.ready()
	p.next("All is marked")
	assert.Equal(t, r.JSON, p.reading().JSON, "after a reload")

	again := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	again.next("All is marked")
	assert.Equal(t, r.JSON, again.reading().JSON, "in a new run")
}

// choose picks a chart from the list.
func (p *tab) choose(chart string) {
	p.t.Helper()
	p.next("choose the chart")
	p.push(`[data-chart="` + chart + `"]`)
	p.next("mark")
}

// withMouse draws a box for white and clicks on all else.
func (p *tab) withMouse(kind string, at spot) {
	if kind == "white" {
		p.drag(p.on(spot{at.x - 20, at.y - 25}), p.on(spot{at.x + 20, at.y + 25}))
		return
	}
	p.click(p.on(at))
	p.edgeAsked(kind)
}

// edgeAsked waits for what becomes of a tap in a patch: it is marked by its edge,
// or by a box of which the page says so.
func (p *tab) edgeAsked(kind string) {
	p.t.Helper()
	p.quiet()
	if kind == "corner" {
		return
	}
	all := p.calls.list("/edge")
	require.NotEmpty(p.t, all, "a tap asks for no edge")
	if all[len(all)-1].status != 200 {
		assert.Contains(p.t, p.text("#note"), "a box as large as")
	}
}

// readings are those of a reading's JSON.
type readings struct {
	Readings []struct {
		Analyte   string
		Value     float64
		WaterBand struct{ Low, High float64 } `json:"water_band"`
	}
}

// holdsTruth checks that each water band holds the value that was rendered.
func (p *tab) holdsTruth(r reading, photo string) {
	p.t.Helper()
	require.True(p.t, r.Complete)
	var got readings
	require.NoError(p.t, json.Unmarshal([]byte(r.JSON), &got))
	want := truth(p.t, photo)
	assert.Len(p.t, got.Readings, len(want))
	for _, g := range got.Readings {
		assert.LessOrEqual(p.t, g.WaterBand.Low, want[g.Analyte], g.Analyte)
		assert.GreaterOrEqual(p.t, g.WaterBand.High, want[g.Analyte], g.Analyte)
	}
}

// shows checks that what was answered is what a person sees and hears.
func (p *tab) shows(r reading, analytes ...string) {
	p.t.Helper()
	assert.Equal(p.t, analytes, p.analytesShown())
	assert.NotEmpty(p.t, r.Say)
	assert.Equal(p.t, r.Say, p.text("#say"))
	assert.Equal(p.t, "polite", eval[string](p, `document.getElementById('say').getAttribute('aria-live')`))
	pictures := `[...document.querySelectorAll('#reading img')]`
	p.until(`(() => { const all = ` + pictures + `; return all.length >= 9 && all.every((i) => i.complete && i.naturalWidth > 0 || i.loading === 'lazy'); })()`)
}

func (p *tab) analytesShown() []string {
	p.t.Helper()
	return eval[[]string](p, `[...document.querySelectorAll('#reading section[data-analyte]')].map((s) => s.dataset.analyte)`)
}

// savedAs checks the files: what the command reads from them is, to the byte,
// what the page showed.
func (p *tab) savedAs(b *browser, folder, stem string, r reading) {
	p.t.Helper()
	assert.Equal(p.t, r.JSON+"\n", b.read(p.t, folder, stem+".jpg"), "the command and the page")
	data, err := os.ReadFile(filepath.Join(folder, stem+".reading.json"))
	require.NoError(p.t, err)
	assert.Equal(p.t, r.JSON+"\n", string(data), "the saved reading")
}
