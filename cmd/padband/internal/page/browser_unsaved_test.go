package page_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/charts"
)

const savedWell = `document.getElementById('saved').textContent.startsWith('Saved in')`

// unsavedByMouse: leaving warns while something that was done is not in the
// files, and only then.
func unsavedByMouse(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json")
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.next("All is marked")
	assert.False(t, p.warns(), "nothing was done")
	p.nudge()
	assert.True(t, p.warns(), "a mark was moved")
	p.push("#undo")
	assert.False(t, p.warns(), "and moved back")

	p.nudge()
	p.push("#save")
	p.push("#ask-no")
	p.until(`document.getElementById('saved').textContent === 'Nothing was saved.'`)
	assert.True(t, p.warns(), "after Save and Cancel")
	p.otherPhoto("#ask-no")
	assert.Equal(t, "kitchen.jpg", p.text("#photo-name"))

	p.push("#save")
	p.push("#ask-yes")
	p.until(savedWell)
	p.nudge()
	assert.Empty(t, p.text("#saved"), "what is on the page is not what was saved")
	assert.True(t, p.warns(), "changed since")
	p.push("#undo")
	p.until(savedWell)
	was := p.pad("nitrate")
	assert.False(t, p.warns(), "saved")
	assert.Equal(t, was, p.pad("nitrate"), "and there again")
	p.savingFails(folder)
	p.changedWhileSaving()
}

// savingFails saves where nothing can be written.
func (p *tab) savingFails(folder string) {
	p.t.Helper()
	p.nudge()
	p.quiet()
	require.NoError(p.t, os.Rename(folder, folder+"-gone"))
	p.push("#save")
	p.until(`document.getElementById('saved').textContent`)
	assert.NotContains(p.t, p.text("#saved"), "Saved in")
	assert.NoError(p.t, os.Rename(folder+"-gone", folder))
	assert.True(p.t, p.warns(), "could not be saved")
}

// changedWhileSaving changes a mark between Save and its answer.
func (p *tab) changedWhileSaving() {
	p.t.Helper()
	p.hold("/save", `"force":true`)
	p.push("#save")
	p.push("#ask-yes")
	p.until(`window.held`)
	p.nudge()
	eval[int](p, `(letGo(), 0)`)
	p.until(`document.getElementById('saved').textContent.includes('changed since')`)
	assert.True(p.t, p.warns(), "changed while it was saved")
	p.push("#undo")
	p.until(savedWell)
	p.savedInTurn()
	p.changedWhileOpening()
}

// savedInTurn presses Save again before the first is answered: the files hold
// what was saved last.
func (p *tab) savedInTurn() {
	p.t.Helper()
	p.quiet()
	p.nudge()
	p.hold("/save", `"force":true`)
	p.push("#save")
	p.push("#ask-yes")
	p.until(`window.held`)
	p.nudge()
	before := len(p.calls.list("/save"))
	p.push("#save")
	p.until(`new Promise((done) => setTimeout(() => done(true), 300))`)
	assert.Len(p.t, p.calls.list("/save"), before, "one after the other")
	eval[int](p, `(letGo(), 0)`)
	p.push("#ask-yes")
	p.until(savedWell)
	assert.Equal(p.t, p.pad("nitrate"), sent[work](p, "/save").find(p.t, "pad", "nitrate", 0).Polygon)
	assert.False(p.t, p.warns(), "saved again")
}

// changedWhileOpening changes a mark while another photo is on its way.
func (p *tab) changedWhileOpening() {
	p.t.Helper()
	p.hold("/photos?name=", "")
	full, err := filepath.Abs(filepath.Join(demoFolder, "cellar.jpg"))
	require.NoError(p.t, err)
	p.do(chromedp.SetUploadFiles(chromedp.CSS("#photo-file"), []string{full}))
	p.until(`window.held`) // no question: nothing was done
	p.nudge()
	eval[int](p, `(letGo(), 0)`)
	p.push("#ask-no")
	assert.Equal(p.t, "kitchen.jpg", p.text("#photo-name"))
	p.push("#undo")
	p.upload("#photo-file", filepath.Join(demoFolder, "cellar.jpg"))
	assert.Equal(p.t, "cellar.jpg", p.text("#photo-name"))
	assert.Empty(p.t, p.text("#saved"))
	assert.False(p.t, p.warns(), "a photo just opened")
}

// unsavedByKeys: what is still being typed counts too, and downloads are as good as files.
func unsavedByKeys(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json")
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.tabTo("#sample-part > summary")
	p.key(kb.Enter)
	p.tabTo(`#sample-form [name="note"]`)
	p.do(chromedp.KeyEvent("after rain"))
	eval[int](p, `(setTimeout(() => location.reload()), 0)`)
	require.Eventually(t, func() bool { return p.calls.asked() == 1 }, patience, 20*time.Millisecond, "nothing is asked")
	send(p, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: false})
	assert.True(t, eval[bool](p, `document.activeElement.name === 'note'`), "and typing goes on")

	into := t.TempDir()
	p.downloadInto(into)
	p.tabTo("#save")
	p.tabTo("#download")
	p.key(kb.Enter)
	assert.Contains(t, fileText(t, whenThere(t, filepath.Join(into, "kitchen.marks.json"))), "after rain")
	p.until(`document.getElementById('saved').textContent.startsWith('Handed to the browser')`)
	assert.NotContains(t, fileText(t, folder, "kitchen.marks.json"), "after rain")
	assert.False(t, p.warns(), "handed out")
}

