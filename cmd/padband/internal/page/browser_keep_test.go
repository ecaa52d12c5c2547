package page_test

import (
	"encoding/binary"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	download "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// keepByMouse keeps a photo that holds a position and no time: what is missing
// is said, further photos are attached, and the record is kept and downloaded.
// The command verifies both, and reads the same.
func keepByMouse(t *testing.T, b *browser) {
	folder := newFolder(t)
	located(t, folder)
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.push("#keep-open")
	p.until(`document.activeElement.id === 'record-title'`)
	assert.Contains(t, p.text("#record-position"), "carries the place where it was taken")
	assert.True(t, eval[bool](p, `document.getElementById('record-position').checkVisibility()`))
	assert.Equal(t, 1, eval[int](p, `document.querySelectorAll('[name="place"], [name="lot"]').length / 2`), "each fact has one place")
	assert.Contains(t, p.text("#record-missing"), "dipped and read by, photo taken at, read by eye at, handling rule followed, note")
	p.write(`[name="reader"]`, "A. Reader")
	p.write(`[name="handling"]`, "yes")
	eval[int](p, `(() => { const d = new Date('2026-11-14T08:41:10-05:00'); const i = document.querySelector('[name="taken"]'); i.value = new Date(d - 60000 * d.getTimezoneOffset()).toISOString().slice(0, 19); i.dispatchEvent(new Event('change', {bubbles: true})); return 0; })()`)
	p.until(`!/ read by,|taken|handling/.test(document.getElementById('record-missing').textContent)`)
	p.until(`!document.getElementById('reading').textContent.includes('Whether the photo was taken within the time')`)
	r := p.reading()
	p.attach(t, folder)
	p.push("#record-keep")
	dir := filepath.Join(folder, p.kept())
	assert.Equal(t, p.text("#fingerprint"), b.verify(t, dir))
	assert.FileExists(t, filepath.Join(dir, "data", "attached", "tap-Tap.jpg"))
	assert.NoFileExists(t, filepath.Join(dir, "data", "attached", "label-Label.jpg"))
	assert.Regexp(t, `^2026-11-14-kitchen-tap-`, filepath.Base(dir))
	info := fileText(t, dir, "bag-info.txt")
	for _, line := range []string{"Tester: A. Reader", "Handling-Rule-Followed: yes", "Photo-Position: yes", "Place: kitchen", "Kit-Lot: OW-2418", "Photo-Received: from its file"} {
		assert.Contains(t, info, line+"\n")
	}
	p.push("#save")
	p.push("#ask-yes") // over the marks that lack what was said
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	assert.Equal(t, b.read(t, folder, "kitchen.jpg"), fileText(t, dir, "data", "reading.json"), "the command and the record")
	assert.Equal(t, r.JSON+"\n", fileText(t, dir, "data", "reading.json"), "the page and the record")

	p.keptEarlier()
	p.downloads(t, b)
}

// keptEarlier keeps again, which is refused, and changes the sample after it.
func (p *tab) keptEarlier() {
	p.t.Helper()
	p.push("#record-keep")
	p.until(`document.getElementById('record-said').textContent.includes('is there already and was left as it is')`)
	assert.False(p.t, eval[bool](p, `document.getElementById('kept-earlier').checkVisibility()`))
	p.write(`[name="note"]`, "after rain")
	p.key(kb.Tab)
	p.until(`document.getElementById('kept-earlier').checkVisibility()`)
	p.push("#record-close")
	p.until(`document.activeElement.id === 'keep-open' && document.querySelector('#sample-part form')`)
	p.push("#keep-open")
	p.until(`document.getElementById('fingerprint').checkVisibility()`)
}

// attach adds two further photos and removes the first.
func (p *tab) attach(t *testing.T, folder string) {
	t.Helper()
	for _, n := range []string{"Label", "Tap"} {
		file := filepath.Join(t.TempDir(), n+".jpg")
		require.NoError(t, os.WriteFile(file, []byte(n), 0o600))
		p.do(chromedp.SetUploadFiles(chromedp.CSS(map[string]string{"Label": "#attach-label", "Tap": "#attach-tap"}[n]), []string{file}))
	}
	p.until(`document.querySelectorAll('#attach-list li').length === 2`)
	p.push(`#attach-list li:first-child button`)
	assert.Contains(t, p.text("#attach-list"), "Tap or place: Tap.jpg")
	assert.NotContains(t, p.text("#attach-list"), "Label.jpg")
}

// kept waits for the record and gives its name.
func (p *tab) kept() string {
	p.t.Helper()
	p.until(`document.activeElement.id === 'kept-title'`)
	p.quiet()
	assert.Regexp(p.t, `^([0-9a-f]{4} ){4}[0-9a-f]{4}$`, p.text("#fingerprint"))
	assert.Contains(p.t, p.text("#record-kept"), "Write this down or have it countersigned today")
	return p.text("#kept-name")
}

// downloads fetches report and record as a person does.
func (p *tab) downloads(t *testing.T, b *browser) {
	t.Helper()
	into := t.TempDir()
	p.downloadInto(into)
	name := p.text("#kept-name")
	p.push("#kept-report")
	assert.Contains(t, fileText(t, whenThere(t, filepath.Join(into, name+".report.html"))), p.text("#fingerprint"))
	p.push("#kept-zip")
	assert.Equal(t, p.text("#fingerprint"), b.verify(t, whenThere(t, filepath.Join(into, name+".zip"))))
}

// downloadInto lets the browser download into a folder without a question.
func (p *tab) downloadInto(folder string) {
	p.t.Helper()
	params := download.SetDownloadBehaviorParams{Behavior: download.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder}
	params.BrowserContextID = send(p, target.GetTargetInfo, target.GetTargetInfoParams{}).TargetInfo.BrowserContextID
	send(p, download.SetDownloadBehavior, params)
}

// whenThere waits for a file that a browser downloads.
func whenThere(t *testing.T, file string) string {
	t.Helper()
	require.Eventually(t, func() bool { _, err := os.Stat(file); return err == nil }, patience, 50*time.Millisecond, file)
	return file
}

// keepByKeys keeps one zip file without a mouse.
func keepByKeys(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json")
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.reading()
	p.tabTo("#keep-open")
	p.key(kb.Enter)
	p.until(`document.activeElement.id === 'record-title'`)
	p.tabTo(`[name="reader"]`)
	p.do(chromedp.KeyEvent("B. Reader"))
	p.tabTo(`#attach-label`)
	p.tabTo("#record-folder")
	p.key(kb.ArrowDown)
	p.tabTo("#record-keep")
	p.key(kb.Enter)
	name := p.kept()
	assert.Regexp(t, `\.zip$`, name)
	assert.Equal(t, p.text("#fingerprint"), b.verify(t, filepath.Join(folder, name)))
	p.tabTo("#kept-report")
	p.tabTo("#kept-zip")
}

// verify is the fingerprint of a record that the command finds no fault in.
func (b *browser) verify(t *testing.T, path string) string {
	t.Helper()
	out, err := exec.Command(b.program, "verify", path).CombinedOutput()
	require.NoError(t, err, "%s", out)
	require.Contains(t, string(out), "the photo was read again: the same")
	return regexp.MustCompile(`([0-9a-f]{4} ){4}[0-9a-f]{4}`).FindString(string(out))
}

func fileText(t *testing.T, elements ...string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(elements...))
	require.NoError(t, err)
	return string(data)
}

