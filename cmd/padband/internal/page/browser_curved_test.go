package page_test

import (
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// curvedRow marks a row of swatches that lies on an arc, as that of a chart
// around a bottle does: the ends, one in the middle, and the rest is placed.
func curvedRow(t *testing.T, b *browser) {
	folder := t.TempDir()
	s := bentChart(t, filepath.Join(folder, "bent.jpg"))
	p := b.open(t, b.serve(t, folder, "bent.jpg"), laptop)
	p.describe("Bent chart", [][3]string{{"nitrate", "mg/L as N", "0, 1, 2, 4, 8, 16, 32"}})
	p.push("#marks-part > summary")
	p.push(`[data-curved="nitrate"]`)
	asked := 0
	p.follow(s, false, func(kind string, at spot) {
		if kind == "swatch" {
			asked++
		}
		p.withMouse(kind, at)
	})
	assert.Equal(t, 3, asked, "swatches marked by hand")
	r := p.reading()
	require.True(t, r.Complete)
	p.placedAt(sent[work](p, "/reading").Marks.Regions, s, 20)
	var got struct{ Readings []struct{ Bracket []float64 } }
	require.NoError(t, json.Unmarshal([]byte(r.JSON), &got))
	assert.Equal(t, []float64{4, 8}, got.Readings[0].Bracket, "the pad was drawn between these")
	p.push("#save")
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	p.savedAs(b, folder, "bent", r)
}

// curvedUntold marks the ends of the bent row alone: the photo shows how it curves.
func curvedUntold(t *testing.T, b *browser) {
	folder := t.TempDir()
	s := bentChart(t, filepath.Join(folder, "bent.jpg"))
	p := b.open(t, b.serve(t, folder, "bent.jpg"), phone)
	p.describe("Bent chart", [][3]string{{"nitrate", "mg/L as N", "0, 1, 2, 4, 8, 16, 32"}})
	asked := 0
	p.follow(s, false, func(kind string, at spot) {
		if kind == "swatch" {
			asked++
		}
		p.withFinger(kind, at)
	})
	assert.Equal(t, 2, asked, "swatches marked by hand")
	p.placedAt(sent[work](p, "/reading").Marks.Regions, s, 20)
	p.shot("curved")
}

// curvedByHand moves one swatch of a straight row off its line: the others of the row
// follow along a curve, and moved back, they lie on a line again.
func curvedByHand(t *testing.T, b *browser) {
	n := newBench(t)
	p := n.start(t, b, wide)
	n.until(p, `iron: mark the wet pad`)
	row := n.rows["nitrate1"]
	const up = 60.0
	p.click(p.on(row[2]))
	p.quiet()
	p.drag(p.on(row[2]), p.on(spot{row[2].x, row[2].y - up}))
	got := p.regions()
	for i, v := range []string{"0", "1", "2", "4", "8"} {
		k := float64(i) / 4
		atSpot(t, got, "swatch nitrate "+v+" 1", spot{row[i].x, row[i].y - 4*k*(1-k)*up})
	}
	p.push("#undo")
	atSpot(t, p.regions(), "swatch nitrate 1 1", row[1])
}

// bentValues are printed on the bent chart; its swatches lie 12 degrees apart
// on a circle of 900 pixels.
var bentValues = []float64{0, 1, 2, 4, 8, 16, 32}

// bentChart draws and writes a photo of a bent chart, with a pad beside it
// whose colour lies halfway between the swatches for 4 and 8.
func bentChart(t *testing.T, name string) scene {
	t.Helper()
	noise := rand.New(rand.NewPCG(4, 4))
	m := image.NewRGBA(image.Rect(0, 0, 1600, 1200))
	for y := range 1200 {
		for x := range 1600 {
			m.SetRGBA(x, y, grainy(noise, [3]float64{236, 236, 232}))
		}
	}
	s := scene{pads: map[string]spot{"nitrate": {800, 1000}}, rows: map[string]map[float64]spot{"nitrate": {}}, whites: []spot{{200, 1000}, {800, 420}, {1400, 1000}}}
	pink := func(i float64) [3]float64 { return [3]float64{236 - 4*i, 220 - 24*i, 226 - 12*i} }
	for i, v := range bentValues {
		angle := float64(i-3) * 12 * math.Pi / 180
		at := spot{800 + 900*math.Sin(angle), -200 + 900*math.Cos(angle)}
		s.rows["nitrate"][v] = at
		square(m, noise, at, angle, pink(float64(i)+0.5))
	}
	square(m, noise, s.pads["nitrate"], 0, pink(4))
	f, err := os.Create(name)
	require.NoError(t, err)
	defer f.Close()
	require.NoError(t, jpeg.Encode(f, m, &jpeg.Options{Quality: 95}))
	return s
}

// square paints a patch of 90 pixels, turned.
func square(m *image.RGBA, noise *rand.Rand, at spot, angle float64, c [3]float64) {
	sin, cos := math.Sincos(angle)
	for y := int(at.y) - 70; y <= int(at.y)+70; y++ {
		for x := int(at.x) - 70; x <= int(at.x)+70; x++ {
			dx, dy := float64(x)-at.x, float64(y)-at.y
			if math.Abs(dx*cos-dy*sin) <= 45 && math.Abs(dx*sin+dy*cos) <= 45 {
				m.SetRGBA(x, y, grainy(noise, c))
			}
		}
	}
}

// grainy is a colour as a sensor gives it, with a little noise.
func grainy(noise *rand.Rand, c [3]float64) color.RGBA {
	v := func(i int) uint8 { return uint8(max(0, min(255, math.Round(c[i]+1.5*noise.NormFloat64())))) }
	return color.RGBA{v(0), v(1), v(2), 255}
}
