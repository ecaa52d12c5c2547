package page_test

import (
	"encoding/json"
	"slices"
	"strings"

	"github.com/stretchr/testify/assert"
)

// mayTravel are the names under which the page may send a number: places,
// sizes, and what is printed on the chart. No colour is among them, but for those that the
// program gave the chart to remember.
var mayTravel = []string{"format", "x", "y", "corners", "polygon", "rect", "circle", "value", "part", "parts", "read_window_s", "kit_life_days", "steps", "over"}

// check is what must hold of every tab when its test ends: no script failed,
// nothing was asked for elsewhere, no picture was read in the page, and no
// colour was sent.
func (p *tab) check() {
	if p.t.Failed() {
		p.shot("failed")
		return
	}
	p.calls.mu.Lock()
	console := slices.Clone(p.calls.console)
	p.calls.mu.Unlock()
	assert.Empty(p.t, console, "the console")
	assert.Zero(p.t, eval[int](p, `watched.canvas + document.querySelectorAll('canvas').length`), "canvases")
	keeps := 0
	for _, c := range p.calls.list("") {
		local := strings.HasPrefix(c.url, p.base) || strings.HasPrefix(c.url, "data:") || strings.HasPrefix(c.url, "blob:"+p.base[:len("http://127.0.0.1")])
		assert.True(p.t, local, "asked for %s", c.url)
		switch {
		case c.method != "POST" || strings.Contains(c.url, "api/photos?name="):
		case strings.HasSuffix(c.url, "/keep"):
			keeps++
		default:
			p.noColour(c.url, c.body)
		}
	}
	works := eval[[]string](p, `watched.works`)
	assert.Equal(p.t, keeps, len(works), "calls to keep")
	for _, w := range works {
		p.noColour("/keep", []byte(w))
	}
}

func (p *tab) noColour(url string, data []byte) {
	var body any
	if assert.NoError(p.t, json.Unmarshal(data, &body), url) {
		if work, ok := body.(map[string]any); ok {
			if chart, ok := work["chart"].(map[string]any); ok {
				delete(chart, "print_colours")
			}
		}
		for _, name := range numbered(body, "") {
			assert.Contains(p.t, mayTravel, name, "%s sends a number named %s", url, name)
		}
	}
}

// numbered are the names of all numbers in a JSON value.
func numbered(v any, name string) (out []string) {
	switch v := v.(type) {
	case float64:
		return []string{name}
	case []any:
		for _, e := range v {
			out = append(out, numbered(e, name)...)
		}
	case map[string]any:
		for k, e := range v {
			out = append(out, numbered(e, k)...)
		}
	}
	return out
}
