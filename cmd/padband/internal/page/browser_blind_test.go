package page_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// blindSeed is a seed like any other.
const blindSeed = "7"

// blind opens the page of blind calls on the demonstration photos.
func (b *browser) blind(t *testing.T, on screen, more ...string) (p *tab, file string) {
	t.Helper()
	folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json", "cellar.jpg", "cellar.marks.json")
	file = filepath.Join(folder, "calls.csv")
	args := append([]string{"blind", folder, "--reader", "A. Reader", "--no-browser", "--out", file, "--seed", blindSeed}, more...)
	p = b.tab(t, b.run(t, args...), on)
	p.until(`document.getElementById('start-part') && !document.getElementById('start-part').hidden`)
	return p, file
}

// padNow waits until pad n of so many is shown, with all its pictures.
func (p *tab) padNow(n, of int) {
	p.t.Helper()
	p.until(`document.getElementById('count').textContent.startsWith(%s) && !document.getElementById('pad-part').hidden && !document.body.classList.contains('busy')`, fmt.Sprintf("pad %d of %d,", n, of))
	assert.True(p.t, eval[bool](p, `[...document.querySelectorAll('#bench img, #scale img')].every((i) => i.complete && i.naturalWidth > 0)`), "all pictures are there")
}

// rowsOf are the calls in a file, by the name of the column.
func rowsOf(t *testing.T, file string) (out []map[string]string) {
	t.Helper()
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		one := map[string]string{}
		for i, name := range rows[0] {
			one[name] = row[i]
		}
		out = append(out, one)
	}
	return out
}

// chooseCall pushes the label of a call.
func (p *tab) chooseCall(label string) {
	p.t.Helper()
	p.pushFound(`(() => { const e = [...document.querySelectorAll('input[name=call]')].find((i) => i.getAttribute('aria-label') === %s).closest('label'); e.scrollIntoView({block: 'center'}); return e; })()`, label)
}

// firstSwatches are the two lowest values that the chart in sight has printed.
func (p *tab) firstSwatches() []string {
	p.t.Helper()
	return eval[[]string](p, `[...document.querySelectorAll('#scale .crop-label .text')].slice(0, 2).map((e) => e.textContent)`)
}

// toldNothing checks that the page holds nothing that tells the sample.
func (p *tab) toldNothing() {
	p.t.Helper()
	text := strings.ToLower(eval[string](p, `document.documentElement.outerHTML`))
	for _, bad := range []string{"kitchen", "cellar", "pressure tank", "2026", "ow-2418", "raw", ".jpg"} {
		assert.NotContains(p.t, text, bad)
	}
}

// blindByMouse calls all six pads, each in another way, and takes one call back.
func blindByMouse(t *testing.T, b *browser) {
	p, file := b.blind(t, laptop)
	assert.Contains(t, p.text("#start-part"), "A screen is not the strip")
	p.push("#begin")
	p.padNow(1, 6)
	p.toldNothing()
	p.push("#give")
	assert.Contains(t, p.text("#problem"), "Choose a swatch", "nothing is chosen yet")

	s := p.firstSwatches()
	p.chooseCall(s[1])
	assert.Contains(t, p.text("#yours"), "Your call: "+s[1])
	assert.Empty(t, p.text("#problem"), "what was wrong is mended")
	assert.Equal(t, []string{"pad", s[1]}, eval[[]string](p, `[...document.querySelectorAll('#facing figcaption')].map((e) => e.textContent)`))
	p.shot("swatch")
	p.push("#give")
	p.padNow(2, 6)
	s = p.firstSwatches()
	p.chooseCall(s[0] + " to " + s[1] + ", between the two")
	p.shot("between")
	p.push("#give")
	p.padNow(3, 6)
	p.push("#back")
	p.padNow(2, 6)
	assert.True(t, eval[bool](p, `document.getElementById('back').disabled`), "once")
	assert.Len(t, rowsOf(t, file), 1)
	p.chooseCall(s[0])
	p.push("#give")
	p.padNow(3, 6)
	p.numberAndReason()
	p.push("#give")
	p.until(`!document.getElementById('end-part').hidden`)
	p.toldNothing()
	assert.Equal(t, "6 calls are made", p.text("#end-title"))
	assert.Contains(t, p.text("#end-compare"), "padband compare calls.csv OTHER.csv")
	p.shot("end")

	rows := rowsOf(t, file)
	require.Len(t, rows, 6)
	assert.Equal(t, s[0], rows[1]["value"])
	assert.Equal(t, "", rows[3]["value"])
	assert.Equal(t, "it is blotched or not of one colour", rows[3]["why"])
	assert.Regexp(t, `^>[0-9.]+$`, rows[5]["value"])
}

