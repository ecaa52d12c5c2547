package page_test

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
)

// dipFirst presses "Dipped now" before there is a photo. The time survives a reload,
// nothing is asked, the photo that is opened next takes it over, and no photo that
// cannot be of this dip does.
func dipFirst(t *testing.T, b *browser) {
	photos := t.TempDir()
	located(t, photos) // a photo that does not say when it was taken
	p := b.open(t, b.serve(t, t.TempDir(), ""), phone)
	inNewfoundland(p)
	assert.Empty(t, p.text("#dip-said"))
	p.fingerSized("start")
	before := time.Now()
	p.push("#dip-now")
	said := `/^Dipped at \d\d:\d\d:\d\d\. The next photo takes this time over\.$/.test(document.getElementById('dip-said').textContent)`
	p.until(said)
	p.shot("dipped")
	b.audit(p, "dipped")
	p.fingerSized("dipped")
	p.anew()
	p.until(said)

	p.upload("#photo-camera", filepath.Join(demoFolder, "kitchen.jpg")) // says itself that it was taken on another day
	assert.Contains(t, p.text("#dip-used"), "is not used for this photo: it was taken at 2026-11-14 08:41:10")
	p.choose("orchard-well")
	assert.Empty(t, sent[stamped](p, "/reading").Marks.Sample.Dipped)

	p.upload("#photo-file", filepath.Join(photos, "kitchen.jpg"))
	p.until(`/^Dipped at \d\d:\d\d:\d\d, as you pressed\. Not this strip$/.test(document.getElementById('dip-used').textContent)`)
	p.shot("used")
	isNow(t, before, sent[stamped](p, "/reading").Marks.Sample.Dipped)
	assert.False(t, eval[bool](p, `document.getElementById('ask').open`), "nothing is asked")

	p.anew()
	p.until(`document.getElementById('dip-used').textContent.includes('as you pressed')`)
	p.push("#dip-leave")
	p.until(`!document.getElementById('dip-used').textContent`)
	assert.Empty(t, eval[string](p, `document.querySelector('[name="dipped"]').value`))
	p.anew()
	assert.Empty(t, p.text("#dip-used"), "a time that was taken away stays away")

	p.push("#dip-now") // of the next strip, while this photo is open
	p.until(said)
	p.anew()
	p.until(said)
	assert.Empty(t, eval[string](p, `document.querySelector('[name="dipped"]').value`), "the photo that was there before the dip")
	p.push("#dip-forget")
	p.until(`!document.getElementById('dip-said').textContent`)
}

// halfADate types a day without a time of day: that is said, and not taken as nothing.
func halfADate(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.push("#sample-part > summary")
	p.push(`[name="dipped"]`)
	eval[int](p, `(() => { const e = document.querySelector('[name="dipped"]'); e.value = ''; e.focus(); return 0; })()`)
	p.do(chromedp.KeyEvent("11142026"))
	p.push(`[name="note"]`)
	const at = `(document.querySelector('[name="dipped"]').getAttribute('aria-describedby') || '').split(' ').map((id) => document.getElementById(id)?.textContent).join(' ')`
	p.until(`(` + at + `).includes('Give the whole date and the time of day')`)
	assert.Equal(t, "true", eval[string](p, `document.querySelector('[name="dipped"]').getAttribute('aria-invalid')`))
	p.shot("half")
	p.push(`[name="dipped"]`)
	eval[int](p, `(() => { const e = document.querySelector('[name="dipped"]'); e.value = '2026-11-14T08:40:00'; e.dispatchEvent(new Event('change', {bubbles: true})); e.blur(); return 0; })()`)
	p.until(`!(` + at + `).includes('Give the whole')`)

	p.push(`[name="expires"]`)
	eval[int](p, `(document.querySelector('[name="expires"]').select(), 0)`)
	p.do(chromedp.KeyEvent("5/2027"))
	p.push(`[name="note"]`)
	const expires = `(document.querySelector('[name="expires"]').getAttribute('aria-describedby') || '').split(' ').map((id) => document.getElementById(id)?.textContent).join(' ')`
	p.until(`(` + expires + `).includes('is no month such as 2027-05')`)
	assert.Empty(t, p.analytesShown(), "no reading of what was refused")
	p.push(`[name="expires"]`)
	eval[int](p, `(document.querySelector('[name="expires"]').select(), 0)`)
	p.do(chromedp.KeyEvent("2027-05"))
	p.push(`[name="note"]`)
	p.until(`!(` + expires + `).includes('is no month')`)
	p.quiet()
	assert.NotEmpty(t, p.analytesShown())
}
