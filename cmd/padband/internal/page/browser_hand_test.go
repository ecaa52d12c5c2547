package page_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// mouse is what the browser is told of the mouse.
type mouse = input.DispatchMouseEventParams

// point is a place in the window, in CSS pixels.
type point struct{ X, Y float64 }

// on is where a photo's place is in the window: worked out from where the
// browser has laid the picture, not from what the page's scripts think.
func (p *tab) on(s spot) point {
	p.t.Helper()
	r := eval[struct{ X, Y, W, H float64 }](p, `(async () => {
	  for (let i = 0; i < 2; i++) await new Promise(requestAnimationFrame); // lays out what the last step changed
	  const r = document.getElementById('preview').getBoundingClientRect();
	  return {X: r.left, Y: r.top, W: r.width, H: r.height};
	})()`)
	return point{r.X + s.x*r.W/p.photo.x, r.Y + s.y*r.H/p.photo.y}
}

// click presses and lets go of the mouse's button.
func (p *tab) click(at point) {
	p.t.Helper()
	p.do(chromedp.MouseEvent(chromedp.MouseMoved, at.X, at.Y), chromedp.MouseClickXY(at.X, at.Y))
}

// drag draws with the mouse's button held.
func (p *tab) drag(from, to point) {
	p.t.Helper()
	held := func(e *mouse) { e.Button, e.Buttons, e.ClickCount = input.MouseButtonLeft, 1, 1 }
	p.do(chromedp.MouseEvent(chromedp.MouseMoved, from.X, from.Y), chromedp.MouseEvent(chromedp.MousePressed, from.X, from.Y, held))
	for i := 1; i <= 4; i++ {
		k := float64(i) / 4
		p.do(chromedp.MouseEvent(chromedp.MouseMoved, from.X+(to.X-from.X)*k, from.Y+(to.Y-from.Y)*k, held))
	}
	p.do(chromedp.MouseEvent(chromedp.MouseReleased, to.X, to.Y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
}

// push clicks or taps a control where it lies, which must not be covered.
func (p *tab) push(selector string) {
	p.t.Helper()
	p.pushFound(`document.querySelector(%s)`, selector)
}

// pushNamed clicks or taps the button in sight with these words.
func (p *tab) pushNamed(words string) {
	p.t.Helper()
	p.pushFound(`[...document.querySelectorAll('button, summary')].find((b) => b.checkVisibility() && b.textContent.trim() === %s)`, words)
}

func (p *tab) pushFound(expression, what string) {
	p.t.Helper()
	p.until(`(`+expression+`)?.checkVisibility()`, what)
	at := eval[struct {
		X, Y float64
		Hit  bool
	}](p, `(async () => {
	  const e = `+expression+`;
	  const seen = () => { const r = e.getBoundingClientRect(), x = r.left + r.width / 2, y = r.top + r.height / 2, on = document.elementFromPoint(x, y); return {X: x, Y: y, Hit: Boolean(on && (e.contains(on) || on.contains(e) && on.tagName === 'LABEL'))}; };
	  if (!seen().Hit) e.scrollIntoView({block: 'center'});
	  return seen();
	})()`, what)
	require.True(p.t, at.Hit, "%s is covered", what)
	p.poke(point{at.X, at.Y})
}

// poke clicks, or on a touch screen taps.
func (p *tab) poke(at point) {
	p.t.Helper()
	if p.touch {
		p.tap(at)
	} else {
		p.click(at)
	}
}

// marks counts what is drawn over the photo.
func (p *tab) marks() int {
	p.t.Helper()
	return eval[int](p, `document.querySelectorAll('#overlay path.mark.line:not(.draft), #overlay circle.corner').length`)
}

// step finds what the line that says what is next asks for.
var step = regexp.MustCompile(`^Next: (?:(.+): mark the (?:wet (pad)|printed swatch for (\S+))|.*(white)|tap the chart's (.+) corner)`)

var cornerNames = []string{"top left", "top right", "bottom right", "bottom left"}

// follow does what the page says is next until all is marked: with by, at the
// place of the photo where the thing asked for lies. Without corners, it says
// that the swatches are marked one by one.
func (p *tab) follow(s scene, corners bool, by func(kind string, at spot)) {
	p.t.Helper()
	whites := 0
	for range 80 {
		p.ordered()
		said := p.text("#next")
		if strings.HasPrefix(said, "All is marked") {
			return
		}
		ask := step.FindStringSubmatch(said)
		require.NotNil(p.t, ask, "nothing to be done is said: %q", said)
		before := p.marks()
		switch {
		case ask[5] != "" && !corners:
			p.push("#skip")
		case ask[5] != "":
			by("corner", s.corners[slices.Index(cornerNames, ask[5])])
		case ask[4] != "":
			require.Less(p.t, whites, len(s.whites), "more white is asked for than there is")
			by("white", s.whites[whites])
			whites++
		case ask[2] != "":
			by("pad", s.pads[ask[1]])
		default:
			v, err := strconv.ParseFloat(ask[3], 64)
			require.NoError(p.t, err)
			by("swatch", s.rows[ask[1]][v])
		}
		p.moved(said, before)
	}
	require.Fail(p.t, "the page goes on asking")
}

// moved waits until what was done has an effect.
func (p *tab) moved(said string, before int) {
	p.t.Helper()
	for end := time.Now().Add(10 * time.Second); p.text("#next") == said && p.marks() == before; time.Sleep(30 * time.Millisecond) {
		if time.Now().After(end) {
			p.shot("stuck")
			require.FailNow(p.t, "nothing happens", "%s hint: %s problem: %s", said, p.text("#hint"), p.text("#problem"))
		}
	}
}
