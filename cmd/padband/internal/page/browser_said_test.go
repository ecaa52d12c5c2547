package page_test

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// saidWork is what the page sends of light, water and wet whites.
type saidWork struct {
	Marks struct {
		Sample  struct{ Light, Water string }
		Regions []struct{ Role string }
	}
}

// wets counts the wet whites.
func (w saidWork) wets() (n int) {
	for _, r := range w.Marks.Regions {
		if r.Role == "wet-white" {
			n++
		}
	}
	return n
}

// fitsWide checks that nothing on the page is wider than the window.
func (p *tab) fitsWide() {
	p.t.Helper()
	assert.LessOrEqual(p.t, eval[float64](p, `document.documentElement.scrollWidth - innerWidth`), 0.0, "the page scrolls sideways")
}

// saidByTap answers both questions with one tap each; the reading follows at once, and
// what was said is saved.
func saidByTap(t *testing.T, b *browser) {
	for name, on := range map[string]screen{"desk": desk, "phone": phone} {
		t.Run(name, func(t *testing.T) {
			folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json")
			p := b.open(t, b.serve(t, folder, "kitchen.jpg"), on)
			p.next("All is marked")
			p.quiet()
			assert.Empty(t, sent[saidWork](p, "/reading").Marks.Sample.Light)
			p.push("#sample-part > summary")
			p.until(`document.getElementById("light-unsaid").checked && document.getElementById("water-unsaid").checked`)
			p.push(`#sample-form [name="light"][value="daylight"]`)
			p.quiet()
			assert.Equal(t, "daylight", sent[saidWork](p, "/reading").Marks.Sample.Light)
			assert.False(t, eval[bool](p, `document.getElementById('wet-part').checkVisibility()`), "clear water needs no wet white")
			p.push(`#sample-form [name="water"][value="cloudy"]`)
			p.until(`document.getElementById('sample-form').textContent.includes('Let it stand two minutes: if it clears from below it was air.')`)
			p.shot("cloudy")
			p.push(`#sample-form [name="water"][value="dark"]`)
			p.until(`!document.getElementById('sample-form').textContent.includes('two minutes')`)
			p.quiet()
			r := p.reading()
			assert.Contains(t, r.JSON, `"sample":{"light":"daylight","water":"dark"}`)
			p.until(`document.getElementById('wet-part').textContent.includes("The strip's bare plastic is none")`)
			p.fitsWide()
			if on.touch {
				p.fingerSized("said")
			}
			b.audit(p, "said")
			eval[int](p, `(document.getElementById('sample-part').scrollIntoView(), 0)`)
			p.shot("said")
			p.push(`#sample-form [name="light"][value=""]`)
			p.quiet()
			assert.Empty(t, sent[saidWork](p, "/reading").Marks.Sample.Light, "not sure is not said")
			p.push("#undo")
			p.quiet()
			assert.Equal(t, "daylight", sent[saidWork](p, "/reading").Marks.Sample.Light)
			p.push("#save")
			p.push("#ask-yes")
			p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
			assert.Contains(t, fileText(t, filepath.Join(folder, "kitchen.marks.json")), `"light": "daylight"`)
		})
	}
}

// wetWhite marks something that the water has soaked: it is asked for only when a person
// wants it, is listed, and can be removed.
func wetWhite(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg"), desk)
	p.next("All is marked")
	p.push("#marks-part > summary")
	p.push("#mark-wet")
	p.next("mark the wet white")
	assert.Contains(t, p.text("#hint"), "soaked in the same water")
	p.push("#skip")
	p.next("All is marked")
	p.push("#mark-wet")
	p.next("mark the wet white")
	at := demo(t, "kitchen").whites[0]
	p.drag(p.on(spot{at.x + 150, at.y - 250}), p.on(spot{at.x + 190, at.y - 210}))
	p.next("All is marked")
	p.quiet()
	assert.Equal(t, 1, sent[saidWork](p, "/reading").wets(), p.text("#problem"))
	assert.Empty(t, p.text("#problem"))
	assert.NotEmpty(t, p.analytesShown())
	p.until(`[...document.querySelectorAll('#overlay .mark-label')].some((e) => e.textContent === 'wet white')`)
	p.shot("marked")
	p.anew()
	p.next("All is marked")
	p.quiet()
	assert.Equal(t, 1, sent[saidWork](p, "/reading").wets(), "after a reload")
	p.push("#marks-part > summary")
	p.push(`[data-step="wet||||0"]`)
	p.push("#delete")
	p.quiet()
	assert.Zero(t, sent[saidWork](p, "/reading").wets())
}

// waterBeforeDip says how the water looks before there is a photo: the photo that is
// opened next takes it over, unless hours lie between them.
func waterBeforeDip(t *testing.T, b *browser) {
	photos := t.TempDir()
	located(t, photos) // a photo that does not say when it was taken
	p := b.open(t, b.serve(t, t.TempDir(), ""), phone)
	p.push(`[name="next-water"][value="cloudy"]`)
	p.until(`document.getElementById('look').textContent.includes('Let it stand two minutes')`)
	p.push(`[name="next-water"][value="tint"]`)
	p.fingerSized("water")
	p.fitsWide()
	p.shot("water")
	b.audit(p, "water")
	p.anew()
	p.until(`document.querySelector('[name="next-water"][value="tint"]').checked`)

	p.upload("#photo-camera", filepath.Join(demoFolder, "kitchen.jpg")) // says itself that it was taken on another day
	assert.Contains(t, p.text("#look-used"), "is not used for this photo: hours lie between the two")
	p.choose("orchard-well")
	assert.Empty(t, sent[saidWork](p, "/reading").Marks.Sample.Water)

	p.upload("#photo-file", filepath.Join(photos, "kitchen.jpg"))
	p.until(`document.getElementById('look-used').textContent === 'The water: like weak tea, as you said before the dip. Not this water'`)
	p.quiet()
	assert.Equal(t, "tint", sent[saidWork](p, "/reading").Marks.Sample.Water)
	assert.False(t, eval[bool](p, `document.getElementById('ask').open`), "nothing is asked")
	p.shot("used")
	p.push("#look-leave")
	p.until(`!document.getElementById('look-used').textContent`)
	p.quiet()
	assert.Empty(t, sent[saidWork](p, "/reading").Marks.Sample.Water)
}

// saidByKeys answers without a mouse.
func saidByKeys(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.tabTo("#sample-part > summary")
	p.key(kb.Enter)
	p.tabTo(`#sample-form [name="light"][value=""]`)
	p.key(kb.ArrowUp)
	p.quiet()
	assert.Equal(t, "flash", sent[saidWork](p, "/reading").Marks.Sample.Light)
}

// daylightAtNight is asked again about, by the photo's own clock, and about nothing else.
func daylightAtNight(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, t.TempDir(), ""), laptop)
	const note = `import('./sample/said.js').then((m) => m.noteOnLight(%s, %s))`
	assert.Equal(t, "The photo's own clock says 23:10. Was it daylight?", eval[string](p, note, "daylight", "2026-11-14T23:10:00-05:00"))
	for _, c := range [][2]string{
		{"daylight", "2026-11-14T08:41:10-05:00"}, {"daylight", ""}, {"tube", "2026-11-14T23:10:00"}, {"", "2026-11-14T02:10:00"},
	} {
		assert.Empty(t, eval[string](p, note, c[0], c[1]), c)
	}
}
