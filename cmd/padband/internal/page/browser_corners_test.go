package page_test

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// byCorners describes the chart of the demonstration in the page, marks a first
// photo of it, lets the chart remember its swatches, and marks a second photo
// by four corners.
func byCorners(t *testing.T, b *browser) {
	folder := newFolder(t)
	p := b.open(t, b.serve(t, folder, ""), laptop)
	p.upload("#photo-file", filepath.Join(demoFolder, "kitchen.jpg"))
	p.describe("Well chart", [][3]string{{"nitrate", "mg/L as N", "0, 1, 3, 7 (6-9), 12, 25"}, {"total hardness", "mg/L as CaCO3", "0, 40, 90, 160, 260, 420"}, {"pH", "", "5.8, 6.4, 7, 7.6, 8.2, 8.8"}})
	kitchen := demo(t, "kitchen")
	p.follow(kitchen, false, p.withMouse)
	p.holdsTruth(p.reading(), "kitchen")
	p.placedAt(sent[work](p, "/reading").Marks.Regions, kitchen, 15)

	p.push("#marks-part > summary")
	p.push("#remember")
	p.next("top left corner")
	p.follow(kitchen, true, p.withMouse)
	p.until(`document.getElementById('hint').textContent.includes('now knows where its swatches are')`)
	p.quiet()
	p.push("#save")
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	sameFile(t, filepath.Join(demoFolder, "kitchen.jpg"), filepath.Join(folder, "kitchen.jpg"))
	p.savedAs(b, folder, "kitchen", p.reading())

	p.second(b, folder)
}

// second marks another photo of the same chart, and saves it.
func (p *tab) second(b *browser, folder string) {
	p.t.Helper()
	p.upload("#photo-file", filepath.Join(demoFolder, "cellar.jpg"))
	if eval[bool](p, `document.getElementById('ask').open`) {
		p.push("#ask-yes")
	}
	p.until(`document.getElementById('photo-name').textContent === 'cellar.jpg'`)
	p.ready()
	cellar := demo(p.t, "cellar")
	p.follow(cellar, true, p.withMouse)
	r := p.reading()
	p.holdsTruth(r, "cellar")
	assert.Len(p.t, sent[work](p, "/reading").Marks.Corners, 4)
	p.placedAt(r.Placed, cellar, 15)
	p.push("#save")
	p.until(`document.getElementById('saved').textContent.startsWith('Saved in')`)
	p.savedAs(b, folder, "cellar", r)
}

// upload gives the page a photo as its file dialog does.
func (p *tab) upload(input, file string) {
	p.t.Helper()
	full, err := filepath.Abs(file)
	require.NoError(p.t, err)
	p.do(chromedp.SetUploadFiles(chromedp.CSS(input), []string{full}))
	p.quiet()
	p.ready()
}

// describe types a chart: name, unit and values of each analyte.
func (p *tab) describe(title string, analytes [][3]string) {
	p.t.Helper()
	p.next("choose the chart")
	p.push("#chart-new")
	p.write(`#chart-form [name="title"]`, title)
	for i, a := range analytes {
		if i > 0 {
			p.pushNamed("Add another analyte")
		}
		row := `#chart-form fieldset:nth-of-type(` + strconv.Itoa(i+1) + `) `
		p.write(row+`[name="name"]`, a[0])
		p.write(row+`[name="values"]`, a[2])
		unit, as := a[1], ""
		if i := len("mg/L as "); len(unit) > i {
			unit, as = unit[:4], unit[i:]
		}
		p.write(row+`[name="unit"]`, unit)
		p.write(row+`[name="as"]`, as)
	}
	p.quiet() // what was understood stands there
	p.pushNamed("Use this chart")
	p.until(`document.getElementById('chart-part').hidden`)
}

// write types into an input.
func (p *tab) write(selector, text string) {
	p.t.Helper()
	p.push(selector)
	p.do(chromedp.KeyEvent(text))
	require.Equal(p.t, text, eval[string](p, `document.querySelector(%s).value`, selector))
}

// placedAt checks that every swatch lies where the print is, within so many pixels.
func (p *tab) placedAt(marks []mark, s scene, within float64) {
	p.t.Helper()
	seen := 0
	for _, m := range marks {
		if m.Role != "swatch" {
			continue
		}
		seen++
		want := s.rows[m.Analyte][m.Value]
		at := middleOf(m.Polygon)
		assert.LessOrEqual(p.t, math.Hypot(at.x-want.x, at.y-want.y), within, "%s %g", m.Analyte, m.Value)
	}
	swatches := 0
	for _, row := range s.rows {
		swatches += len(row)
	}
	assert.Equal(p.t, swatches, seen)
}

func middleOf(polygon [][2]float64) (at spot) {
	n := float64(len(polygon))
	for _, q := range polygon {
		at.x, at.y = at.x+q[0]/n, at.y+q[1]/n
	}
	return at
}

func sameFile(t *testing.T, a, b string) {
	t.Helper()
	want, err := os.ReadFile(a)
	require.NoError(t, err)
	got, err := os.ReadFile(b)
	require.NoError(t, err)
	assert.Equal(t, len(want), len(got))
	assert.Equal(t, want, got)
}