// unsavedKept: a record holds what was there, and goes on holding it.
func unsavedKept(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg"), laptop)
	p.next("All is marked")
	const earlier = `document.getElementById('kept-earlier').checkVisibility()`
	p.nudge()
	p.reading()
	p.push("#keep-open")
	p.hold("/keep", "")
	p.push("#record-keep")
	p.until(`window.held`)
	p.nudge()
	eval[int](p, `(letGo(), 0)`)
	p.kept()
	assert.True(t, eval[bool](p, earlier), "changed while it was kept")
	assert.True(t, p.warns())
	p.push("#undo")
	p.until(`!document.getElementById('kept-earlier').checkVisibility()`)
	p.push("#redo")
	p.until(earlier)
	p.push("#undo")
	p.push("#undo") // the marks of the files
	p.until(earlier)
	p.push("#redo")
	p.upload("#photo-file", filepath.Join(demoFolder, "cellar.jpg"))
	assert.Equal(t, "cellar.jpg", p.text("#photo-name"), "without a question: the record holds it")
}

// unsavedFacts types and adds what only a record would hold: it is asked about
// until the record holds it.
func unsavedFacts(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.reading()
	p.push("#keep-open")
	assert.False(t, p.warns(), "nothing was said yet")
	p.next("All is marked")
	p.reading()
	p.push("#keep-open")
	file := filepath.Join(t.TempDir(), "Label.jpg")
	require.NoError(t, os.WriteFile(file, []byte("label"), 0o600))
	p.do(chromedp.SetUploadFiles(chromedp.CSS("#attach-label"), []string{file}))
	p.until(`document.querySelectorAll('#attach-list li').length === 1`)
	assert.True(t, p.warns(), "a further photo")
	p.push(`#attach-list li button`)
	p.write(`#record-form [name="handling"]`, "yes")
	assert.True(t, p.warns(), "a fact that only the record holds")
	p.push("#record-keep")
	p.kept()
	p.upload("#photo-file", filepath.Join(demoFolder, "cellar.jpg"))
	assert.Equal(t, "cellar.jpg", p.text("#photo-name"), "without a question: the record holds it")
}

// answeredTooLate: what becomes of one photo is not said of the next.
func answeredTooLate(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.reading()
	p.push("#keep-open")
	p.hold("/keep", "")
	p.push("#record-keep")
	p.until(`window.held`)
	p.upload("#photo-file", filepath.Join(demoFolder, "cellar.jpg"))
	assert.Equal(t, "cellar.jpg", p.text("#photo-name"))
	eval[int](p, `(letGo(), 0)`)
	p.until(`document.getElementById('record-said').textContent.startsWith('The record of kitchen.jpg was kept')`)
	assert.Empty(t, p.text("#record-kept"))

	p.drag(p.on(spot{100, 100}), p.on(spot{140, 150})) // some white
	p.until(`document.getElementById('save').checkVisibility()`)
	p.hold("/save", "")
	p.push("#save")
	p.until(`window.held`)
	p.otherPhoto("#ask-yes")
	p.next("top left corner") // it comes with what was saved, enough white among it
	eval[int](p, `(letGo(), 0)`)
	p.quiet()
	assert.Empty(t, p.text("#saved"))
}

// unsavedLayout: where the swatches lie is the person's work too.
func unsavedLayout(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg")
	require.NoError(t, os.WriteFile(filepath.Join(folder, "kitchen.marks.json"), swatchBySwatch(t), 0o600))
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.hold("/layout", "")
	p.push("#marks-part > summary")
	p.push("#remember")
	p.next("top left corner")
	p.follow(demo(t, "kitchen"), true, p.withMouse)
	p.until(`window.held`)
	p.push("#save")
	p.push("#ask-yes")
	p.until(savedWell)
	eval[int](p, `(letGo(), 0)`)
	p.until(`document.getElementById('hint').textContent.includes('now knows where')`)
	assert.Empty(t, p.text("#saved"))
	assert.True(t, p.warns(), "the layout was not saved")
	p.push("#save")
	p.push("#ask-yes")
	p.until(savedWell)
	assert.Contains(t, fileText(t, folder, "kitchen.chart.json"), "layout")
	p.push("#other-chart")
	assert.False(t, p.warns(), "looking at other charts changes nothing")
}

// swatchBySwatch are the marks of the demonstration photo with each swatch as a mark.
func swatchBySwatch(t *testing.T) []byte {
	t.Helper()
	m, err := charts.ParseMarks([]byte(fileText(t, demoFolder, "kitchen.marks.json")))
	require.NoError(t, err)
	data, ok := charts.BundledFile(m.Chart)
	require.True(t, ok)
	c, err := charts.ParseChart(data)
	require.NoError(t, err)
	cells, err := m.Cells(c, m.Photo.Width, m.Photo.Height)
	require.NoError(t, err)
	m.Regions, m.Corners = append(m.Regions, cells...), nil
	out, err := m.Encode()
	require.NoError(t, err)
	return out
}