// numberAndReason calls pads 3 to 5, and chooses for pad 6.
func (p *tab) numberAndReason() {
	p.t.Helper()
	last := eval[string](p, `[...document.querySelectorAll('#scale .crop-label .text')].pop().textContent`)
	p.push("#number")
	p.typed("9999")
	p.push("#give")
	p.until(`document.getElementById('problem').textContent.includes('beyond the chart')`)
	eval[int](p, `(document.getElementById('number').value = '', 0)`)
	p.push("#number")
	p.typed(last)
	p.push("#give")
	p.padNow(4, 6)
	p.chooseCall("I cannot call it")
	p.push("#give")
	p.until(`document.getElementById('problem').textContent.includes('why')`)
	eval[int](p, `((s) => { s.value = 'it is blotched or not of one colour'; s.dispatchEvent(new Event('change')); return 0; })(document.getElementById('reason'))`)
	p.push("#give")
	p.padNow(5, 6)
	p.push("#whole-open")
	p.until(`document.getElementById('whole-photo').naturalWidth > 1000`)
	p.shot("whole")
	p.push("#whole-size")
	p.push("#whole-close")
	p.chooseCall(p.firstSwatches()[0])
	p.push("#give")
	p.padNow(6, 6)
	p.chooseCall(eval[string](p, `[...document.querySelectorAll('input[data-kind=above]')][0].getAttribute('aria-label')`))
}

// typed presses the keys of a text.
func (p *tab) typed(text string) {
	p.t.Helper()
	for _, r := range text {
		p.key(string(r))
	}
}

// blindByTouch makes a call on a phone; every control is large enough for a finger.
func blindByTouch(t *testing.T, b *browser) {
	p, file := b.blind(t, phone, "--analyte", "pH")
	p.push("#begin")
	p.padNow(1, 2)
	small := eval[[]string](p, `[...document.querySelectorAll('button, .choice-label, select, input[type=text]')].filter((e) => e.checkVisibility()).filter((e) => { const r = e.getBoundingClientRect(); return r.width < 40 || r.height < 44; }).map((e) => e.textContent + ' ' + e.getBoundingClientRect().width + 'x' + e.getBoundingClientRect().height)`)
	assert.Empty(t, small, "too small for a finger")
	assert.Zero(t, eval[int](p, `document.documentElement.scrollWidth - innerWidth`), "nothing lies beside the screen")
	p.shot("phone")
	p.chooseCall("5.8 to 6.4, between the two")
	p.shot("phone-between")
	p.push("#give")
	p.padNow(2, 2)
	assert.Equal(t, "5.8-6.4", rowsOf(t, file)[0]["value"])
}

// blindByKeyboard calls pads without a mouse: Tab, arrows and Enter.
func blindByKeyboard(t *testing.T, b *browser) {
	p, file := b.blind(t, laptop, "--analyte", "total hardness")
	p.tabTo("#begin")
	p.key(kb.Enter)
	p.padNow(1, 2)
	assert.Equal(t, "pad-title", eval[string](p, `document.activeElement.id`))
	p.tabTo("input[name=call]")
	p.key(kb.ArrowRight) // between the first two
	p.key(kb.ArrowRight)
	p.key(kb.ArrowRight)
	assert.Contains(t, p.text("#yours"), "between 40 and 90 mg/L as CaCO3")
	p.shot("keyboard")
	p.key(kb.Enter)
	p.padNow(2, 2)
	p.tabTo("#back")
	p.key(kb.Enter)
	p.padNow(1, 2)
	p.tabTo("#number")
	p.typed("62,5")
	p.key(kb.Enter)
	p.padNow(2, 2)
	p.tabTo("input[name=call]")
	p.key(" ")
	p.key(kb.Enter)
	p.until(`!document.getElementById('end-part').hidden`)
	rows := rowsOf(t, file)
	require.Len(t, rows, 2)
	assert.Equal(t, []string{"62.5", "0"}, []string{rows[0]["value"], rows[1]["value"]})
	p.tabTo("#end-back")
	p.key(kb.Enter)
	p.padNow(2, 2)
	assert.Len(t, rowsOf(t, file), 1)
}
