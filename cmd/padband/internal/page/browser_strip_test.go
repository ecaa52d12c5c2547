package page_test

import (
	"encoding/json"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padband/calib/strip/outline"
	"padband/charts"
	own "padband/cmd/padband/internal/page"
)

// photographed writes a photo of the demonstration into a folder, as if taken at that
// moment, by the clock of its own zone; a time of zero is not known.
func photographed(t *testing.T, folder, name, of string, at time.Time) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(demoFolder, of+".jpg"))
	require.NoError(t, err)
	when := ""
	if !at.IsZero() {
		when = at.In(time.FixedZone("", -5*60*60)).Format("2006:01:02 15:04:05")
	}
	file := filepath.Join(folder, name)
	require.NoError(t, os.WriteFile(file, own.Retimed(t, data, of, when), 0o600))
	return file
}

// pressed is the moment of the dip that the page keeps.
func (p *tab) pressed() time.Time {
	p.t.Helper()
	at, err := time.Parse(time.RFC3339, eval[string](p, `JSON.parse(localStorage.getItem('padband dip')).at`))
	require.NoError(p.t, err)
	return at
}

// ofStrip is what a test looks at of one answer.
type ofStrip struct {
	OneStrip []struct{ File string } `json:"one_strip"`
	Readings []struct{ Analyte, Photo string }
}

func (p *tab) answered() (out ofStrip) {
	p.t.Helper()
	require.NoError(p.t, json.Unmarshal([]byte(p.reading().JSON), &out))
	return out
}

// oneStrip dips a strip, is told when its photos are due, and reads it from two photos,
// each looked at: one answer, every pad from the photo in time for it. The answer stays
// over a reload, follows a photo that is corrected, and a photo is taken out again.
func oneStrip(t *testing.T, b *browser) {
	for name, on := range map[string]screen{"laptop": laptop, "phone": phone} {
		t.Run(name, func(t *testing.T) { oneStripOn(t, b, on) })
	}
}

