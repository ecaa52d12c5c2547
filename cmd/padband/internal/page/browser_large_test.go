package page_test

import (
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// largePhoto marks a photo of 50 megapixels. The page must answer all the
// while: no task of its scripts may last a second.
func largePhoto(t *testing.T, b *browser) {
	folder := t.TempDir()
	const times = 4.06
	enlarged(t, times, filepath.Join(folder, "large.jpg"))
	s := demo(t, "kitchen").times(times)
	p := b.open(t, b.serve(t, folder, "large.jpg"), laptop)
	assert.GreaterOrEqual(t, p.photo.x*p.photo.y, 50e6)
	assert.Less(t, eval[float64](p, `document.getElementById('preview').naturalWidth * document.getElementById('preview').naturalHeight`), 3e6, "the preview's pixels")
	p.choose("orchard-well")
	p.follow(s, true, func(kind string, at spot) {
		if kind != "corner" {
			p.drag(p.on(spot{at.x - 80, at.y - 90}), p.on(spot{at.x + 80, at.y + 90}))
			return
		}
		p.click(p.on(at))
	})
	p.holdsTruth(p.reading(), "kitchen")
	for range 5 {
		p.push("#zoom-in")
	}
	p.quiet()
	assert.NotEmpty(t, p.calls.list("/part?"), "what is zoomed in on is fetched sharp")
	assert.True(t, eval[bool](p, `PerformanceObserver.supportedEntryTypes.includes('longtask')`), "this browser tells no long tasks")
	longest := eval[float64](p, `watched.longest`)
	eval[int](p, `new Promise((done) => setTimeout(() => { for (const end = performance.now() + 200; performance.now() < end;); setTimeout(() => done(0), 100); }))`)
	assert.GreaterOrEqual(t, eval[float64](p, `watched.longest`), 200.0, "a task made long on purpose is not seen")
	t.Logf("longest task: %.0f ms", longest)
	assert.Less(t, longest, 1000.0, "ms")
}

// times is the scene in a photo so many times as large.
func (s scene) times(k float64) scene {
	out := scene{pads: map[string]spot{}, rows: map[string]map[float64]spot{}}
	far := func(q spot) spot { return spot{q.x * k, q.y * k} }
	for _, q := range s.corners {
		out.corners = append(out.corners, far(q))
	}
	for _, q := range s.whites {
		out.whites = append(out.whites, far(q))
	}
	for name, q := range s.pads {
		out.pads[name] = far(q)
	}
	return out
}

// enlarged writes the demonstration photo so many times as large.
func enlarged(t *testing.T, k float64, name string) {
	t.Helper()
	in, err := os.Open(filepath.Join(demoFolder, "kitchen.jpg"))
	require.NoError(t, err)
	defer in.Close()
	small, err := jpeg.Decode(in)
	require.NoError(t, err)
	from := small.(*image.YCbCr)
	w, h := int(float64(from.Rect.Dx())*k), int(float64(from.Rect.Dy())*k)
	to := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	for y := range h {
		for x := range w {
			sx, sy := int(float64(x)/k), int(float64(y)/k)
			i, j, o := from.YOffset(sx, sy), from.COffset(sx, sy), to.YOffset(x, y)
			to.Y[o], to.Cb[o], to.Cr[o] = from.Y[i], from.Cb[j], from.Cr[j]
		}
	}
	out, err := os.Create(name)
	require.NoError(t, err)
	defer out.Close()
	require.NoError(t, jpeg.Encode(out, to, &jpeg.Options{Quality: 92}))
}
