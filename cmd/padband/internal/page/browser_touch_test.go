package page_test

import (
	"math"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// byTouch does the whole job on a phone, with fingers alone.
func byTouch(t *testing.T, b *browser) {
	folder := newFolder(t)
	p := b.open(t, b.serve(t, folder, ""), phone)
	p.fingerSized("start")
	p.upload("#photo-camera", filepath.Join(demoFolder, "kitchen.jpg"))
	p.fingerSized("charts")
	p.choose("orchard-well")
	p.fingerSized("marking")
	kitchen := demo(t, "kitchen")

	p.bring(kitchen.whites[0])
	before := p.marks()
	p.pinch(p.on(kitchen.whites[0]), 30, 90)
	assert.Equal(t, before, p.marks(), "a pinch marks nothing")
	assert.True(t, eval[bool](p, `document.getElementById('undo').disabled`), "a pinch changes nothing")

	p.follow(kitchen, false, p.withFinger)
	p.quiet()
	p.valueInSight()
	p.shows(p.reading(), "nitrate", "total hardness", "pH")
	p.holdsTruth(p.reading(), "kitchen")
	p.fingerSized("read")
	p.push("#save")
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	p.savedAs(b, folder, "kitchen", p.reading())
	assert.Zero(t, eval[int](p, `Math.max(0, document.documentElement.scrollWidth - innerWidth)`), "the page is wider than the phone")
}

// withFinger brings the place into sight, then draws a box for white or taps.
func (p *tab) withFinger(kind string, at spot) {
	p.bring(at)
	if kind == "white" {
		p.swipe(p.on(spot{at.x - 22, at.y - 26}), p.on(spot{at.x + 22, at.y + 26}))
		return
	}
	p.tap(p.on(at))
	p.edgeAsked(kind)
}

func (p *tab) fingers(kind input.DispatchTouchEventType, at ...point) {
	p.t.Helper()
	var all []*input.TouchPoint
	for i, q := range at {
		id := float64(i)
		all = append(all, &input.TouchPoint{X: q.X, Y: q.Y, ID: &id})
	}
	send(p, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: all})
}

// tap touches and lets go.
func (p *tab) tap(at point) {
	p.t.Helper()
	p.fingers(input.DispatchTouchEventTypeTouchStart, at)
	p.fingers(input.DispatchTouchEventTypeTouchEnd)
	time.Sleep(pause)
}

// pause is the time between two things that a person does with a finger: at once
// after another the browser takes two taps for one gesture.
const pause = 300 * time.Millisecond

// swipe draws with one finger. While it draws, the magnifier shows what the
// finger hides, beside the finger.
func (p *tab) swipe(from, to point) {
	p.t.Helper()
	p.fingers(input.DispatchTouchEventTypeTouchStart, from)
	for i := 1; i <= 5; i++ {
		k := float64(i) / 5
		p.fingers(input.DispatchTouchEventTypeTouchMove, point{from.X + (to.X-from.X)*k, from.Y + (to.Y-from.Y)*k})
	}
	lens := eval[struct{ L, T, R, B float64 }](p, `(() => { const r = document.getElementById('lens').getBoundingClientRect(); return {L: r.left, T: r.top, R: r.right, B: r.bottom}; })()`)
	assert.Greater(p.t, lens.R-lens.L, 100.0, "no magnifier")
	hidden := lens.L < to.X && to.X < lens.R && lens.T < to.Y && to.Y < lens.B
	assert.False(p.t, hidden, "the magnifier %v lies under the finger %v", lens, to)
	p.fingers(input.DispatchTouchEventTypeTouchEnd)
	time.Sleep(pause)
}

// pinch spreads two fingers about a place, from so many pixels of gap to so many.
func (p *tab) pinch(at point, from, to float64) {
	p.t.Helper()
	p.twoFingers(point{at.X - from/2, at.Y}, point{at.X + from/2, at.Y}, point{at.X - to/2, at.Y}, point{at.X + to/2, at.Y})
}

// twoFingers moves two fingers from their first to their last places.
func (p *tab) twoFingers(a, b, toA, toB point) {
	p.t.Helper()
	p.fingers(input.DispatchTouchEventTypeTouchStart, a)
	p.fingers(input.DispatchTouchEventTypeTouchStart, a, b)
	for i := 1; i <= 6; i++ {
		k := float64(i) / 6
		way := func(f, t point) point { return point{f.X + (t.X-f.X)*k, f.Y + (t.Y-f.Y)*k} }
		p.fingers(input.DispatchTouchEventTypeTouchMove, way(a, toA), way(b, toB))
	}
	p.fingers(input.DispatchTouchEventTypeTouchEnd)
	time.Sleep(pause)
}

// bring moves the photo with two fingers until a place of it is well in sight.
func (p *tab) bring(at spot) {
	p.t.Helper()
	for range 12 {
		s := p.stage()
		q := p.on(at)
		if q.X > s.left+40 && q.X < s.right-40 && q.Y > s.top+40 && q.Y < s.bottom-40 {
			return
		}
		mid := point{(s.left + s.right) / 2, (s.top + s.bottom) / 2}
		dx, dy := limited(mid.X-q.X), limited(mid.Y-q.Y)
		a, b := point{mid.X - 40 - dx/2, mid.Y - dy/2}, point{mid.X + 40 - dx/2, mid.Y - dy/2}
		p.twoFingers(a, b, point{a.X + dx, a.Y + dy}, point{b.X + dx, b.Y + dy})
		if now := p.on(at); math.Hypot(now.X-q.X, now.Y-q.Y) < 1 {
			require.True(p.t, q.X > s.left && q.X < s.right && q.Y > s.top && q.Y < s.bottom, "%v cannot be brought into sight", at)
			return // at the photo's end
		}
	}
}

func limited(v float64) float64 { return max(-120, min(120, v)) }

type box struct{ left, top, right, bottom float64 }

// stage is the part of the drawing surface that is in the window.
func (p *tab) stage() box {
	p.t.Helper()
	r := eval[[]float64](p, `(() => { const e = document.getElementById('stage'), bar = document.querySelector('.next-bar').getBoundingClientRect(); e.scrollIntoView({block: 'nearest'}); const r = e.getBoundingClientRect(); return [Math.max(0, r.left), Math.max(0, r.top, bar.bottom), Math.min(innerWidth, r.right), Math.min(innerHeight, r.bottom)]; })()`)
	return box{r[0], r[1], r[2], r[3]}
}

// fingerSized checks that every control in sight is at least 44 CSS pixels high
// and wide, as WCAG 2.2, criterion 2.5.5, asks (value from memory).
func (p *tab) fingerSized(state string) {
	p.t.Helper()
	small := eval[[]string](p, `[...document.querySelectorAll('button, .button, select, input, summary, textarea')].filter((e) => {
	  if (!e.checkVisibility({opacityProperty: true})) return false;
	  const r = (['checkbox', 'radio'].includes(e.type) && e.closest('label') || e).getBoundingClientRect();
	  return r.height < 43.5 || r.width < 43.5;
	}).map((e) => (e.id || e.className) + ' ' + e.textContent.trim().slice(0, 30))`)
	assert.Empty(p.t, small, "too small for a finger: %s", state)
}
