package page_test

import (
	"encoding/json"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// bench is a photo drawn for slips: three pads of one row in a strip with hardly a gap,
// a row whose lowest swatch is as white as the paper, and another row below it.
type bench struct {
	folder string
	pads   map[string]spot // by analyte and part
	rows   map[string][]spot
}

var benchChart = map[string]any{"format": 1, "chart": "bench", "title": "Bench chart", "analytes": []any{
	map[string]any{"name": "pH", "unit": "pH", "parts": 3, "swatches": values(5, 7, 9)},
	map[string]any{"name": "nitrate", "unit": "mg/L", "as": "N", "swatches": values(0, 1, 2, 4, 8)},
	map[string]any{"name": "iron", "unit": "mg/L", "swatches": values(0, 1, 2, 3, 5)},
}}

func values(all ...float64) (out []any) {
	for _, v := range all {
		out = append(out, map[string]any{"value": v})
	}
	return out
}

// newBench draws the photo and writes it, with its chart beside it.
func newBench(t *testing.T) bench {
	t.Helper()
	b := bench{folder: t.TempDir(), pads: map[string]spot{}, rows: map[string][]spot{}}
	noise := rand.New(rand.NewPCG(7, 7))
	paper := [3]float64{232, 231, 226}
	m := image.NewRGBA(image.Rect(0, 0, 1600, 1200))
	patch(m, noise, spot{800, 600}, 800, paper)
	for part := range 3 {
		at := spot{200, 330 + 52*float64(part)}
		b.pads["pH"+strconv.Itoa(part+1)] = at
		patch(m, noise, at, 20, [3]float64{200 - 40*float64(part), 150 + 20*float64(part), 70})
		for i := range 3 {
			at := spot{600 + 250*float64(i), 200 + 130*float64(part)}
			b.rows["pH"+strconv.Itoa(part+1)] = append(b.rows["pH"+strconv.Itoa(part+1)], at)
			patch(m, noise, at, 34, [3]float64{220 - 60*float64(i), 120 + 20*float64(part), 60 + 50*float64(i)})
		}
	}
	for k, name := range []string{"nitrate", "iron"} {
		at := spot{200, 500 + 80*float64(k)}
		b.pads[name+"1"] = at
		patch(m, noise, at, 20, [3]float64{215, 150 - 20*float64(k), 180})
		for i := range 5 {
			at, step := spot{500 + 190*float64(i), 700 + 150*float64(k)}, float64(i)
			b.rows[name+"1"] = append(b.rows[name+"1"], at)
			if i > 0 || k > 0 {
				patch(m, noise, at, 38, [3]float64{232 - 6*step, 216 - 34*step, 214 - 18*step})
			}
		}
	}
	f, err := os.Create(filepath.Join(b.folder, "bench.jpg"))
	require.NoError(t, err)
	defer f.Close()
	require.NoError(t, jpeg.Encode(f, m, &jpeg.Options{Quality: 95}))
	data, err := json.Marshal(benchChart)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(b.folder, "bench.chart.json"), data, 0o600))
	return b
}

// patch paints an upright square.
func patch(m *image.RGBA, noise *rand.Rand, at spot, half int, c [3]float64) {
	for y := max(0, int(at.y)-half); y < min(m.Rect.Dy(), int(at.y)+half); y++ {
		for x := max(0, int(at.x)-half); x < min(m.Rect.Dx(), int(at.x)+half); x++ {
			m.SetRGBA(x, y, grainy(noise, c))
		}
	}
}

// benchStep finds what is asked for on the bench: a pad or a swatch, of a part.
var benchStep = regexp.MustCompile(`^Next: (.+): mark the (?:wet (pad) on the strip|printed swatch for ([\d.]+))(?:, part (\d))?$`)

// start opens the bench with one white marked, on a screen.
func (b bench) start(t *testing.T, with *browser, s screen) *tab {
	t.Helper()
	p := with.open(t, with.serve(t, b.folder, "bench.jpg"), s)
	if p.text("#next") == "Next: choose the chart that is in the photo" {
		p.choose("bench")
	}
	p.next("bare white paper")
	p.poke(p.on(spot{90, 900}))
	p.next("another piece of white")
	p.push("#skip")
	p.next("part 1")
	return p
}

// place is where the thing lies that the page asks for now, and its name.
func (b bench) place(p *tab) (at spot, name string) {
	p.t.Helper()
	ask := benchStep.FindStringSubmatch(p.text("#next"))
	require.NotNil(p.t, ask, "%q", p.text("#next"))
	part := ask[4]
	if part == "" {
		part = "1"
	}
	if ask[2] != "" {
		return b.pads[ask[1]+part], ask[1] + " pad"
	}
	v, err := strconv.ParseFloat(ask[3], 64)
	require.NoError(p.t, err)
	for _, a := range benchChart["analytes"].([]any) {
		for i, s := range a.(map[string]any)["swatches"].([]any) {
			if a.(map[string]any)["name"] == ask[1] && s.(map[string]any)["value"] == v {
				return b.rows[ask[1]+part][i], ask[1] + " " + ask[3]
			}
		}
	}
	require.Fail(p.t, "the bench has no such swatch")
	return at, ""
}

// until marks what is asked for, at its place, until the page asks for some words.
func (b bench) until(p *tab, words string) {
	p.t.Helper()
	for range 40 {
		p.quiet()
		p.ordered()
		if said := p.text("#next"); benchStep.MatchString(said) && regexp.MustCompile(words).MatchString(said) || said[:3] == "All" {
			return
		}
		at, name := b.place(p)
		before, said := p.marks(), p.text("#next")
		p.reach(at)
		p.poke(p.on(at))
		p.quiet()
		require.True(p.t, p.marks() > before || p.text("#next") != said, "%s: nothing was marked; %s", name, p.text("#note"))
	}
	require.Fail(p.t, "the page goes on asking")
}

// reach brings a place into sight, on a touch screen with two fingers.
func (p *tab) reach(at spot) {
	p.t.Helper()
	if p.touch {
		p.bring(at)
	}
}

// ordered says yes where the page asks for the order of a row.
func (p *tab) ordered() {
	p.t.Helper()
	if eval[bool](p, `document.getElementById('order').open`) {
		p.answer("#order-yes")
		p.quiet()
		p.ordered()
	}
}

// answer presses a button of a question that has been in sight for a moment.
func (p *tab) answer(button string) {
	p.t.Helper()
	p.until(`document.querySelector(%s)?.checkVisibility()`, button)
	eval[bool](p, `new Promise((done) => setTimeout(() => done(true), 450))`)
	p.push(button)
}

// regions are the marks as they were last sent, without those of white.
func (p *tab) regions() map[string][][2]float64 {
	p.t.Helper()
	out := map[string][][2]float64{}
	for _, m := range sent[work](p, "/reading").Marks.Regions {
		if m.Role != "white" {
			out[m.Role+" "+m.Analyte+" "+strconv.FormatFloat(m.Value, 'g', -1, 64)+" "+strconv.Itoa(m.Part)] = m.Polygon
		}
	}
	return out
}

// atSpot checks that a mark lies at a place.
func atSpot(t *testing.T, regions map[string][][2]float64, name string, want spot) {
	t.Helper()
	require.Contains(t, regions, name)
	at := middleOf(regions[name])
	assert.InDelta(t, want.x, at.x, 12, name)
	assert.InDelta(t, want.y, at.y, 12, name)
}