// located writes the demonstration photo with Exif of its own before all else:
// a table of positions with a latitude (CIPA DC-008, tags 0x8825 and 0x0002),
// and no time; and its marks, for any photo.
func located(t *testing.T, folder string) {
	t.Helper()
	le := binary.LittleEndian
	exif := []byte("Exif\x00\x00II*\x00\x08\x00\x00\x00")
	entry := func(tag, kind uint16, n, value uint32) {
		exif = le.AppendUint32(le.AppendUint32(le.AppendUint16(le.AppendUint16(exif, tag), kind), n), value)
	}
	exif = le.AppendUint16(exif, 1)
	entry(0x8825, 4, 1, 26) // the table follows
	exif = le.AppendUint16(le.AppendUint32(exif, 0), 1)
	entry(0x0002, 5, 3, 44)
	exif = le.AppendUint32(exif, 0)
	for _, v := range []uint32{40, 1, 0, 1, 0, 1} {
		exif = le.AppendUint32(exif, v)
	}
	photo := fileText(t, demoFolder, "kitchen.jpg")
	segment := append(binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(exif)+2)), exif...)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "kitchen.jpg"), []byte(photo[:2]+string(segment)+photo[2:]), 0o600))
	marks := regexp.MustCompile(`, "(sha256|taken)": "[^"]+"`).ReplaceAllString(fileText(t, demoFolder, "kitchen.marks.json"), "")
	require.NoError(t, os.WriteFile(filepath.Join(folder, "kitchen.marks.json"), []byte(marks), 0o600))
}
