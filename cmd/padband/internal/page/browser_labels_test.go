package page_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// labelled is one label over the photo.
type labelled struct {
	Text                     string
	Left, Top, Right, Bottom float64
}

// labels: every mark in sight carries its value or its name, at every size of screen
// and at every zoom, and no label lies on another.
func labels(t *testing.T, b *browser) {
	address := b.serve(t, newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg")
	for _, s := range []screen{phone, {width: 844, height: 390, ratio: 3, touch: true}, wide} {
		p := b.open(t, address, s)
		p.next("All is marked")
		p.quiet()
		for zoom := range 3 {
			if zoom > 0 {
				p.push("#zoom-in")
			}
			p.shot(fmt.Sprintf("labels %d %d", s.width, zoom))
			p.labelsOf(zoom == 0)
		}
	}
}

// labelsOf checks the labels of the demonstration photo.
func (p *tab) labelsOf(whole bool) {
	p.t.Helper()
	all := eval[[]labelled](p, `[...document.querySelectorAll('#overlay .mark-label')].map((e) => {
	  const r = e.getBBox();
	  return {Text: e.textContent, Left: r.x, Top: r.y, Right: r.x + r.width, Bottom: r.y + r.height};
	})`)
	inSight := eval[int](p, `(() => {
	  const s = document.getElementById('overlay').getBoundingClientRect();
	  return [...document.querySelectorAll('#overlay path.mark.line:not(.chart)')].filter((e) => {
	    const r = e.getBoundingClientRect();
	    return r.right > s.left + 4 && r.left < s.right - 4 && r.bottom > s.top + 4 && r.top < s.bottom - 4;
	  }).length;
	})()`)
	var said []string
	for i, a := range all {
		said = append(said, a.Text)
		for _, o := range all[i+1:] {
			w, h := min(a.Right, o.Right)-max(a.Left, o.Left), min(a.Bottom, o.Bottom)-max(a.Top, o.Top)
			assert.False(p.t, w > 3 && h > 5, "%q lies on %q", a.Text, o.Text)
		}
	}
	corners := eval[int](p, `(() => {
	  const s = document.getElementById('overlay').getBoundingClientRect();
	  return [...document.querySelectorAll('#overlay circle.corner')].filter((e) => {
	    const r = e.getBoundingClientRect(), x = (r.left + r.right) / 2, y = (r.top + r.bottom) / 2;
	    return x > s.left && x < s.right && y > s.top && y < s.bottom;
	  }).length;
	})()`)
	assert.GreaterOrEqual(p.t, len(all)-corners, inSight, "%v", said)
	if whole {
		for _, want := range []string{"nitrate", "pH", "25", "420", "8.8", "white"} {
			assert.Contains(p.t, said, want)
		}
		assert.True(p.t, slices.Contains(said, "total hardness") || slices.Contains(said, "total hard."), "%v", said)
	}
}
