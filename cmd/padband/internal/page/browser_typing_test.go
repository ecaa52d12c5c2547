package page_test

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// typing describes a chart as people do who write decimals with a comma: what is
// understood stands there before it is used, and what is wrong stands at its input.
func typing(t *testing.T, b *browser) {
	for name, on := range map[string]screen{"laptop": laptop, "phone": phone} {
		t.Run(name, func(t *testing.T) { b.typesAChart(t, on) })
	}
}

func (b *browser) typesAChart(t *testing.T, on screen) {
	p := b.open(t, b.serve(t, newFolder(t, "kitchen.jpg"), "kitchen.jpg"), on)
	p.push("#chart-new")
	p.fill("title", "The bottle in the barn")
	p.fill("name", "nitrate")
	p.fill("values", "0 0,5 1 2")
	p.understood("Understood: 4 swatches: 0 | 0.5 | 1 | 2")
	p.fill("unit", "mg/l")
	p.faulted("as", "leaves open what it is expressed as")
	p.shot("asked")
	assert.Equal(t, []string{"mg/L", "ppm"}, eval[[]string](p, `[...document.getElementById(document.querySelector('#chart-form [name="unit"]').getAttribute('list')).options].map((o) => o.value).slice(0, 2)`))
	assert.Equal(t, []string{"N", "NO3"}, eval[[]string](p, `[...document.getElementById(document.querySelector('#chart-form [name="as"]').getAttribute('list')).options].map((o) => o.value)`))
	p.pushNamed("as N")
	p.understood("Understood: 4 swatches: 0 | 0.5 | 1 | 2 mg/L as N")
	p.faulted("as", "")

	for _, c := range []struct{ typed, says string }{
		{"0; 0,5; 1; 2", ""},
		{"0,0.5,1", ""},
		{"0, 7 8, 12", `"7 8" holds several numbers`},
		{"0, 5, 1, 2", "neither rise nor fall"},
		{"1/2, 1, 2", "is a fraction"},
		{"0-1, 2, 3", "is a range"},
		{"<5, 10", "is a bound"},
		{"0, trace", "is a word"},
		{"0,5,10", "may part two values or stand before decimals"},
	} {
		p.fill("values", c.typed)
		p.faulted("values", c.says)
		if c.says != "" {
			p.pushNamed("Use this chart")
			p.until(`document.getElementById('chart-problem').textContent.startsWith('Analyte 1, Values printed beside the swatches: ')`)
			assert.True(t, eval[bool](p, `document.activeElement.name === 'values'`), c.typed)
		}
	}
	p.shot("ambiguous")
	b.audit(p, "asked")
	if on.touch {
		p.fingerSized("asked")
	}
	p.pushNamed("2 values: 0.5 | 10")
	p.understood("Understood: 2 swatches: 0.5 | 10 mg/L as N")
	p.fill("values", "0 0,5 1 2 7 (6-9)")
	p.key(kb.Enter) // before it could be seen what was understood
	p.until(`document.getElementById('chart-problem').textContent.includes('See above what was understood')`)
	assert.Empty(t, p.calls.list("api/charts?"), "nothing was used")
	p.understood("Understood: 5 swatches: 0 | 0.5 | 1 | 2 | 7 (6-9) mg/L as N")
	p.shot("understood")
	p.key(kb.Enter)
	p.next("mark")
	got := sent[typedChart](p, "/reading")
	a := got.Chart.Analytes[0]
	assert.Equal(t, "mg/L as N", a.Unit+" as "+a.As)
	var values []float64
	for _, s := range a.Swatches {
		values = append(values, s.Value)
	}
	assert.Equal(t, []float64{0, 0.5, 1, 2, 7}, values)
}

// typedChart is the chart in what the page sends.
type typedChart struct {
	Chart struct {
		Analytes []struct {
			Unit, As string
			Swatches []struct{ Value float64 }
		}
	}
}

// fill types into an input of the chart's form, in place of what is there.
func (p *tab) fill(name, text string) {
	p.t.Helper()
	eval[int](p, `(() => { const e = document.querySelector('#chart-form [name=' + %s + ']'); e.focus(); e.select(); return 0; })()`, name)
	p.key(kb.Delete)
	p.do(chromedp.KeyEvent(text))
}

// understood waits for what is said under the values.
func (p *tab) understood(words string) {
	p.t.Helper()
	p.until(`document.querySelector('.understood-row')?.textContent === %s`, words)
}

// faulted waits for what is said at an input of the chart's form, or for nothing. The
// input must point to it.
func (p *tab) faulted(name, says string) {
	p.t.Helper()
	p.quiet()
	p.until(`(() => {
	  const e = document.querySelector('#chart-form [name=' + %s + ']'), says = %s;
	  const said = (e.getAttribute('aria-describedby') || '').split(' ').map((id) => document.getElementById(id)).find((n) => n?.className === 'fault');
	  return says ? e.getAttribute('aria-invalid') === 'true' && said?.textContent.includes(says) : !said && !e.hasAttribute('aria-invalid');
	})()`, name, says)
}
