package page_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// byKeyboard does the whole job without a mouse: the chart, the marks, saving.
func byKeyboard(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg")
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.next("choose the chart")
	p.tabTo(`[data-chart="orchard-well"]`)
	p.key(kb.Enter)
	p.next("mark")
	kitchen := demo(t, "kitchen")
	p.tabTo("#stage")
	p.follow(kitchen, true, p.withKeys)
	r := p.reading()
	p.shows(r, "nitrate", "total hardness", "pH")
	p.holdsTruth(r, "kitchen")

	p.movedByList(r)
	p.tabTo("#save")
	p.key(kb.Enter)
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	p.savedAs(b, folder, "kitchen", p.reading())
}

func (p *tab) key(k string, with ...chromedp.Modifier) {
	p.t.Helper()
	p.do(chromedp.KeyEvent(k, chromedp.KeyModifiers(with...)))
}

// tabTo presses Tab until a control has the focus.
func (p *tab) tabTo(selector string) {
	p.t.Helper()
	for range 160 {
		if eval[bool](p, `document.activeElement.matches(%s)`, selector) {
			return
		}
		p.key(kb.Tab)
	}
	require.Fail(p.t, "Tab does not come to it", selector)
}

// withKeys moves the cross and marks: a box for white, the edge for all else.
func (p *tab) withKeys(kind string, at spot) {
	p.tabTo("#stage")
	if !eval[bool](p, `document.getElementById('delete').disabled`) {
		p.key(kb.Enter) // lets go of the last mark
	}
	switch kind {
	case "white":
		p.boxByKeys(at)
	case "corner":
		p.crossTo(at)
		p.key(kb.Enter)
	default:
		p.crossTo(at)
		p.key("e")
		p.edgeAsked(kind)
	}
}

func (p *tab) boxByKeys(at spot) {
	p.t.Helper()
	p.crossTo(spot{at.x - 22, at.y - 26})
	p.key(kb.Enter)
	assert.Contains(p.t, p.text("#hint"), "First corner taken")
	p.crossTo(spot{at.x + 22, at.y + 26})
	p.key(kb.Enter)
}

// cross is where the page draws its cross, in the window.
func (p *tab) cross() point {
	p.t.Helper()
	d := eval[[]string](p, `[(document.querySelector('#overlay path.cross.line') || {getAttribute: () => ''}).getAttribute('d')]`)[0]
	var x0, y, x1 float64
	_, err := fmt.Sscanf(d, "M%f %fH%f", &x0, &y, &x1)
	require.NoError(p.t, err, "no cross: %q", d)
	s := eval[[]float64](p, `(() => { const r = document.getElementById('overlay').getBoundingClientRect(); return [r.left, r.top]; })()`)
	return point{s[0] + (x0+x1)/2, s[1] + y}
}

// crossTo moves the cross to a place of the photo, as near as its steps allow.
func (p *tab) crossTo(at spot) {
	p.t.Helper()
	p.key(kb.ArrowLeft) // brings the cross into being
	for range 60 {
		want, is := p.on(at), p.cross()
		dx, dy := want.X-is.X, want.Y-is.Y
		if math.Abs(dx) <= 4.5 && math.Abs(dy) <= 4.5 {
			return
		}
		p.step(dx, kb.ArrowLeft, kb.ArrowRight)
		p.step(dy, kb.ArrowUp, kb.ArrowDown)
	}
	require.Fail(p.t, "the cross does not come to it", "%v", at)
}

// step goes towards a place by one key: long steps of 40 pixels, short ones of 8.
func (p *tab) step(d float64, less, more string) {
	p.t.Helper()
	key := more
	if d < 0 {
		key = less
	}
	switch d = math.Abs(d); {
	case d > 30:
		p.key(key, chromedp.ModifierShift)
	case d > 4.5:
		p.key(key)
	}
}

// movedByList finds a mark in the list of marks, and moves it by keys.
func (p *tab) movedByList(r reading) {
	p.t.Helper()
	was := p.pad("pH")
	p.tabTo("#marks-part > summary")
	p.key(kb.Enter)
	p.tabTo(`[data-step="pad|pH||1|"]`)
	p.key(kb.Enter)
	p.tabTo("#stage")
	p.key(kb.ArrowLeft)
	p.key(kb.ArrowLeft)
	p.shifted(was, p.pad("pH"), -2, 0, 0.05)
	p.key("z", chromedp.ModifierCtrl)
	p.quiet()
	assert.Equal(p.t, r.JSON, p.reading().JSON)
}
