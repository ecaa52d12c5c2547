package page_test

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// accessible looks at the page in each of its states with the accessibility
// checker, on screens of three sizes, light and dark.
func accessible(t *testing.T, b *browser) {
	for name, on := range map[string]screen{
		"laptop":      laptop,
		"laptop dark": {width: 1440, height: 900, ratio: 1, dark: true},
		"tablet":      {width: 820, height: 1180, ratio: 2, touch: true},
		"phone dark":  {width: 390, height: 844, ratio: 3, touch: true, dark: true},
	} {
		t.Run(name, func(t *testing.T) { b.states(t, on) })
	}
}

// states goes through the page's states.
func (b *browser) states(t *testing.T, on screen) {
	folder := newFolder(t, "kitchen.jpg", "kitchen.marks.json")
	empty := b.open(t, b.serve(t, t.TempDir(), ""), on)
	b.audit(empty, "start")
	empty.push("#help-open")
	b.audit(empty, "help")
	empty.push("#help-close")
	empty.upload("#photo-file", filepath.Join(demoFolder, "kitchen.jpg"))
	b.audit(empty, "charts")
	empty.push("#chart-new")
	empty.pushNamed("Use this chart")
	empty.until(`document.getElementById('chart-problem').textContent`)
	b.audit(empty, "form with an error")
	empty.pushNamed("Cancel")
	empty.choose("orchard-well")
	b.audit(empty, "marking")
	if !on.touch {
		empty.click(empty.on(demo(t, "kitchen").whites[0]))
		empty.next("another piece of white")
		b.audit(empty, "a mark selected")
	}

	p := b.open(t, b.serve(t, folder, "kitchen.jpg"), on)
	p.next("All is marked")
	p.shows(p.reading(), "nitrate", "total hardness", "pH")
	b.audit(p, "read")
	p.judgedAndRefused()
	b.audit(p, "judged")
	eval[int](p, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), 0)`)
	b.audit(p, "all unfolded")
	p.push("#keep-open")
	p.until(`document.getElementById('record-missing').textContent`)
	b.audit(p, "keeping")
	p.push("#record-keep")
	p.kept()
	b.audit(p, "kept")
	if on.touch {
		p.fingerSized("kept")
	}
	p.push("#record-close")
	p.push(`[data-step="pad|pH||1|"]`)
	p.push("#stage")
	p.key("]")
	p.quiet()
	p.push("#save")
	p.until(`document.getElementById('ask').open`)
	b.audit(p, "asking")
	p.push("#ask-no")
	p.until(`document.getElementById('saved').textContent`)
	b.audit(p, "not saved")
}

// judgedAndRefused sets the reading against a limit and asks for a unit that is none.
func (p *tab) judgedAndRefused() {
	p.t.Helper()
	eval[int](p, `(() => { const s = document.getElementById('against'); s.value = 'us-epa'; document.querySelector('#against-form [name="unit"]').value = 'furlong'; s.dispatchEvent(new Event('change', {bubbles: true})); return 0; })()`)
	p.until(`document.getElementById('unit-wrong').textContent.includes('furlong') && document.getElementById('reading').textContent.includes('that the water is over 10')`)
	eval[int](p, `(document.getElementById('against-form').scrollIntoView(), 0)`)
}

// fault is a fault as the checker tells it.
type fault struct {
	ID, Impact, Help string
	Nodes            []struct {
		HTML           string `json:"html"`
		FailureSummary string `json:"failureSummary"`
	}
}

// audit runs the checker and keeps a picture of the state.
func (b *browser) audit(p *tab, state string) {
	p.t.Helper()
	p.quiet()
	p.shot(state)
	if !eval[bool](p, `'axe' in window`) {
		ctx, end := context.WithTimeout(p.ctx, patience)
		defer end()
		_, err := chromedp.Run(ctx, chromedp.Evaluate[chromedp.Void](b.axe+";0"))
		require.NoError(p.t, err)
	}
	faults := eval[[]fault](p, `(async () => {
	  const own = watched.canvas; // the checker makes canvases of its own
	  const {violations} = await axe.run(document, {resultTypes: ['violations']});
	  watched.canvas = own;
	  return violations;
	})()`)
	for _, f := range faults {
		if f.Impact != "serious" && f.Impact != "critical" {
			continue
		}
		var where []string
		for _, n := range f.Nodes {
			where = append(where, n.HTML+" "+n.FailureSummary)
		}
		assert.Fail(p.t, state+": "+f.ID+": "+f.Help, strings.Join(where, "\n"))
	}
}