func oneStripOn(t *testing.T, b *browser, on screen) {
	photos, folder, seen := t.TempDir(), newFolder(t), "cellar"
	p := b.open(t, finding(t, folder, "", func(image.Image, int, int, charts.Chart) outline.Outline {
		m := trueMarks(t, seen)
		return outline.Outline{Marks: &m}
	}), on)
	inNewfoundland(p)
	p.push("#dip-now")
	p.until(`document.querySelector('#dip-chart [value="orchard-well"]')`)
	eval[int](p, `(() => { const e = document.getElementById('dip-chart'); e.value = 'orchard-well'; e.dispatchEvent(new Event('change', {bubbles: true})); return 0; })()`)
	p.until(`document.querySelector('#dip-due li')`)
	dipped := p.pressed()
	clock := func(seconds int) string {
		return dipped.Add(time.Duration(seconds) * time.Second).Format(time.TimeOnly)
	}
	assert.Equal(t, "Take a photo from "+clock(45)+" to "+clock(60)+", for nitrate, total hardness and pH.", p.text("#dip-due"))
	p.quiet()
	b.audit(p, "due")
	p.fingers44(on, "due")

	first := photographed(t, photos, "image.jpg", "cellar", dipped.Add(42*time.Second))
	p.upload("#photo-file", first)
	p.looksAt(3, 21) // the chart is chosen already
	p.shot("first")
	p.until(`document.getElementById('shots-due').textContent.includes('for nitrate.')`)
	assert.Equal(t, "Take a photo from "+clock(45)+" to "+clock(75)+", for nitrate.", p.text("#shots-due"))
	p.answer("#found-yes")
	p.next("All is marked")
	assert.NotContains(t, p.reading().HTML, "From photo")

	seen = "kitchen"
	require.NoError(t, os.Mkdir(filepath.Join(photos, "second"), 0o700))
	p.upload("#shot-file", photographed(t, filepath.Join(photos, "second"), "image.jpg", "kitchen", dipped.Add(64*time.Second)))
	p.looksAt(3, 21)
	assert.Equal(t, "image-2.jpg", p.text("#photo-name"))
	p.quiet()
	b.audit(p, "second")
	p.fingers44(on, "second")
	assert.Contains(t, p.text("#shots-list"), "Photo 2, taken "+clock(64)+", 64 s after the dip; to be looked at")
	p.answer("#found-yes")
	p.next("All is marked")
	p.quiet()
	p.together()
	assert.Equal(t, "Every pad that has a time has a photo taken in it.", p.text("#shots-all"))
	assert.False(t, eval[bool](p, `document.getElementById('shots-due').checkVisibility()`))
	b.audit(p, "one answer")
	p.fingers44(on, "one answer")

	p.anew() // nothing is lost
	p.ready()
	p.next("All is marked")
	p.together()
	assert.Equal(t, "image-2.jpg", p.text("#photo-name"))

	p.push(`[data-act="show 0"]`) // and its marks can be corrected
	p.until(`document.getElementById('photo-name').textContent === 'image.jpg'`)
	p.quiet()
	p.together()
	was := p.reading().JSON
	p.push("#marks-part > summary")
	p.push(`[data-step="pad|pH||1|"]`)
	p.push("#stage")
	for range 6 {
		p.key("]")
	}
	p.quiet()
	assert.NotEqual(t, was, p.reading().JSON, "the answer follows")
	p.push("#undo")
	p.quiet()

	p.push("#save")
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	for _, f := range []string{"image.jpg", "image.marks.json", "image-2.jpg", "image-2.marks.json", "image.strip.reading.json"} {
		assert.FileExists(t, filepath.Join(folder, f))
	}
	p.push("#keep-open")
	p.until(`document.getElementById('record-missing').textContent`)
	assert.Contains(t, p.text("#record-holds"), "the photo image.jpg, byte for byte as it was received")
	assert.Contains(t, p.text("#record-holds"), "the photo image-2.jpg, byte for byte as it was received")
	p.push("#record-keep")
	verify(t, b, filepath.Join(folder, p.kept()), 2)
	p.push("#record-close")
	p.push(`[data-act="out 1"]`)
	p.push("#ask-yes")
	p.until(`!document.querySelector('#shots-list button')`)
	p.quiet()
	assert.NotContains(t, p.reading().HTML, "From photo", "one photo is left")
	assert.Equal(t, "image.jpg", p.text("#photo-name"))
}

// verify has the command verify a record of so many photos.
func verify(t *testing.T, b *browser, record string, photos int) {
	t.Helper()
	out, err := exec.Command(b.program, "verify", record).CombinedOutput()
	require.NoError(t, err, string(out))
	files, err := filepath.Glob(filepath.Join(record, "data", "photo", "*"))
	require.NoError(t, err)
	assert.Len(t, files, photos)
}

// fingers44 checks the size of controls on a screen for fingers.
func (p *tab) fingers44(on screen, state string) {
	p.t.Helper()
	if on.touch {
		p.fingerSized(state)
	}
}

// together checks the one answer: nitrate from the second photo, the others from the
// first.
func (p *tab) together() {
	p.t.Helper()
	p.until(`document.querySelectorAll('#reading .reading-from').length === 3`)
	got := p.answered()
	require.Len(p.t, got.Readings, 3)
	for i, want := range [][2]string{{"nitrate", "image-2.jpg"}, {"total hardness", "image.jpg"}, {"pH", "image.jpg"}} {
		assert.Equal(p.t, want, [2]string{got.Readings[i].Analyte, got.Readings[i].Photo})
	}
	assert.Contains(p.t, p.text(`#reading section[data-analyte="nitrate"]`), "From photo 2, taken 64 s after the dip; this pad is read at 45 to 75 s.")
	assert.Contains(p.t, p.text(`#reading section[data-analyte="pH"]`), "From photo 1, taken 42 s after the dip; this pad is read at 30 to 60 s.")
	p.until(`[...document.querySelectorAll('#reading img')].every((i) => i.complete && i.naturalWidth > 0)`)
}

