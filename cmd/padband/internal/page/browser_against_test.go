package page_test

import (
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// againstALimit chooses a limit, and then by keyboard alone types one that is
// wrong and one that is right; what one chart refuses another is asked anew.
func againstALimit(t *testing.T, b *browser) {
	folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json")
	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), laptop)
	p.next("All is marked")
	assert.NotContains(t, p.text("#reading"), "over 10 mg/L")
	eval[int](p, `(() => { const s = document.getElementById('against'); s.value = 'us-epa'; s.dispatchEvent(new Event('change', {bubbles: true})); return 0; })()`)
	p.until(`document.getElementById('reading').textContent.includes('that the water is over 10')`)
	assert.Contains(t, p.reading().JSON, `"verdict":"cannot tell"`)
	assert.Contains(t, p.text("#reading"), "Do not boil it")
	p.shot("against")

	p.tabTo("#against")
	p.key(kb.End) // a limit of my own, the last
	p.key(kb.Tab)
	p.typed("much")
	p.key(kb.Tab)
	p.until(`document.getElementById('limit-wrong').textContent.includes('is no set of limits and no limit')`)
	p.until(`document.querySelector('#reading section') && !document.getElementById('reading').textContent.includes('that the water is over')`) // the reading stays, without the limit
	assert.Equal(t, "true", eval[string](p, `document.querySelector('#against-form [name="limit"]').getAttribute('aria-invalid')`))
	p.tabTo(`#against-form [name="limit"]`)
	eval[int](p, `(() => { document.activeElement.select(); return 0; })()`)
	p.typed("nitrate 3 mg/L as N")
	p.key(kb.Tab)
	p.typed("mg/L as NO3")
	p.key(kb.Tab)
	p.until(`document.getElementById('reading').textContent.includes('Above 3')`)
	p.until(`document.getElementById('reading').textContent.includes('In mg/L as NO3: reads 44')`)
	assert.Empty(t, p.text("#limit-wrong"))
	assert.Equal(t, "false", eval[string](p, `document.querySelector('#against-form [name="limit"]').getAttribute('aria-invalid')`))

	assert.Contains(t, eval[string](p, `document.getElementById('moments').textContent`), "45 to 60 s after the dip")
	assert.Contains(t, eval[string](p, `document.getElementById('plan-link').href`), "api/charts/orchard-well/plan")
	p.otherCharts(t)
}

// otherCharts goes to a chart without nitrate and back.
func (p *tab) otherCharts(t *testing.T) {
	t.Helper()
	p.push("#marks-part > summary")
	p.push("#other-chart")
	p.push(`[data-chart="mill-spring"]`)
	p.until(`document.getElementById('limit-wrong').textContent.includes('the chart has')`)
	p.until(`document.getElementById('unit-wrong').textContent.includes('mg/L as NO3')`)
	assert.Empty(t, p.text("#problem"))
	assert.Empty(t, sent[asking](p, "/reading").Ask.Limits)
	p.ruleOutBleach(t)
	p.push("#other-chart")
	p.push(`[data-chart="orchard-well"]`)
	p.until(`!document.getElementById('limit-wrong').textContent && !document.getElementById('unit-wrong').textContent`)
	assert.True(t, eval[bool](p, `document.getElementById('bleach-part').hidden`))
	ask := sent[asking](p, "/reading").Ask
	assert.Equal(t, []string{"nitrate 3 mg/L as N"}, ask.Limits)
	assert.Equal(t, []string{"mg/L as NO3"}, ask.Units)
}

// ruleOutBleach says of a chart with pads that can be bleached that nothing was; of
// another chart it is not asked.
func (p *tab) ruleOutBleach(t *testing.T) {
	t.Helper()
	assert.False(t, eval[bool](p, `document.getElementById('bleach-part').hidden`))
	for _, want := range []bool{true, false} {
		eval[int](p, `(document.getElementById('bleach-ruled-out').click(), 0)`)
		p.quiet()
		assert.Equal(t, want, sent[bleached](p, "/reading").Marks.Sample["bleach_ruled_out"] == true)
	}
}

// bleached is what the page sends of the sample.
type bleached struct {
	Marks struct{ Sample map[string]any }
}

// asking is the question in what the page sends.
type asking struct {
	Ask struct{ Limits, Units []string }
}

// begunWithLimits opens the page with what the command's flags choose.
func begunWithLimits(t *testing.T, b *browser) {
	photo := filepath.Join(newFolder(t, "kitchen.jpg", "kitchen.marks.json"), "kitchen.jpg")
	const shown = `document.getElementById('against').selectedOptions[0].textContent`
	for _, c := range []struct {
		limits      []string
		shown, mine string
		read        []string
	}{
		{[]string{"us-epa"}, "", "", []string{"that the water is over 10"}},
		{[]string{"nitrate 3 mg/L as N"}, "a limit of my own", "nitrate 3 mg/L as N", []string{"Above 3"}},
		{[]string{"us-epa", "nitrate 3 mg/L as N"}, "us-epa; nitrate 3 mg/L as N", "", []string{"that the water is over 10", "Above 3"}},
	} {
		args := []string{"mark", "--no-browser"}
		for _, l := range c.limits {
			args = append(args, "--limit", l)
		}
		p := b.open(t, b.run(t, append(args, photo)...), laptop)
		for _, words := range c.read {
			p.until(`document.getElementById('reading').textContent.includes(%s)`, words)
		}
		if c.shown == "" {
			assert.Equal(t, c.limits[0], eval[string](p, `document.getElementById('against').value`))
		} else {
			assert.Equal(t, c.shown, eval[string](p, shown))
		}
		assert.Equal(t, c.mine, eval[string](p, `document.querySelector('#against-form [name="limit"]').value`))
	}
}
