package page_test

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// againstALimit chooses a limit by mouse and then by keyboard alone, types one
// that is wrong and one that is right, and stamps the dip.
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
	p.until(`document.getElementById('against-wrong').textContent.includes('is no set of limits and no limit')`)
	p.until(`document.querySelector('#reading section') && !document.getElementById('reading').textContent.includes('that the water is over')`) // the reading stays, without the limit
	p.tabTo(`#against-form [name="limit"]`)
	eval[int](p, `(() => { document.activeElement.select(); return 0; })()`)
	p.typed("nitrate 3 mg/L as N")
	p.key(kb.Tab)
	p.typed("mg/L as NO3")
	p.key(kb.Tab)
	p.until(`document.getElementById('reading').textContent.includes('Above 3')`)
	p.until(`document.getElementById('reading').textContent.includes('In mg/L as NO3: reads 43')`)
	assert.Empty(t, p.text("#against-wrong"))

	assert.Contains(t, eval[string](p, `document.getElementById('moments').textContent`), "45 to 60 s after the dip")
	assert.Contains(t, eval[string](p, `document.getElementById('plan-link').href`), "api/charts/orchard-well/plan")
}