// oneStripReally reads a strip from two photos with the program's own search, which knows
// the first photo when it looks at the second. Nothing is asked but one look at each.
func oneStripReally(t *testing.T, b *browser) {
	photos := t.TempDir()
	p := b.open(t, b.run(t, "mark", "--no-browser", "--into", t.TempDir()), phone)
	p.push("#dip-now")
	dipped := p.pressed()
	p.upload("#photo-camera", photographed(t, photos, "image.jpg", "cellar", dipped.Add(42*time.Second)))
	p.push(`[data-chart="orchard-well"]`)
	for _, next := range []string{"", photographed(t, photos, "image-2.jpg", "kitchen", dipped.Add(64*time.Second))} {
		if next != "" {
			p.upload("#shot-camera", next)
			p.quiet()
			assert.Equal(t, "1", sent[struct{ Earlier struct{ ID string } }](p, "2/outline").Earlier.ID)
		}
		p.until(`document.querySelectorAll('#found-rows img').length === 21`)
		p.quiet()
		p.shot("looks")
		p.answer("#found-yes")
		p.next("All is marked")
		p.quiet()
	}
	p.together()
}

// oneStripSlips adds what is no further photo of the strip: each is refused in one line,
// and nothing else changes. A photo that does not say its time is asked for it.
func oneStripSlips(t *testing.T, b *browser) {
	photos, seen := t.TempDir(), "cellar"
	p := b.open(t, finding(t, newFolder(t), "", func(image.Image, int, int, charts.Chart) outline.Outline {
		m := trueMarks(t, seen)
		return outline.Outline{Marks: &m}
	}), phone)
	inNewfoundland(p)
	p.push("#dip-now")
	dipped := p.pressed()
	first := photographed(t, photos, "a.jpg", "cellar", dipped.Add(42*time.Second))
	p.upload("#photo-camera", first)
	p.push(`[data-chart="orchard-well"]`)
	p.looksAt(3, 21)
	p.answer("#found-yes")
	p.next("All is marked")
	for file, want := range map[string]string{
		first: "Photo 1 (a.jpg) and photo 2 (a.jpg) are the same photo; name each photo once. It was not added.",
		photographed(t, photos, "early.jpg", "kitchen", dipped.Add(-18*time.Second)): "Photo 2 (early.jpg) was taken 18 s before the dip that the marks give; " +
			"correct the time of the dip, or leave that photo out. It was not added.",
	} {
		p.upload("#shot-camera", file)
		p.until(`document.getElementById('shots-said').textContent === %s`, want)
		assert.Equal(t, "a.jpg", p.text("#photo-name"))
		assert.Equal(t, 1, eval[int](p, `document.querySelectorAll('#shots-list li').length`))
	}
	p.quiet()
	b.audit(p, "refused")

	seen = "kitchen"
	p.upload("#shot-camera", photographed(t, photos, "none.jpg", "kitchen", time.Time{}))
	p.looksAt(3, 21)
	assert.Empty(t, p.text("#shots-said"))
	assert.True(t, strings.HasPrefix(p.text("#shots-when"), "When was photo 2 taken? The photo itself does not say it."))
	p.quiet()
	b.audit(p, "when")
	p.fingerSized("when")
	p.answer("#found-yes")
	p.until(`document.getElementById('problem').textContent.startsWith('When photo 2 (none.jpg) was taken is not known')`)
	assert.Empty(t, p.analytesShown(), "no answer whose time is not known")
	eval[int](p, `(() => { const e = document.querySelector('[name="shot-taken"]'); e.value = %s; e.dispatchEvent(new Event('change', {bubbles: true})); return 0; })()`,
		dipped.Add(64*time.Second).Format("2006-01-02T15:04:05"))
	p.until(`document.querySelectorAll('#reading .reading-from').length === 3`)
	assert.Contains(t, p.text(`#reading section[data-analyte="nitrate"]`), "From photo 2, taken 64 s after the dip")
	assert.Empty(t, p.text("#problem"))
}
