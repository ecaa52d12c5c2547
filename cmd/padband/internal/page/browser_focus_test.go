package page_test

import (
	"image/color"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// focusIsSeen goes through all controls with the Tab key: each must come into
// the window, and show that it has the focus.
func focusIsSeen(t *testing.T, b *browser) {
	start := b.open(t, b.serve(t, t.TempDir(), ""), laptop)
	assert.ElementsMatch(t, []string{"help-open", "next-water-unsaid", "dip-now", "photo-file"}, start.tour())
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg"), laptop)
	p.next("All is marked")
	p.quiet()
	eval[int](p, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), 0)`)
	assert.Subset(t, p.tour(), []string{"stage", "zoom-in", "zoom-out", "zoom-fit", "pan", "save", "download", "back", "help-open", "other-photo"})
	p.push("#help-open")
	assert.Contains(t, p.tour(), "help-close")
	p.key(kb.Escape)
	p.until(`!document.getElementById('help').open`)
	p.focusOfThePhoto()
}

// focusOfThePhoto checks in pictures that the drawing surface shows its focus
// also where the photo fills it: along its edge, most pixels must change.
func (p *tab) focusOfThePhoto() {
	p.t.Helper()
	for range 3 {
		p.push("#zoom-in")
	}
	without := p.edge()
	p.tabTo("#stage")
	with := p.edge()
	require.Equal(p.t, len(without), len(with))
	changed := 0
	for i := range with {
		if with[i] != without[i] {
			changed++
		}
	}
	assert.Greater(p.t, float64(changed)/float64(len(with)), 0.9, "share of the edge that shows the focus")
}

// edge are the pixels just inside the left edge of the drawing surface.
func (p *tab) edge() (out []color.Color) {
	p.t.Helper()
	m := p.picture(nil)
	s := p.stage()
	for y := int(s.top) + 8; y < int(s.bottom)-8; y++ {
		out = append(out, m.At(int(s.left)+1, y))
	}
	return out
}

// tour presses Tab until the focus is where it began, and gives the ids on the way.
func (p *tab) tour() (ids []string) {
	p.t.Helper()
	seen, last, stayed := map[string]bool{}, "", 0
	for range 150 {
		p.key(kb.Tab)
		f := eval[struct {
			ID, Name, Path string
			Width          float64
			Inside         bool
		}](p, `(() => {
		  const e = document.activeElement, of = e.type === 'file' ? e.closest('label') : e, s = getComputedStyle(of), r = of.getBoundingClientRect();
		  const path = []; for (let x = e; x; x = x.parentElement) path.push([...(x.parentElement || x).children].indexOf(x));
		  return {ID: e.id, Name: e.tagName + ' ' + (e.id || e.textContent.trim().slice(0, 30)), Path: path.join('.'), Width: s.outlineStyle === 'none' ? 0 : parseFloat(s.outlineWidth), Inside: r.bottom > 0 && r.right > 0 && r.top < innerHeight && r.left < innerWidth};
		})()`)
		if f.Name == "BODY" || strings.HasPrefix(f.Name, "BODY ") || strings.HasPrefix(f.Name, "DIALOG") {
			continue // the browser's own bar
		}
		if stayed++; f.Path == last && stayed < 10 {
			continue // a date has several places inside
		}
		last, stayed = f.Path, 0
		if seen[f.Path] {
			return ids
		}
		seen[f.Path], ids = true, append(ids, f.ID)
		assert.GreaterOrEqual(p.t, f.Width, 2.0, "%s shows no focus", f.Name)
		assert.True(p.t, f.Inside, "%s has the focus out of sight", f.Name)
	}
	require.Fail(p.t, "Tab never comes round")
	return nil
}
