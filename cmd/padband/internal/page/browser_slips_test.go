package page_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var wide = screen{width: 1280, height: 800, ratio: 1}

// besideMarked taps the pads of a strip one after the other, each right beside the one
// that was marked last, at several zooms.
func besideMarked(t *testing.T, b *browser) {
	for _, s := range []screen{phone, wide} {
		for _, zooms := range []int{0, 2, 4} {
			t.Run(fmt.Sprintf("%d wide, zoomed %d times", s.width, zooms), func(t *testing.T) {
				n := newBench(t)
				p := n.start(t, b, s)
				for range zooms {
					p.push("#zoom-in")
				}
				for part := 1; part <= 3; part++ {
					p.next(fmt.Sprintf("part %d", part))
					at, _ := n.place(p)
					if zooms > 0 {
						p.see(at)
					}
					p.poke(p.on(at))
					p.quiet()
				}
				p.next("swatch for 5, part 1")
				p.shot("beside")
				got := p.regions()
				for part := 1; part <= 3; part++ {
					atSpot(t, got, fmt.Sprintf("pad pH 0 %d", part), n.pads[fmt.Sprintf("pH%d", part)])
				}
			})
		}
	}
}

// see brings a place into sight: with two fingers, or with the wheel's way of moving.
func (p *tab) see(at spot) {
	p.t.Helper()
	if p.touch {
		p.bring(at)
		return
	}
	for range 12 {
		s, q := p.stage(), p.on(at)
		if q.X > s.left+40 && q.X < s.right-40 && q.Y > s.top+40 && q.Y < s.bottom-40 {
			return
		}
		mid := point{(s.left + s.right) / 2, (s.top + s.bottom) / 2}
		p.push("#pan")
		p.drag(mid, point{mid.X + limited(mid.X-q.X), mid.Y + limited(mid.Y-q.Y)})
		p.push("#pan")
	}
}

// whiteSwatch taps a swatch that is as white as the paper about it: a box of the size
// of its likes is placed there, and the page says so beside it.
func whiteSwatch(t *testing.T, b *browser) {
	for _, s := range []screen{phone, wide} {
		n := newBench(t)
		p := n.start(t, b, s)
		n.until(p, `nitrate: .*swatch for 0$`)
		at, _ := n.place(p)
		p.reach(at)
		p.poke(p.on(at))
		p.next("swatch for 8")
		assert.Contains(t, p.text("#note"), "No edge stands out there, so a box as large as")
		assert.Contains(t, p.text("#note"), "was placed for nitrate swatch 0")
		p.noteInSight()
		p.shot("placed")
		got := p.regions()
		atSpot(t, got, "swatch nitrate 0 1", at)
		q := got["swatch nitrate 0 1"]
		assert.InDelta(t, 49, q[1][0]-q[0][0], 12, "as large as the marks of other swatches")
		n.until(p, `iron: mark the wet pad`)
		for i, v := range []int{0, 1, 2, 4, 8} {
			atSpot(t, p.regions(), fmt.Sprintf("swatch nitrate %d 1", v), n.rows["nitrate1"][i])
		}
	}
}

// noteInSight checks that what the page says beside a place is seen, read aloud and
// large enough to press.
func (p *tab) noteInSight() {
	p.t.Helper()
	assert.Equal(p.t, "alert", eval[string](p, `document.getElementById('note').getAttribute('role')`))
	assert.True(p.t, eval[bool](p, `(() => {
	  const n = document.getElementById('note').getBoundingClientRect(), s = document.getElementById('stage').getBoundingClientRect();
	  return n.width > 100 && n.left >= s.left && n.right <= s.right && n.top >= s.top - 1 && n.bottom <= s.bottom + 1;
	})()`), "the note is not whole in sight")
	p.fingersOnly()
}

// farOffItsRow deletes a swatch between the ends and taps one of another row for it.
func (p *tab) farOffItsRow(n bench) {
	p.t.Helper()
	at := n.rows["nitrate1"][2]
	p.reach(at)
	p.poke(p.on(at))
	p.push("#delete")
	p.next("nitrate: mark the printed swatch for 2")
	wrong := n.rows["iron1"][2]
	p.reach(wrong)
	p.poke(p.on(wrong))
	p.until(`document.getElementById('note').textContent.includes('far from the row of nitrate, from 0 to 8')`)
	p.pushNamed("Understood")
	p.reach(at)
	p.poke(p.on(at))
	p.next("iron: mark the wet pad")
}

func (p *tab) fingersOnly() {
	if p.touch {
		p.fingerSized("note")
	}
}

// otherRow taps, for the end of a row, the end of the row below. It is refused with a
// sentence, and the tap after it is not taken for anything else.
func otherRow(t *testing.T, b *browser) {
	for _, s := range []screen{phone, wide} {
		n := newBench(t)
		p := n.start(t, b, s)
		n.until(p, `nitrate: .*swatch for 8$`)
		wrong := n.rows["iron1"][4]
		p.reach(wrong)
		p.poke(p.on(wrong))
		p.until(`document.getElementById('note').textContent.includes('another row')`)
		assert.Contains(t, p.text("#note"), "Not marked.")
		assert.Contains(t, p.text("#note"), "Still to mark: nitrate swatch 8.")
		p.noteInSight()
		p.shot("refused")
		assert.Contains(t, p.text("#next"), "nitrate: mark the printed swatch for 8")

		next := spot{110, 1120} // as a person does who did not see the refusal; the note does not cover it
		p.reach(next)
		p.poke(p.on(next))
		p.until(`document.getElementById('note').textContent.includes('Is this nitrate swatch 8?')`)
		p.noteInSight()
		p.shot("asked")
		p.pushNamed("No")
		assert.Contains(t, p.text("#next"), "nitrate: mark the printed swatch for 8", "the next place was not taken for the swatch")
		assert.NotContains(t, p.regions(), "swatch nitrate 8 1")

		right := n.rows["nitrate1"][4]
		p.reach(right)
		p.poke(p.on(right))
		n.until(p, `iron: mark the wet pad`)
		atSpot(t, p.regions(), "swatch nitrate 8 1", right)
	}
}

// sureAfterRefusal answers yes to what is asked after a refusal, and marks on a mark.
func sureAfterRefusal(t *testing.T, b *browser) {
	n := newBench(t)
	p := n.start(t, b, laptop) // where the note leaves the right place free
	n.until(p, `nitrate: .*swatch for 8$`)
	for _, at := range []spot{n.rows["nitrate1"][1], n.rows["iron1"][4]} {
		p.reach(at)
		p.poke(p.on(at))
		p.until(`document.getElementById('note').textContent.includes('Not marked.')`)
		p.pushNamed("Understood")
		p.until(`!document.getElementById('note').checkVisibility()`)
	}
	p.reach(n.rows["iron1"][4])
	p.poke(p.on(n.rows["iron1"][4]))
	p.until(`document.getElementById('note').textContent.includes('another row')`)
	right := n.rows["nitrate1"][4]
	p.reach(right)
	p.poke(p.on(right))
	p.pushNamed("Yes, mark it")
	p.next("iron: mark the wet pad")
	p.quiet()
	p.ordered()
	atSpot(t, p.regions(), "swatch nitrate 8 1", right)

	p.farOffItsRow(n)
	on := n.pads["nitrate1"]
	p.reach(on)
	p.poke(p.on(on))
	p.until(`document.getElementById('note').textContent.includes('This is marked already: the nitrate pad.')`)
	assert.Contains(t, p.text("#note"), "Still to mark: the iron pad.")
	require.Contains(t, p.text("#next"), "iron: mark the wet pad")
}
