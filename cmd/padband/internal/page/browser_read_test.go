package page_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// desk is an ordinary screen.
var desk = screen{width: 1280, height: 800, ratio: 1}

// readFirst opens a photo that is marked: the value is in sight, and what it can be set
// against stands after it.
func readFirst(t *testing.T, b *browser) {
	for name, on := range map[string]screen{"desk": desk, "phone": phone} {
		t.Run(name, func(t *testing.T) {
			p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg"), on)
			p.next("All is marked")
			p.quiet()
			p.valueInSight()
			p.shot("read")
			assert.True(t, eval[bool](p, `Boolean(document.getElementById('reading').compareDocumentPosition(document.getElementById('against-form')) & Node.DOCUMENT_POSITION_FOLLOWING)`))
			p.showsAPage(t)
			p.shot("kept")
		})
	}
}

// valueInSight checks that the words of the first reading are in the window.
func (p *tab) valueInSight() {
	p.t.Helper()
	p.until(`(() => { const r = document.querySelector('#reading .reading-says')?.getBoundingClientRect(); return r && r.top >= 0 && r.bottom <= innerHeight; })()`)
}

// showsAPage takes the reading as a page, where this browser cannot share.
func (p *tab) showsAPage(t *testing.T) {
	t.Helper()
	into := t.TempDir()
	p.downloadInto(into)
	assert.Equal(t, "Download a page", p.text("#show"))
	p.push("#show")
	p.until(`document.getElementById('shown').textContent.startsWith('Handed to the browser: kitchen.reading.html')`)
	data, err := os.ReadFile(whenThere(t, filepath.Join(into, "kitchen.reading.html")))
	assert.NoError(t, err)
	assert.Contains(t, string(data), "nitrate")
}

// helpFits reads the help on a phone and at a desk: it tells of fingers or of mouse and
// keys, its button to close is in sight wherever it is scrolled to, and Escape closes it.
func helpFits(t *testing.T, b *browser) {
	for name, on := range map[string]screen{"desk": {width: 1280, height: 500, ratio: 1}, "phone": {width: 390, height: 420, ratio: 3, touch: true}} {
		t.Run(name, func(t *testing.T) {
			p := b.open(t, b.serve(t, t.TempDir(), ""), on)
			p.push("#help-open")
			said := eval[string](p, `document.getElementById('help').innerText`)
			if on.touch {
				assert.Contains(t, said, "Tap in a patch")
				assert.NotContains(t, said, "Click")
				assert.NotContains(t, said, "Ctrl")
			} else {
				assert.Contains(t, said, "Click in a patch")
				assert.NotContains(t, said, "Tap")
				assert.NotContains(t, said, "Pinch")
			}
			for _, to := range []string{"0", "100", "5000"} {
				assert.True(t, eval[bool](p, `(async () => {
				  const d = document.getElementById('help');
				  d.scrollTop = %s;
				  await new Promise(requestAnimationFrame);
				  const r = document.getElementById('help-close').getBoundingClientRect(), on = document.elementFromPoint(r.left + r.width / 2, r.top + r.height / 2);
				  return r.top >= 0 && r.bottom <= innerHeight && on?.id === 'help-close';
				})()`, to), "scrolled to %s", to)
			}
			p.shot("help")
			p.key(kb.Escape)
			p.until(`!document.getElementById('help').open`)
			p.push("#help-open")
			p.push("#help-close")
			p.until(`!document.getElementById('help').open`)
		})
	}
}
