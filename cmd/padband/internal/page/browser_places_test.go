package page_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// dots are the middles of the black dots of the test photo: a box's two
// corners, then a chart's four.
var dots = []spot{{440.5, 350.5}, {540.5, 420.5}, {360.5, 300.5}, {620.5, 310.5}, {610.5, 470.5}, {370.5, 460.5}}

// places clicks on dots where a picture of the screen shows them, at several
// pixel ratios, zoomed, panned and scrolled, and checks that each mark lies
// within one pixel of the photo where the dot was drawn.
func places(t *testing.T, b *browser) {
	folder := t.TempDir()
	dotted(t, filepath.Join(folder, "dots.png"))
	address := b.serve(t, folder, "dots.png")
	for _, ratio := range []float64{1, 1.5, 2, 3} {
		t.Run(fmt.Sprintf("whole at %g", ratio), func(t *testing.T) {
			p := b.open(t, address, screen{width: 1440, height: 900, ratio: ratio})
			p.choose("orchard-well")
			p.marksDots(ratio)
		})
		t.Run(fmt.Sprintf("zoomed and scrolled at %g", ratio), func(t *testing.T) {
			p := b.open(t, address, screen{width: 820, height: 760, ratio: ratio})
			p.choose("orchard-well")
			p.scrolled()
			p.zoomTo(1.1, ratio)
			p.marksDots(ratio)
		})
	}
}

// marksDots draws a box from the first dot to the second, then takes the others
// as the chart's corners. Each is looked for just before it is pressed on.
func (p *tab) marksDots(ratio float64) {
	p.t.Helper()
	from, wantFrom := p.aim(0, ratio)
	to, wantTo := p.aim(1, ratio)
	p.drag(from, to)
	p.next("another piece of white")
	p.push("#skip")
	var want []spot
	for i, name := range cornerNames {
		p.next("tap the chart's " + name)
		at, w := p.aim(2+i, ratio)
		want = append(want, w)
		p.click(at)
	}
	p.next("nitrate")
	m := sent[work](p, "/reading").Marks
	p.near(wantFrom, m.Regions[0].Polygon[0])
	p.near(wantTo, m.Regions[0].Polygon[2])
	require.Len(p.t, m.Corners, 4)
	for i, c := range m.Corners {
		p.near(want[i], c)
	}
}

func (p *tab) near(want spot, is [2]float64) {
	p.t.Helper()
	assert.LessOrEqual(p.t, math.Abs(want.x-is[0]), 1.0, "%v marked at %v", want, is)
	assert.LessOrEqual(p.t, math.Abs(want.y-is[1]), 1.0, "%v marked at %v", want, is)
}

// aim finds a dot in a picture of the screen and gives the place to press on,
// which is a whole pixel of the screen, as a mouse's is, and the photo's place
// that lies there: the dot's, and the little that the whole pixel is off it.
func (p *tab) aim(dot int, ratio float64) (at point, want spot) {
	p.t.Helper()
	p.do(chromedp.MouseEvent(chromedp.MouseMoved, 2, 2)) // takes the magnifier away
	seen := p.darkAbout(p.on(dots[dot]), ratio)
	at = point{math.Round(seen.X*ratio) / ratio, math.Round(seen.Y*ratio) / ratio}
	require.True(p.t, eval[bool](p, `document.elementFromPoint(%v, %v)?.closest('#stage') !== null`, at.X, at.Y), "the dot at %v is covered", at)
	scale := eval[float64](p, `document.getElementById('preview').getBoundingClientRect().width`) / p.photo.x
	return at, spot{dots[dot].x + (at.X-seen.X)/scale, dots[dot].y + (at.Y-seen.Y)/scale}
}

// picture is what the screen shows once the page rests: all of it, or a part.
func (p *tab) picture(part *page.Viewport) image.Image {
	p.t.Helper()
	p.quiet()
	m, err := png.Decode(bytes.NewReader(send(p, page.CaptureScreenshot, page.CaptureScreenshotParams{Clip: part}).Data))
	require.NoError(p.t, err)
	return m
}

// about is what the screen shows within so many CSS pixels of a place, and where
// the corner of that is.
func (p *tab) about(at point, within float64) (m image.Image, corner point) {
	p.t.Helper()
	p.quiet()
	corner = point{math.Round(at.X - within), math.Round(at.Y - within)}
	scroll := eval[point](p, `({X: window.scrollX, Y: window.scrollY})`)
	part := page.Viewport{X: corner.X + scroll.X, Y: corner.Y + scroll.Y, Width: 2 * within, Height: 2 * within, Scale: 1}
	return p.picture(&part), corner
}

// darkAbout is the middle of what is dark on the screen within 16 CSS pixels of a place.
func (p *tab) darkAbout(at point, ratio float64) point {
	p.t.Helper()
	m, corner := p.about(at, 16)
	require.InDelta(p.t, 32*ratio, m.Bounds().Dx(), 1, "a pixel of the picture is one of the screen")
	var x, y, weight float64
	for j := m.Bounds().Min.Y; j < m.Bounds().Max.Y; j++ {
		for i := m.Bounds().Min.X; i < m.Bounds().Max.X; i++ {
			if g := color.GrayModel.Convert(m.At(i, j)).(color.Gray).Y; g < 128 {
				k := float64(255 - g)
				x, y, weight = x+k*(float64(i)+0.5), y+k*(float64(j)+0.5), weight+k
			}
		}
	}
	require.NotZero(p.t, weight, "no dot is seen at %v", at)
	return point{corner.X + x/weight/ratio, corner.Y + y/weight/ratio}
}

// zoomTo turns the mouse's wheel over the dots until a pixel of the photo is so
// many CSS pixels wide; the place under the mouse stays where it is.
func (p *tab) zoomTo(scale, ratio float64) {
	p.t.Helper()
	const width = `document.getElementById('preview').getBoundingClientRect().width`
	before := eval[float64](p, width)
	near := p.on(spot{490, 385})
	at := point{math.Round(near.X), math.Round(near.Y)} // the browser tells whole pixels of a wheel
	under := spot{490 + (at.X-near.X)*p.photo.x/before, 385 + (at.Y-near.Y)*p.photo.x/before}
	by := -math.Log(scale*p.photo.x/before) / 0.0018 // the page's own share of a wheel's turn
	// The driver tells device pixels, and drops a delta that is zero.
	p.do(chromedp.MouseEvent(chromedp.MouseWheel, at.X, at.Y, func(e *mouse) { e.DeltaX, e.DeltaY = 1e-9, by*ratio }))
	p.until(width+` > 0.97 * %s`, scale*p.photo.x)
	now := p.on(under)
	assert.InDelta(p.t, at.X, now.X, 0.5, "the place under the wheel")
	assert.InDelta(p.t, at.Y, now.Y, 0.5, "the place under the wheel")
}

// scrolled scrolls the page a little, on a screen where it is taller than the window.
func (p *tab) scrolled() {
	p.t.Helper()
	eval[int](p, `(window.scrollTo(0, 61), 0)`)
	p.until(`window.scrollY > 50`)
}

// dotted writes a white photo with black dots of 7 pixels.
func dotted(t *testing.T, name string) {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 1200, 900))
	for i := range m.Pix {
		m.Pix[i] = 245
	}
	for _, d := range dots {
		for y := -3; y <= 3; y++ {
			for x := -3; x <= 3; x++ {
				m.SetGray(int(d.x)+x, int(d.y)+y, color.Gray{})
			}
		}
	}
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, m))
	require.NoError(t, os.WriteFile(name, out.Bytes(), 0o644))
}
