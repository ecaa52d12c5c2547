package page_test

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// work is what the page sends to be read or saved.
type work struct {
	Marks struct {
		Regions []mark       `json:"regions"`
		Corners [][2]float64 `json:"corners"`
	} `json:"marks"`
}

func (w work) find(t *testing.T, role, analyte string, value float64) mark {
	t.Helper()
	for _, m := range w.Marks.Regions {
		if m.Role == role && m.Analyte == analyte && m.Value == value {
			return m
		}
	}
	require.Fail(t, "no such mark", "%s %s %g", role, analyte, value)
	return mark{}
}

// pad is where a pad is marked, as last sent.
func (p *tab) pad(analyte string) [][2]float64 {
	p.t.Helper()
	return sent[work](p, "/reading").find(p.t, "pad", analyte, 0).Polygon
}

// shifted checks that a mark was moved, all of it alike.
func (p *tab) shifted(was, is [][2]float64, dx, dy, tolerance float64) {
	p.t.Helper()
	require.Len(p.t, is, len(was))
	for i := range was {
		assert.InDelta(p.t, was[i][0]+dx, is[i][0], tolerance)
		assert.InDelta(p.t, was[i][1]+dy, is[i][1], tolerance)
	}
}

// adjusting moves, sizes and deletes a mark and takes it all back.
func adjusting(t *testing.T, b *browser) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg"), laptop)
	p.next("All is marked")
	first := p.reading().JSON
	was := p.pad("nitrate")
	at := demo(t, "kitchen").pads["nitrate"]
	p.click(p.on(at))
	p.until(`!document.getElementById('delete').disabled`)

	p.do(chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowDown, chromedp.KeyModifiers(chromedp.ModifierShift)))
	nudged := p.pad("nitrate")
	p.shifted(was, nudged, 1, 10, 0.05)
	p.do(chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	assert.Equal(t, first, p.reading().JSON, "undone")
	p.do(chromedp.KeyEvent("Z", chromedp.KeyModifiers(chromedp.ModifierCtrl, chromedp.ModifierShift)))
	assert.Equal(t, nudged, p.pad("nitrate"), "done again")
	p.push("#undo")
	assert.Equal(t, first, p.reading().JSON, "undone by the button")

	p.click(p.on(at))
	p.drag(p.on(at), p.on(spot{at.x + 30, at.y - 12}))
	p.shifted(was, p.pad("nitrate"), 30, -12, 1)
	p.push("#undo")
	p.quiet()

	p.sizedByItsCorner(at, was)
	p.deleted(at, first)
}

// sizedByItsCorner drags one corner of a mark.
func (p *tab) sizedByItsCorner(at spot, was [][2]float64) {
	p.t.Helper()
	p.click(p.on(at))
	p.until(`document.querySelectorAll('#overlay .grip').length === 4`)
	from := spot{was[2][0], was[2][1]}
	p.drag(p.on(from), p.on(spot{from.x - 14, from.y - 9}))
	is := p.pad("nitrate")
	assert.InDelta(p.t, from.x-14, is[2][0], 1)
	assert.InDelta(p.t, from.y-9, is[2][1], 1)
	assert.Equal(p.t, was[0], is[0], "the corner across stays")
	p.push("#undo")
	p.quiet()
}

// deleted removes a mark by key and by button; the page asks for it again.
func (p *tab) deleted(at spot, first string) {
	p.t.Helper()
	p.click(p.on(at))
	p.do(chromedp.KeyEvent(kb.Delete))
	p.next("nitrate: mark the wet pad")
	p.quiet()
	assert.Contains(p.t, p.text("#pending"), "nitrate")
	assert.Equal(p.t, []string{"total hardness", "pH"}, p.analytesShown())
	assert.NotContains(p.t, strings.ToLower(p.text("#say")), "nitrate", "what is heard is of the reading before")
	p.push("#undo")
	p.next("All is marked")
	assert.Equal(p.t, first, p.reading().JSON)
	p.click(p.on(at))
	p.push("#delete")
	p.next("nitrate: mark the wet pad")
	p.push("#undo")
	p.next("All is marked")
	assert.Equal(p.t, first, p.reading().JSON)
}
