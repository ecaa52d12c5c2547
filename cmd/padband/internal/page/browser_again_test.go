package page_test

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/stretchr/testify/assert"
)

// again loads the page anew in the middle of a row, goes away and comes back, and turns
// the phone: each time every mark is there, and the same is asked for next.
func again(t *testing.T, b *browser) {
	for _, s := range []screen{phone, wide} {
		n := newBench(t)
		p := n.start(t, b, s)
		n.until(p, `nitrate: .*swatch for 8$`)
		had, said := p.regions(), p.text("#next")
		same := func(when string) {
			t.Helper()
			p.ready()
			p.next(said[len("Next: "):])
			p.quiet()
			assert.Equal(t, had, p.regions(), when)
			p.shot("again")
		}
		p.leave("/")
		same("after a reload")
		p.push("#zoom-fit")
		p.leave("icon.svg")
		eval[int](p, `(setTimeout(() => history.back()), 0)`)
		p.until(`location.href.endsWith('/') && document.getElementById('stage')`)
		same("back from elsewhere")
		p.show(screen{width: s.height, height: s.width, ratio: s.ratio, touch: s.touch})
		same("turned")
		at, _ := n.place(p)
		p.reach(at)
		p.poke(p.on(at))
		p.next("iron: mark the wet pad")
		p.show(s)
		p.quiet()
		p.ordered()
		atSpot(t, p.regions(), "swatch nitrate 8 1", at)
	}
}

// againUploaded loads the page anew with a photo that came through it.
func againUploaded(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t), ""), phone)
	p.upload("#photo-camera", filepath.Join(demoFolder, "cellar.jpg"))
	p.upload("#photo-camera", filepath.Join(demoFolder, "kitchen.jpg"))
	p.choose("orchard-well")
	at := demo(t, "kitchen").whites[0]
	p.reach(at)
	p.poke(p.on(at))
	p.next("another piece of white")
	was := sent[work](p, "/reading").Marks.Regions
	p.leave("/")
	p.ready()
	p.next("another piece of white")
	assert.Equal(t, "kitchen.jpg", p.text("#photo-name"))
	assert.Equal(t, was, sent[work](p, "/reading").Marks.Regions)
}

// leave goes elsewhere, or with "/" loads the page anew, and says yes where the browser
// asks first.
func (p *tab) leave(to string) {
	p.t.Helper()
	p.quiet()
	asked := p.calls.asked()
	eval[int](p, `(window.here = true, setTimeout(() => { if (%s === '/') location.reload(); else location.assign(%s); }), 0)`, to, to)
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if p.calls.asked() > asked {
			send(p, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true})
			break
		}
	}
	p.until(`!window.here && location.href.endsWith(%s)`, to)
}
