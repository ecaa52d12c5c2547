package page_test

import (
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
		p.leave("about:blank")
		eval[int](p, `(setTimeout(() => history.back()), 0)`)
		p.arrives(`location.href.endsWith('/') && document.getElementById('stage')`)
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
	p.arrives(`!window.here && location.href.endsWith(` + strconv.Quote(to) + `)`)
}

// arrives waits for an expression to be true of the page that is on its way. The page
// that is left may go in the midst of being asked.
func (p *tab) arrives(expression string) {
	p.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		there, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool]("document.readyState === 'complete' && Boolean("+expression+")"))
		if err == nil && there && p.calls.rest() { // or it could be left with a call that never ends
			return
		}
	}
	require.FailNow(p.t, "the page does not arrive", expression)
}
