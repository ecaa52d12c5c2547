package page_test

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"context"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// patience is how long the page may take for anything on a busy machine.
const patience = 30 * time.Second

// tab is one tab with the page in it.
type tab struct {
	t     *testing.T
	ctx   context.Context
	base  string
	calls *calls
	touch bool
	photo spot // the photo's width and height
}

// screen is what the page is shown on.
type screen struct {
	width, height int64
	ratio         float64 // device pixels to a CSS pixel
	touch, dark   bool
}

var (
	laptop = screen{width: 1440, height: 900, ratio: 1}
	phone  = screen{width: 390, height: 844, ratio: 3, touch: true}
)

// watch notes, before the page's own scripts run, each canvas that is made, each
// task that keeps the page from answering, and the JSON that goes with files,
// which the browser does not tell of a call of several parts. It counts the calls
// and the short delays under way, so that a test knows when the page rests.
const watch = `(() => {
  const due = new Set();
  window.watched = {canvas: 0, longest: 0, works: [], asked: 0, rests: () => due.size === 0 && watched.asked === 0};
  const [start, stop, ask] = [window.setTimeout, window.clearTimeout, window.fetch];
  window.setTimeout = (f, ms = 0, ...more) => {
    const id = start(() => { due.delete(id); f(...more); }, ms);
    if (ms < 1000) due.add(id);
    return id;
  };
  window.clearTimeout = (id) => { due.delete(id); stop(id); };
  const during = (work) => {
    const end = () => start(() => { watched.asked--; }, 0); // after what waits for it
    watched.asked++;
    work.then(end, end);
    return work;
  };
  const answered = (r) => {
    for (const n of ['json', 'text']) { const read = r[n]; r[n] = () => during(read.call(r)); }
    return r;
  };
  window.fetch = function (to, o, ...more) {
    if (o && o.body instanceof FormData) watched.works.push(o.body.get('work'));
    return during(ask.call(this, to, o, ...more).then(answered));
  };
  const make = Document.prototype.createElement;
  Document.prototype.createElement = function (n, ...more) {
    if (String(n).toLowerCase() === 'canvas') watched.canvas++;
    return make.call(this, n, ...more);
  };
  const Off = window.OffscreenCanvas;
  if (Off) window.OffscreenCanvas = class extends Off { constructor(...a) { super(...a); watched.canvas++; } };
  const longTasks = (l) => { for (const e of l.getEntries()) watched.longest = Math.max(watched.longest, e.duration); };
  new PerformanceObserver(longTasks).observe({type: 'longtask', buffered: true});
})()`

// open opens an address in a tab of its own. When the test ends, nothing must
// have gone wrong or elsewhere in it.
func (b *browser) open(t *testing.T, address string, s screen) *tab {
	t.Helper()
	p := b.tab(t, address, s)
	p.ready()
	return p
}

// tab opens an address in a tab of its own, and does not wait for what it shows.
func (b *browser) tab(t *testing.T, address string, s screen) *tab {
	t.Helper()
	c := &calls{byID: map[network.RequestID]*call{}}
	ctx, end := chromedp.NewContext(b.ctx, chromedp.WithNewBrowserContext(), chromedp.WithListener(c.take))
	t.Cleanup(end)
	require.NoError(t, chromedp.Do(ctx))
	p := &tab{t: t, ctx: ctx, base: address, calls: c, touch: s.touch}
	most := int64(64 << 20)
	send(p, network.Enable, network.EnableParams{MaxPostDataSize: &most})
	send(p, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: watch})
	p.show(s)
	p.do(chromedp.Navigate(address))
	t.Cleanup(p.check)
	return p
}

// show sets the screen.
func (p *tab) show(s screen) {
	p.t.Helper()
	send(p, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: s.width, Height: s.height, DeviceScaleFactor: s.ratio, Mobile: s.touch})
	send(p, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: s.touch, MaxTouchPoints: 5})
	scheme := "light"
	if s.dark {
		scheme = "dark"
	}
	send(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
}

// ready waits until the page has started and, with a photo, shows it.
func (p *tab) ready() {
	p.t.Helper()
	p.until(`document.readyState === 'complete' && (() => { const i = document.getElementById('preview'); return document.getElementById('work-part').hidden || (i.complete && i.naturalWidth > 0); })()`)
	p.quiet()
	size := eval[[]float64](p, `fetch('api/start').then((r) => r.json()).then((s) => s.photo ? [s.photo.width, s.photo.height] : [0, 0])`)
	p.photo = spot{size[0], size[1]}
}

func (p *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, end := context.WithTimeout(p.ctx, patience)
	defer end()
	require.NoError(p.t, chromedp.Do(ctx, steps...))
}

// eval gives the value of an expression in the page, through JSON.
func eval[T any](p *tab, expression string, values ...any) (out T) {
	p.t.Helper()
	for i, v := range values {
		data, err := json.Marshal(v)
		require.NoError(p.t, err)
		values[i] = string(data)
	}
	ctx, end := context.WithTimeout(p.ctx, patience)
	defer end()
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](fmt.Sprintf("(async () => JSON.stringify(await (%s)))()", fmt.Sprintf(expression, values...)), chromedp.EvalAwaitPromise))
	require.NoError(p.t, err)
	require.NoError(p.t, json.Unmarshal([]byte(text), &out), text)
	return out
}

// until waits for an expression to be true.
func (p *tab) until(expression string, values ...any) {
	p.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(40 * time.Millisecond) {
		if eval[bool](p, "Boolean("+expression+")", append([]any{}, values...)...) {
			return
		}
		if time.Now().After(end) {
			p.shot("gave-up")
			require.FailNow(p.t, "the page never came to it", "%s %v\nnext: %s\nproblem: %s", expression, values, p.text("#next"), p.text("#problem"))
		}
	}
}

func (p *tab) text(selector string) string {
	p.t.Helper()
	return eval[string](p, `(document.querySelector(%s) || {textContent: ''}).textContent.trim()`, selector)
}

// next waits until the line that says what is next holds some words.
func (p *tab) next(words string) {
	p.t.Helper()
	p.until(`document.getElementById('next').textContent.includes(%s)`, words)
}
