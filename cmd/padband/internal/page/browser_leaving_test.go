package page_test

import (
	"path/filepath"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// warns loads the page anew as a person does, and tells whether the browser then
// asks first. If so the answer is no, and all stays as it was.
func (p *tab) warns() bool {
	p.t.Helper()
	p.quiet()
	p.push("#zoom-fit") // a browser asks only on a page that was used
	loads, asked := p.loads(), p.calls.asked()
	eval[int](p, `(setTimeout(() => location.reload()), 0)`)
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if p.calls.asked() > asked {
			send(p, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: false})
			return true
		}
		if p.loads() > loads {
			p.ready()
			return false
		}
	}
	require.FailNow(p.t, "the page is neither loaded anew nor asks")
	return false
}

// anew loads the page anew, and says yes where the browser asks first.
func (p *tab) anew() {
	p.t.Helper()
	p.quiet()
	loads, asked := p.loads(), p.calls.asked()
	eval[int](p, `(setTimeout(() => location.reload()), 0)`)
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if now := p.calls.asked(); now > asked {
			asked = now
			send(p, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true})
		}
		if p.loads() > loads {
			p.ready()
			return
		}
	}
	require.FailNow(p.t, "the page is not loaded anew")
}

// loads is how often the page was loaded.
func (p *tab) loads() (n int) {
	for _, c := range p.calls.list(p.base) {
		if c.url == p.base {
			n++
		}
	}
	return n
}

// nudge moves the pad of nitrate to the right by a pixel of the photo.
func (p *tab) nudge() {
	p.t.Helper()
	p.push("#zoom-fit")
	was := p.firstPad()
	if eval[bool](p, `document.getElementById('delete').disabled`) {
		p.click(p.on(demo(p.t, "kitchen").pads["nitrate"]))
		p.until(`!document.getElementById('delete').disabled`)
	}
	p.do(chromedp.Focus(chromedp.CSS("#stage")))
	p.key(kb.ArrowRight)
	p.until(`document.querySelector('#overlay path.mark.pad.line').getAttribute('d') !== %s`, was)
}

// firstPad is how the first pad is drawn.
func (p *tab) firstPad() string {
	p.t.Helper()
	return eval[string](p, `document.querySelector('#overlay path.mark.pad.line').getAttribute('d')`)
}

// hold lets the page wait for the answers to some calls, by their addresses
// and what they send, until they are let go.
func (p *tab) hold(path, body string) {
	p.t.Helper()
	eval[int](p, `(() => {
	  const ask = window.ownFetch || window.fetch, gate = new Promise((open) => { window.letGo = open; });
	  [window.ownFetch, window.held] = [ask, false];
	  window.fetch = async (to, o) => {
	    const a = await ask(to, o);
	    if (!to.includes(%s) || (typeof o.body === 'string' && !o.body.includes(%s))) return a;
	    const text = await a.text(); // all of it came: only the page waits
	    window.held = true;
	    await gate;
	    return new Response(text, {status: a.status});
	  };
	  return 0;
	})()`, path, body)
}

// otherPhoto chooses another photo while something would be lost.
func (p *tab) otherPhoto(answer string) {
	p.t.Helper()
	full, err := filepath.Abs(filepath.Join(demoFolder, "cellar.jpg"))
	require.NoError(p.t, err)
	p.do(chromedp.SetUploadFiles(chromedp.CSS("#photo-file"), []string{full}))
	p.until(`document.getElementById('ask').open && document.getElementById('ask-title').textContent === 'Leave this photo?'`)
	p.push(answer)
	p.quiet()
}
