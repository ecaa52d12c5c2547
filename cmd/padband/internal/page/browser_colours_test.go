package page_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// coloursKept lets a chart remember a bottle: it is asked once, after a clear reading by
// daylight; the saved chart holds the colours, and the photo is read with them unwarned.
func coloursKept(t *testing.T, b *browser) {
	for name, on := range map[string]screen{"desk": desk, "phone": phone} {
		t.Run(name, func(t *testing.T) {
			folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json")
			p := b.open(t, b.serve(t, folder, "kitchen.jpg"), on)
			p.next("All is marked")
			p.quiet()
			assert.False(t, p.sees("#colours-part"), "nobody said that it was daylight")
			p.push("#sample-part > summary")
			p.push(`#sample-form [name="light"][value="daylight"]`)
			p.until(`document.getElementById('colours-yes')?.checkVisibility()`)
			p.quiet()
			assert.Equal(t, "Remember this bottle's colours?", p.text("#colours-title"))
			p.fitsWide()
			if on.touch {
				p.fingerSized("colours")
			}
			b.audit(p, "colours")
			p.showing("#colours-part", "asked")

			p.push("#colours-no")
			p.until(`!document.getElementById('colours-title')`)
			p.anew()
			p.next("All is marked")
			p.until(`document.getElementById('colours-yes')?.checkVisibility()`)
			assert.Empty(t, p.text("#colours-title"), "it is asked once, also when the page is loaded again")
			p.push("#colours-yes")
			p.until(`document.getElementById('colours-kept')?.checkVisibility()`)
			p.quiet()
			assert.Equal(t, "The chart remembers one bottle", p.text("#colours-kept"))
			assert.Contains(t, p.text(".colours-kept"), "Lot OW-2418, photographed on 2026-11-14 by daylight: 18 swatches.")
			assert.False(t, p.sees("#colours-yes"))
			b.audit(p, "colours kept")
			p.showing("#colours-part", "kept")
			p.push("#save")
			p.push("#ask-yes")
			p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)

			saved := fileText(t, filepath.Join(folder, "kitchen.chart.json"))
			assert.Contains(t, saved, `"print_colours"`)
			assert.Equal(t, b.remembered(t, filepath.Join(folder, "kitchen.jpg")), saved, "as the command remembers")
			read := b.read(t, folder, "kitchen.jpg")
			for _, code := range []string{"other-light", "other-chart", "altered-photo", "new-bottle"} {
				assert.NotContains(t, read, code)
			}
			assert.Contains(t, read, `"light":"daylight"`)
		})
	}
}

// remembered is the bundled chart's file after the command let it remember by a photo.
func (b *browser) remembered(t *testing.T, photo string) string {
	t.Helper()
	own, err := exec.Command(b.program, "chart", "show", "--json", "orchard-well").Output()
	require.NoError(t, err)
	chart := filepath.Join(t.TempDir(), "own.chart.json")
	require.NoError(t, os.WriteFile(chart, own, 0o644))
	out, err := exec.Command(b.program, "chart", "remember", chart, photo).CombinedOutput()
	require.NoError(t, err, "%s", out)
	return fileText(t, chart)
}

// coloursOfANewBottle are offered again where the chart remembers another lot, and both
// can be forgotten.
func coloursOfANewBottle(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json")
	marks := filepath.Join(folder, "kitchen.marks.json")
	var file map[string]any
	require.NoError(t, json.Unmarshal([]byte(fileText(t, marks)), &file))
	file["sample"].(map[string]any)["light"] = "daylight"
	data, err := json.Marshal(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(marks, data, 0o644))

	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), desk)
	p.push("#colours-yes")
	p.until(`document.getElementById('colours-kept')?.checkVisibility()`)
	p.quiet()
	p.push("#sample-part > summary")
	p.push(`#sample-form [name="lot"]`)
	eval[int](p, `(document.activeElement.select(), 0)`)
	p.do(chromedp.KeyEvent("OW-3000"))
	p.key(kb.Enter)
	p.until(`document.querySelector('#reading li[data-code="new-bottle"]')`)
	assert.Equal(t, "New bottle. Remember its colours too?", p.text("#colours-title"))
	p.pushNamed("Remember it again")
	p.until(`document.getElementById('colours-kept')?.textContent === 'The chart remembers 2 bottles'`)
	p.until(`!document.querySelector('#reading li[data-code="new-bottle"]')`)
	p.quiet()
	assert.Equal(t, 2, strings.Count(p.text(".colours-kept"), "18 swatches"))
	p.showing("#colours-part", "two")
	p.push(`[data-lot="OW-2418"]`)
	p.push(`[data-lot="OW-3000"]`)
	p.until(`document.getElementById('colours-yes')?.checkVisibility() && !document.getElementById('colours-kept')`)
	p.quiet()
	assert.Equal(t, "Lot OW-3000 is forgotten. Save keeps that.", p.text("#colours-said"))
	assert.Empty(t, p.text("#colours-title"), "who has forgotten it is not asked about it")
	assert.NotContains(t, string(p.lastChart()), "print_colours")
}

// lastChart is the chart that was sent last to be read.
func (p *tab) lastChart() json.RawMessage {
	p.t.Helper()
	return sent[struct{ Chart json.RawMessage }](p, "/reading").Chart
}

// sees reports whether something is on the page and not hidden.
func (p *tab) sees(selector string) bool {
	p.t.Helper()
	return eval[bool](p, `Boolean(document.querySelector(%s)?.checkVisibility())`, selector)
}

// showing takes a picture of a part of the page.
func (p *tab) showing(selector, name string) {
	p.t.Helper()
	eval[int](p, `(document.querySelector(%s).scrollIntoView({block: 'center'}), 0)`, selector)
	p.shot(name)
}
